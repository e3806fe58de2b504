/** The same metal weighed twice with nothing done to it between: do the two weights agree, and if not, what was written beside them? */
import type { Measured } from '../quantity/measured';
import { differ } from '../quantity/weighing';
import type { Handover, Slip, Weight } from './book';
import type { Entry, Flow } from './entry';
import type { Workshop } from './workshop';

/** A weighing that a lot stands on. */
export interface Weighing {
  readonly entry: Entry;
  readonly place: Handover['from']['place'];
  readonly weight: Weight;
  readonly flow?: Flow | undefined;
}

/**
 * Compares a weighing with what the record says is left since the last one; parts taken between are off already. Nothing when either is
 * not known. Two scales count with both their errors. `since`: the last entry that took a part.
 */
export function handoverOf(
  lot: string,
  from: Weighing,
  left: Measured,
  to: Weighing,
  workshop: Workshop,
  since?: Entry,
): Omit<Handover, 'slips'> | undefined {
  if (!to.weight.mass) return undefined;
  const divisions = [from.weight.divisionGrams, to.weight.divisionGrams] as const;
  const { difference, times, explained } = differ(left, to.weight.mass, workshop.limits.coverage, divisions);
  const because = explained ? undefined : stateChange(from.weight, to.weight, difference.value.isNegative());
  return { lot, from, to, left, since, difference, explained, times, because };
}

export const explained = (handover: Omit<Handover, 'slips'>): Handover => ({ slips: NONE, ...handover });

const NONE: readonly Slip[] = [];

/** Looked for when they are asked for, and kept: while a weight is being typed most figures on the way are not asked about. */
export const withSlips = (handover: Omit<Handover, 'slips'>, look: () => readonly Slip[]): Handover => {
  let found: readonly Slip[] | undefined;
  return {
    get slips() {
      found ??= look();
      return found;
    },
    ...handover,
  };
};

/** States that may have changed the weight between two weighings, one way or the other: they cannot be held against each other. */
export const stateMayChange = (from: Weight, to: Weight): boolean =>
  stateChange(from, to, true) !== undefined || stateChange(from, to, false) !== undefined;

/** A state word may say why the same metal weighs otherwise: water gone or come, the upward draught of a hot piece, dirt off. */
function stateChange(from: Weight, to: Weight, lighter: boolean): Handover['because'] {
  const [was, is] = [new Set(from.states), new Set(to.states)];
  const lost = (state: string) => was.has(state) && !is.has(state);
  const came = (state: string) => is.has(state) && !was.has(state);
  // Hot metal reads light: its weight rises as it cools.
  if (lighter ? came('hot') : lost('hot')) return 'heat';
  const wetter = lighter ? lost : came;
  if (wetter('wet') || wetter('damp') || (lighter ? came('dry') : lost('dry'))) return 'moisture';
  if (lighter && came('clean')) return 'cleaned';
  if (lighter && came('annealed')) return 'annealed';
  return undefined;
}
