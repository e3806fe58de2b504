/**
 * Figures in their order turned into scores that need no centre and no deviation known beforehand: each by its rank among all up to it. While
 * nothing changes, the ranks are independent of each other whatever the distribution (Parent 1965; McDonald 1990, A CUSUM procedure based on
 * sequential ranks; both from memory), so a running sum of the scores cries wolf at one rate for skewed losses and for normal ones, and a
 * single wild figure weighs no more than one that is just the largest.
 */
import { firstWhere } from '../../text/lists';
import { normalQuantile } from './distributions';

/**
 * The normal score of each figure's rank among those up to it, Φ⁻¹((rank − ½)/n), ties at their middle rank. Nought for the first; of mean
 * nought and a variance up to one, smaller among the first few.
 */
export const sequentialScores = (values: readonly number[]): number[] => {
  const ranks = doubledRanks(values);
  return values.map((_, at) => scoreOf(ranks[at]! - 1, 2 * (at + 1)));
};

/** The normal score of a share. A figure changed in a long series leaves most ranks as they were: their scores are asked for again and again. */
const scoreOf = (part: number, whole: number): number => {
  let ofWhole = scores.get(whole);
  if (!ofWhole) {
    ofWhole = new Map();
    scores.set(whole, ofWhole);
  }
  const known = ofWhole.get(part);
  if (known !== undefined) return known;
  if (++kept > MOST_KEPT) {
    scores.clear();
    kept = 0;
  }
  const made = normalQuantile(part / whole);
  ofWhole.set(part, made);
  return made;
};

/** By whole, then by part: whole numbers are found without making a fraction of them. */
const scores = new Map<number, Map<number, number>>();
let kept = 0;
const MOST_KEPT = 50_000;

/** Twice the rank of each among those up to it, which is whole; those alike share their middle rank. */
const doubledRanks = (values: readonly number[]): Int32Array => {
  const sorted = new Float64Array(values.length);
  const ranks = new Int32Array(values.length);
  values.forEach((value, at) => {
    const below = firstWhere(sorted, (one) => one >= value, 0, at);
    let upTo = below;
    while (upTo < at && sorted[upTo] === value) upTo++;
    sorted.copyWithin(below + 1, below, at);
    sorted[below] = value;
    ranks[at] = below + upTo + 2;
  });
  return ranks;
};

/**
 * The same of figures that lie about nought as often above as below: the rank of the size among all sizes so far, with the figure's sign (signed
 * sequential ranks: Lombard and Van Zyl 2018, from memory), over the root mean square of these, so that the variance is one where sizes are
 * alike too, as rounded ones are. Nought of nought, which says nothing of a side and is left out of the ranks.
 */
export const signedSequentialScores = (values: readonly number[]): number[] => {
  const ranks = doubledRanks(values.filter((value) => value !== 0).map(Math.abs));
  let [at, squares] = [0, 0];
  return values.map((value) => {
    if (value === 0) return 0;
    const rank = ranks[at++]!;
    const score = scoreOf(2 * at + rank - 1, 4 * at);
    squares += score * score;
    return (Math.sign(value) * score) / Math.sqrt(squares / at);
  });
};
