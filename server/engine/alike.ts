/** Which steps are comparable with each other, so that what one lost says something of the next. */
import type { FlowWeight, Step } from './book';
import type { MakeOf } from './charge';
import type { BalanceRow, Charge } from './usual';
import type { Workshop } from './workshop';

/**
 * What makes steps comparable: the verb, what went in (material, kind of product), and the recipe or that there was flux. Without slag
 * written its mass is missing too, so such melts are compared among themselves; and what was driven off and caught, such as mercury, is
 * kept apart from what was let go. None where the loss of one says nothing of the next, or where it is not known what went in.
 */
export const kindOf = (
  row: BalanceRow,
  { inputs, added, outputs }: Pick<Step, 'inputs' | 'added' | 'outputs'>,
  charge: Charge,
  make: MakeOf,
  { recipes }: Workshop,
): string | undefined => {
  if (row.many === undefined) return undefined;
  const fed = inputs.map(({ flow }) => makeWords(make, flow));
  if (fed.includes('')) return undefined;
  const names = added.flatMap(({ flow }) => flow.material?.name ?? []).filter((name) => recipes.has(name));
  const fluxed = charge.slagMakers > 0;
  const flux = names.length > 0 ? names : fluxed ? ['flux'] : [];
  const slag = fluxed && !charge.slagWritten ? ['no slag'] : [];
  const caught = row.kind === 'driven off' && outputs.length > 1 ? ['caught'] : [];
  return [row.verb, ...listed(fed), ...listed(flux), ...slag, ...caught].join(' · ');
};

const makeWords = (makeOf: MakeOf, flow: FlowWeight['flow']): string => {
  const make = makeOf(flow);
  return [make?.material, make?.kind].filter((word) => word !== undefined).join(' ');
};

const listed = (names: readonly string[]): string[] => [...new Set(names)].sort();
