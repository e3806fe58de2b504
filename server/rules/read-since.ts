/** Where a scale reads a check weight wrong: when it last read right, and what was weighed on it since. */
import type { Amount, Entry, Said } from '../engine/entry';
import { inOrder } from '../workspace/order';
import type { Workspace } from '../workspace/workspace';
import type { Finding, Related } from './rule';
import { checkOf, scaleOff } from './scale-off';

/** More are counted, not pointed at. */
const MOST_NAMED = 8;

/**
 * The findings of an entry, that of its scale with the weighings in doubt. They stand on any page, so they are asked for with the histories, after a
 * pause; the sentence stays as it is.
 */
export const withReadings = (workspace: Workspace, entry: Entry, findings: readonly Finding[]): readonly Finding[] => {
  if (!workspace.whole || !findings.some(({ code }) => code === scaleOff.code)) return findings;
  const more = sinceRight(workspace, entry);
  return findings.map((one) =>
    one.code === scaleOff.code ? { ...one, related: [...(one.related ?? []), ...more] } : one,
  );
};

const sinceRight = ({ pages, workshop }: Workspace, check: Entry): readonly Related[] => {
  const scale = check.name?.name;
  const compare = inOrder(pages);
  const before = [...pages.values()]
    .flatMap(({ entries }) => entries.filter(({ prefix, broken }) => !broken && (!prefix || prefix === 'more')))
    .filter((entry) => entry.anchor !== check.anchor && speaksOf(entry, scale) && compare(entry, check) < 0)
    .sort(compare);
  const right = before.findLastIndex((entry) => checkOf(entry, workshop)?.isOff === false);
  const readings = before
    .slice(right + 1)
    .flatMap((entry) => (entry.verb === 'check-scale' ? [] : readOn(entry, scale)));
  const named = readings.slice(0, MOST_NAMED);
  const rest = readings.length - named.length;
  const last = right < 0 ? [] : [{ place: before[right]!.name!.place, says: `${scale} last read right here` }];
  return [
    ...last,
    ...named.map(({ place }, at): Related => {
      const and = at === named.length - 1 && rest > 0 ? `, and ${rest} more` : '';
      return { place, says: `weighed on it since${and}` };
    }),
  ];
};

const speaksOf = (entry: Entry, scale: string | undefined): boolean =>
  entry.verb === 'check-scale' ? entry.name?.name === scale : readOn(entry, scale).length > 0;

/** The figures of an entry that were read on a scale. */
const readOn = (entry: Entry, scale: string | undefined): readonly Amount[] =>
  amountsOf(entry)
    .filter(([amount, said]) => amount.figure && (amount.scale ?? said.scale)?.name === scale)
    .map(([amount]) => amount);

const amountsOf = ({ amount, amounts, flows, others, said }: Entry): readonly (readonly [Amount, Said])[] => {
  const head = amount && !amounts.some((one) => one.amount === amount) ? [[amount, said] as const] : [];
  return [
    ...head,
    ...amounts.map((one) => [one.amount, one.said] as const),
    ...flows.flatMap((flow) => (flow.amount ? [[flow.amount, flow.said] as const] : [])),
    ...others.flatMap((other) => other.amounts.map((one) => [one, other.said] as const)),
  ];
};
