/** Our own assays against those of others on the same metal: whether one is always above the other, and by how much. */
import { type Inexact, minus, spread } from '../accounts/inexact';
import { studentQuantile } from '../statistics/distributions';
import { mean, standardDeviation } from '../statistics/robust';

/** Two results on one lot. */
export interface Pair {
  readonly lot: string;
  readonly date: string;
  readonly own: Inexact;
  readonly other: Inexact;
}

export interface Bias {
  readonly count: number;
  /** Mean of own less other, as a mass fraction: positive where we find more. */
  readonly mean: number;
  /** Standard deviation of the differences; none of one pair. */
  readonly deviation: number | undefined;
  /** 95 % of the mean, Student's t; none of one pair, nor where all differ by the same: rounded readings do so by chance, and hide their scatter. */
  readonly interval: { readonly low: number; readonly high: number } | undefined;
  /** What the two results of a pair usually may differ by, by their own uncertainties: root mean square, k = 1. */
  readonly expected: number;
  /** The interval leaves out nought. */
  readonly shown: boolean;
}

/** Fewer pairs give a mean that a single odd one makes: said beside it (common practice, no source). */
export const FEWEST_PAIRS = 6;

/** What sums of binary fractions leave of no scatter at all. */
const LEAST_SCATTER = 1e-12;

/** Undefined of no pair. */
export const biasOf = (pairs: readonly Pair[], level = 0.95): Bias | undefined => {
  const count = pairs.length;
  if (count === 0) return undefined;
  const differences = pairs.map(({ own, other }) => minus(own, other));
  const values = differences.map(({ value }) => value);
  const centre = mean(values);
  const deviation = count > 1 ? standardDeviation(values) : undefined;
  const reach =
    deviation === undefined || deviation < LEAST_SCATTER
      ? undefined
      : (studentQuantile(1 - (1 - level) / 2, count - 1) * deviation) / Math.sqrt(count);
  const interval = reach === undefined ? undefined : { low: centre - reach, high: centre + reach };
  return {
    count,
    mean: centre,
    deviation,
    interval,
    expected: Math.sqrt(differences.reduce((so, one) => so + spread(one) ** 2, 0) / count),
    shown: interval !== undefined && (interval.low > 0 || interval.high < 0),
  };
};
