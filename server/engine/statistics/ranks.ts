/**
 * Are the figures of one group larger than those of another? By ranks alone, so skewed figures and a single wild one do no harm (Wilcoxon's
 * rank sum, Mann and Whitney's U; both from memory).
 */
import { normalUpperTail } from './distributions';

export interface RankSum {
  /** How far the first group's ranks add up above what chance gives in the mean, in ranks: negative where its figures are smaller. */
  readonly excess: number;
  /** Chance of a sum as far off, either way, if both groups came of the same: of all ways to deal these figures out. */
  readonly chance: number;
}

/** More figures than these are dealt out by the normal approximation. */
const MOST_EXACT = 60;

/** Those alike share their middle rank. A chance of 1 where a group is empty. */
export const rankSum = (one: readonly number[], other: readonly number[]): RankSum => {
  const doubled = doubledRanks([...one, ...other]);
  const [size, count] = [one.length, doubled.length];
  const sum = doubled.slice(0, size).reduce((so, rank) => so + rank, 0);
  const middle = size * (count + 1);
  const excess = (sum - middle) / 2;
  if (size === 0 || size === count) return { excess: 0, chance: 1 };
  const far = Math.abs(sum - middle);
  return { excess, chance: count <= MOST_EXACT ? dealt(doubled, size, middle, far) : approximate(doubled, size, far) };
};

/** Twice the rank of each, which is whole. */
const doubledRanks = (values: readonly number[]): number[] =>
  values.map((value) => values.reduce((rank, each) => rank + (each < value ? 2 : each === value ? 1 : 0), 1));

/** Of all ways to choose so many of the ranks, the share of those whose sum is as far off. */
const dealt = (doubled: readonly number[], size: number, middle: number, far: number): number => {
  const most = doubled.reduce((so, rank) => so + rank, 0);
  // Ways to choose so many ranks, by their sum.
  const ways = Array.from({ length: size + 1 }, () => new Float64Array(most + 1));
  ways[0]![0] = 1;
  for (const rank of doubled) {
    for (let chosen = size; chosen > 0; chosen--) {
      const [from, to] = [ways[chosen - 1]!, ways[chosen]!];
      for (let sum = most; sum >= rank; sum--) to[sum]! += from[sum - rank]!;
    }
  }
  let [all, asFar] = [0, 0];
  for (const [sum, count] of ways[size]!.entries()) {
    all += count;
    if (Math.abs(sum - middle) >= far) asFar += count;
  }
  return asFar / all;
};

/** The variance of a sum of ranks drawn without putting back, ties and all; half a rank is taken off the distance. */
const approximate = (doubled: readonly number[], size: number, far: number): number => {
  const count = doubled.length;
  const squares = doubled.reduce((so, rank) => so + (rank - count - 1) ** 2, 0);
  const deviation = Math.sqrt((size * (count - size) * squares) / (count * (count - 1)));
  return deviation === 0 ? 1 : Math.min(1, 2 * normalUpperTail(Math.max(0, far - 1) / deviation));
};
