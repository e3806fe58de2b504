/** Many figures of one kind in a few: how many, the middle one, how far they scatter, and how well the middle is known. */

import { rankSum } from '../statistics/ranks';
import { median, scaledMedianDeviation } from '../statistics/robust';
import { lowerBeta } from '../statistics/special';

export interface Interval {
  readonly low: number;
  readonly high: number;
  /** How surely the true median lies within, 0 to 1: never less than was asked for. */
  readonly confidence: number;
}

export interface Summary {
  readonly count: number;
  readonly median: number;
  readonly least: number;
  readonly most: number;
  /** Scaled median deviation; none of fewer than five, of which the range says more. */
  readonly spread: number | undefined;
  /** None of fewer than six, whose least and most are no interval of 95 %. */
  readonly interval: Interval | undefined;
}

/** With fewer the range is quoted and no deviation (common practice, no source). */
export const FEWEST_FOR_SPREAD = 5;

/** Undefined of nothing. */
export const summaryOf = (values: readonly number[], level = 0.95): Summary | undefined => {
  if (values.length === 0) return undefined;
  return {
    count: values.length,
    median: median(values),
    least: Math.min(...values),
    most: Math.max(...values),
    spread: values.length < FEWEST_FOR_SPREAD ? undefined : scaledMedianDeviation(values),
    interval: medianInterval(values, level),
  };
};

/**
 * The true median lies between the k-th smallest and the k-th largest figure but for a chance of 2 P(B < k), B binomial of n and a half: the
 * sign test turned round, right for any distribution, as skewed as losses are. Undefined where not even least and most are so sure.
 */
export const medianInterval = (values: readonly number[], level = 0.95): Interval | undefined => {
  const count = values.length;
  let rank = 0;
  while (2 * rank < count && 2 * atMost(rank, count) <= 1 - level) rank++;
  if (rank === 0) return undefined;
  const sorted = Float64Array.from(values).sort();
  return { low: sorted[rank - 1]!, high: sorted[count - rank]!, confidence: 1 - 2 * atMost(rank - 1, count) };
};

/** P(B ≤ k) of n throws of a coin, by the incomplete beta function (Abramowitz and Stegun 26.5.24). */
const atMost = (k: number, count: number): number => lowerBeta(count - k, k + 1, 0.5);

/** How the figures of one group compare with those of another. */
export type Comparison = 'lower' | 'higher' | 'cannot tell';

/** Of fewer figures than these nothing is said, however the ranks fall (common practice, no source). */
export const FEWEST_COMPARED = 3;

/** Apart where chance deals ranks so far off no oftener than `level`. Two intervals that meet would not tell: they meet by far too often. */
export const compared = (one: readonly number[], other: readonly number[], level = 0.05): Comparison => {
  if (Math.min(one.length, other.length) < FEWEST_COMPARED) return 'cannot tell';
  const { excess, chance } = rankSum(one, other);
  if (chance > level) return 'cannot tell';
  return excess < 0 ? 'lower' : 'higher';
};
