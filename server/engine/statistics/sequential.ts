/**
 * Figures in their order turned into scores that need no centre and no deviation known beforehand: each by its rank among all up to it. While
 * nothing changes, the ranks are independent of each other whatever the distribution (Parent 1965; McDonald 1990, A CUSUM procedure based on
 * sequential ranks; both from memory), so a running sum of the scores cries wolf at one rate for skewed losses and for normal ones, and a
 * single wild figure weighs no more than one that is just the largest.
 */
import { normalQuantile } from './distributions';

/**
 * The normal score of each figure's rank among those up to it, Φ⁻¹((rank − ½)/n), ties at their middle rank. Nought for the first; of mean
 * nought and a variance up to one, smaller among the first few.
 */
export const sequentialScores = (values: readonly number[]): number[] =>
  ranksOf(values).map(({ rank, of }) => quantileOf((rank - 0.5) / of));

/** A figure changed in a long series leaves most ranks as they were: their scores are asked for again and again. */
const quantileOf = (p: number): number => {
  const known = quantiles.get(p);
  if (known !== undefined) return known;
  if (quantiles.size >= MOST_KEPT) quantiles.clear();
  const made = normalQuantile(p);
  quantiles.set(p, made);
  return made;
};

const quantiles = new Map<number, number>();
const MOST_KEPT = 50_000;

interface Rank {
  readonly rank: number;
  readonly of: number;
}

/** Of each among those up to it; those alike share their middle rank. */
const ranksOf = (values: readonly number[]): Rank[] => {
  const sorted: number[] = [];
  return values.map((value) => {
    const below = firstAtLeast(sorted, value);
    let upTo = below;
    while (upTo < sorted.length && sorted[upTo] === value) upTo++;
    sorted.splice(below, 0, value);
    return { rank: below + (upTo - below + 2) / 2, of: sorted.length };
  });
};

const firstAtLeast = (sorted: readonly number[], value: number): number => {
  let [low, high] = [0, sorted.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (sorted[middle]! < value) low = middle + 1;
    else high = middle;
  }
  return low;
};

/**
 * The same of figures that lie about nought as often above as below: the rank of the size among all sizes so far, with the figure's sign (signed
 * sequential ranks: Lombard and Van Zyl 2018, from memory), over the root mean square of these, so that the variance is one where sizes are
 * alike too, as rounded ones are. Nought of nought, which says nothing of a side and is left out of the ranks.
 */
export const signedSequentialScores = (values: readonly number[]): number[] => {
  const ranks = ranksOf(values.filter((value) => value !== 0).map(Math.abs));
  let [at, squares] = [0, 0];
  return values.map((value) => {
    if (value === 0) return 0;
    const { rank, of } = ranks[at++]!;
    const score = quantileOf(0.5 + (rank - 0.5) / (2 * of));
    squares += score * score;
    return (Math.sign(value) * score) / Math.sqrt(squares / at);
  });
};
