/** What every bench calculation answers with: a best value between honest bounds, and what was taken for granted. */

export { BERINGER, MEMORY as FROM_MEMORY, PRACTICE as COMMON_PRACTICE } from '../../vocabulary/materials/row';

/** From the least to the most that the figures allow; the unit is in the name of whoever holds it. */
export interface Estimate {
  readonly best: number;
  readonly low: number;
  readonly high: number;
}

/** Something that the calculation took for granted, with its source, `from memory`, or `common practice, no source`. */
export interface Assumption {
  readonly says: string;
  readonly source: string;
}

export interface Answer<T> {
  readonly value: T;
  readonly assumed: readonly Assumption[];
  readonly reason?: undefined;
}

/** Outside of what the formula holds for: no figure, and why, as a short sentence without a full stop. */
export interface NoAnswer {
  readonly value: undefined;
  readonly reason: string;
}

export type Result<T> = Answer<T> | NoAnswer;

export function answer<T>(value: T, assumed: readonly Assumption[] = []): Answer<T> {
  return { value, assumed };
}

export function noAnswer(reason: string): NoAnswer {
  return { value: undefined, reason };
}

export const assume = (says: string, source: string): Assumption => ({ says, source });

/** One figure without a range. */
export const exactly = (value: number): Estimate => ({ best: value, low: value, high: value });

/** Bounds in either order; the best value is their middle unless given, and is held between them. */
export function between(one: number, other: number, best = (one + other) / 2): Estimate {
  const [low, high] = one <= other ? [one, other] : [other, one];
  return { low, high, best: Math.min(high, Math.max(low, best)) };
}

/** Spread of so much about a best value. */
export const about = (best: number, plusMinus: number): Estimate => between(best - plusMinus, best + plusMinus, best);

/** Multiplied by a figure or by another estimate, neither below 0. */
export function times(one: Estimate, other: Estimate | number): Estimate {
  const by = typeof other === 'number' ? exactly(other) : other;
  return { best: one.best * by.best, low: one.low * by.low, high: one.high * by.high };
}

/** Divided by a figure or an estimate above 0; the low bound by the high one. */
export function over(one: Estimate, other: Estimate | number): Estimate {
  const by = typeof other === 'number' ? exactly(other) : other;
  return { best: one.best / by.best, low: one.low / by.high, high: one.high / by.low };
}

/** Sum of estimates that may all be at their top together. */
export function sumOf(estimates: readonly Estimate[]): Estimate {
  const add = (pick: (estimate: Estimate) => number): number => estimates.reduce((sum, each) => sum + pick(each), 0);
  return { best: add((each) => each.best), low: add((each) => each.low), high: add((each) => each.high) };
}

/** What is left of one after another is taken off, at least 0. */
export function less(one: Estimate, other: Estimate): Estimate {
  return { best: left(one.best, other.best), low: left(one.low, other.high), high: left(one.high, other.low) };
}

/** The rounding of binary fractions is no rest. */
const left = (one: number, other: number): number => (one - other > 1e-12 * one ? one - other : 0);

/**
 * Read off a table of rising abscissas by straight lines; undefined outside of it. A table row is [abscissa, value].
 */
export function interpolate(table: readonly (readonly [number, number])[], at: number): number | undefined {
  for (let row = 1; row < table.length; row++) {
    const [[left, below], [right, above]] = [table[row - 1]!, table[row]!];
    if (at < left || at > right) continue;
    return below + ((above - below) * (at - left)) / (right - left);
  }
  return undefined;
}

/** The same, the first and last values standing beyond the ends. */
export function interpolateHeld(table: readonly (readonly [number, number])[], at: number): number {
  const [first, last] = [table[0]!, table.at(-1)!];
  if (at <= first[0]) return first[1];
  if (at >= last[0]) return last[1];
  return interpolate(table, at) ?? last[1];
}

export const ROSE = 'T. K. Rose, The Metallurgy of Gold';
export const ISO_11426 = 'ISO 11426:2014';
export const ATOMIC_WEIGHTS = 'IUPAC atomic weights';
