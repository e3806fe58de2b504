/** What is known of one metal in a lot, and of all its metals. */

import { isSameList } from '../../text/lists';
import type { Entry } from '../entry';
import { asGuess, type Inexact, inexact, minus, NOTHING, plus, spread } from './inexact';

/**
 * How a share of metal is known, the best first. `assayed`: a determination on this very metal. `inferred`: back from what came out of it.
 * `carried`: forward from what went into it. `guessed`: rests on a claim, a stamp, an expectation or a usual share. What is in no map of
 * `Knowledge` is unknown.
 */
export type MetalGround = 'assayed' | 'inferred' | 'carried' | 'guessed';

const GROUNDS: readonly MetalGround[] = ['assayed', 'inferred', 'carried', 'guessed'];

/** Of figures that rest on both. A figure carried from an inference is carried; one that rests on a guess is a guess. */
export const worseGround = (a: MetalGround, b: MetalGround): MetalGround =>
  GROUNDS.indexOf(a) >= GROUNDS.indexOf(b) ? a : b;

export interface Known {
  /** Grams of metal in a gram of the lot, or in a millilitre of a solution; none where only its bounds are known. */
  readonly share: Inexact | undefined;
  /** What it cannot be below and above, as far as the ground holds. */
  readonly low: number;
  readonly high: number;
  readonly ground: MetalGround;
  /** The entries that it rests on first: assays, or the step that it came through. */
  readonly by: readonly Entry[];
}

/** By chemical symbol; `Au+Ag` for both together, where they are not told apart or as their sum. */
export type Knowledge = ReadonlyMap<string, Known>;

export const NOTHING_KNOWN: Knowledge = new Map();

/** Gold and silver together: what a cupel leaves. */
export const PRECIOUS = 'Au+Ag';

export const known = (
  share: Inexact,
  ground: MetalGround,
  by: readonly Entry[],
  low = 0,
  high = Number.POSITIVE_INFINITY,
): Known => ({ share: grounded(share, ground), low, high, ground, by });

const grounded = (share: Inexact, ground: MetalGround): Inexact => (ground === 'guessed' ? asGuess(share) : share);

/** It is not there. */
export const absent = (ground: MetalGround, by: readonly Entry[] = []): Known => known(NOTHING, ground, by, 0, 0);

/**
 * The better of two, metal by metal: an assay before all; what rests on no guess before what does; else the one that is less uncertain. A
 * share before bounds.
 */
export const better = (one: Knowledge, other: Knowledge): Knowledge => {
  if (one.size === 0) return other;
  if (other.size === 0) return one;
  const best = new Map(one);
  for (const [metal, candidate] of other) {
    const holder = one.get(metal);
    if (!holder || isBetter(candidate, holder)) best.set(metal, candidate);
  }
  return best;
};

/** With the other's figures where there is none. */
export const supplemented = (one: Knowledge, other: Knowledge): Knowledge => {
  if (other.size === 0) return one;
  const all = new Map(one);
  for (const [metal, candidate] of other) if (!one.get(metal)?.share) all.set(metal, candidate);
  return completed(all);
};

const isBetter = (a: Known, b: Known): boolean => {
  if (!a.share || !b.share) return a.share !== undefined && b.share === undefined;
  const [first, second] = [rank(a), rank(b)];
  return first === second ? spread(a.share) < spread(b.share) * (1 - ALIKE) : first < second;
};

/** Figures that rest on the same errors are as sure as each other, but for what is lost where small errors are taken together. */
const ALIKE = 1e-3;

const rank = ({ ground }: Known): number => (ground === 'assayed' ? 0 : ground === 'guessed' ? 2 : 1);

/** Gold, silver and their sum: any two give the third, and may give it better than it is known. What a guess has of both is held within a sum that is none. */
export const completed = (of: Knowledge): Knowledge => {
  const knowledge = heldBeside(heldWithin(of));
  const [gold, silver, both] = ['Au', 'Ag', PRECIOUS].map((metal) => knowledge.get(metal));
  if ([gold, silver, both].filter((one) => one?.share).length < 2) return knowledge;
  const found = new Map<string, Known>();
  if (gold?.share && silver?.share && isMoreThanAll(gold.share, silver.share))
    return withoutWorse(knowledge, gold, silver);
  if (gold?.share && silver?.share) found.set(PRECIOUS, together(gold, silver, plus));
  if (both?.share && gold?.share && !silver?.share) found.set('Ag', together(both, gold, minus));
  if (both?.share && silver?.share && !gold?.share) found.set('Au', together(both, silver, minus));
  return better(knowledge, found);
};

const WITHIN_SUM = { label: 'guess within gold and silver together' };

/** As a bead tells of its button what both weigh: guesses of the one and the other come to that, each moved the more the wider it is. */
const heldWithin = (knowledge: Knowledge): Knowledge => {
  const [gold, silver, both] = ['Au', 'Ag', PRECIOUS].map((metal) => knowledge.get(metal));
  if (!both?.share || both.ground === 'guessed') return knowledge;
  if (gold?.share && silver?.share && isGuess(gold) && isGuess(silver)) {
    const [u, v, w] = [gold, silver, both].map(({ share }) => spread(share!) ** 2) as [number, number, number];
    const all = u + v + w;
    const off = both.share.value - gold.share.value - silver.share.value;
    // Nothing to mend, or mended before.
    if (!(all > 0) || w >= u + v || Math.abs(off) < 1e-9) return knowledge;
    const most = both.share.value;
    const moved = (one: Known, variance: number): Known => ({
      ...one,
      share: asGuess(
        inexact(
          Math.min(most, Math.max(0, one.share!.value + (off * variance) / all)),
          Math.sqrt(variance - variance ** 2 / all),
          WITHIN_SUM,
        ),
      ),
    });
    return new Map(knowledge).set('Au', moved(gold, u)).set('Ag', moved(silver, v));
  }
  const high = both.share.value + 2 * spread(both.share);
  const cut = [['Au', gold] as const, ['Ag', silver] as const].filter(
    ([, one]) => one?.share && isGuess(one) && one.share.value > high,
  );
  if (cut.length === 0) return knowledge;
  const held = new Map(knowledge);
  for (const [metal, one] of cut) held.set(metal, withinBounds({ ...one!, high: Math.min(one!.high, high) }));
  return held;
};

const BESIDE = { label: 'what an assay leaves room for' };

/**
 * Beside gold that was assayed, or is known by what came of it, there is room for the rest alone, and beside silver: a figure that comes from elsewhere is
 * the part of its range that fits in. One of which most fits in keeps its errors, for it shares them with the lots that it comes from.
 */
const heldBeside = (knowledge: Knowledge): Knowledge => {
  for (const [metal, other] of [
    ['Au', 'Ag'],
    ['Ag', 'Au'],
  ] as const) {
    const [one, two] = [knowledge.get(metal), knowledge.get(other)];
    if (!one?.share || !two?.share || !TELLS_ROOM.has(one.ground) || TELLS_ROOM.has(two.ground)) continue;
    const [value, u] = [two.share.value, spread(two.share)];
    const [from, to] = [
      Math.max(0, value - 2 * u),
      Math.min(1 - one.share.value + 2 * spread(one.share), value + 2 * u),
    ];
    if (from > to || to - from > 2 * u) continue;
    const share = inexact((from + to) / 2, (to - from) / Math.sqrt(12), BESIDE);
    return new Map(knowledge).set(other, { ...two, share: grounded(share, two.ground) });
  }
  return knowledge;
};

const TELLS_ROOM: ReadonlySet<MetalGround> = new Set(['assayed', 'inferred']);

const isGuess = ({ ground }: Known): boolean => ground === 'guessed';

/** In a solution a share is by volume, and far below. */
const isMoreThanAll = (gold: Inexact, silver: Inexact): boolean => {
  const both = plus(gold, silver);
  return both.value > 1 + Math.max(0.005, 2 * spread(both));
};

/** Two figures that cannot both be: the better known stands, of the other nothing is known. */
const withoutWorse = (knowledge: Knowledge, gold: Known, silver: Known): Knowledge => {
  const kept = new Map(knowledge);
  kept.delete(isBetter(silver, gold) ? 'Au' : 'Ag');
  kept.delete(PRECIOUS);
  return kept;
};

/** A difference below nought is nought, within its uncertainty. */
const together = (a: Known, b: Known, of: (x: Inexact, y: Inexact) => Inexact): Known => {
  const result = of(a.share!, b.share!);
  const share = result.value < 0 ? { ...result, value: 0 } : result;
  return known(share, worseGround(a.ground, b.ground), [...new Set([...a.by, ...b.by])]);
};

/** Standard uncertainties past which a figure is a range rather than a reading. */
const WIDE = 0.05;
const WITHIN = { label: 'range within bounds' };

/**
 * Held within its bounds. A wide figure that reaches past them is the part of its range that lies within; a narrow one is moved to the bound.
 * Nothing is left of a figure that lies outside with all its range: then its bounds alone are known.
 */
export const withinBounds = (one: Known): Known => {
  const { share, low, high } = one;
  if (!share || (share.value >= low && share.value <= high && spread(share) <= WIDE)) return one;
  const u = spread(share);
  const [from, to] = [Math.max(low, share.value - 2 * u), Math.min(high, share.value + 2 * u)];
  if (from > to) return { ...one, share: undefined };
  if (u <= WIDE) return { ...one, share: { ...share, value: Math.min(high, Math.max(low, share.value)) } };
  if (from === share.value - 2 * u && to === share.value + 2 * u) return one;
  // A figure that can be stays: it is its range that is cut.
  const isWithin = share.value >= low && share.value <= high;
  const cut = inexact(isWithin ? share.value : (from + to) / 2, (to - from) / Math.sqrt(12), WITHIN);
  return { ...one, share: grounded(cut, one.ground) };
};

/** Alike in all that is shown and computed with. */
export const sameKnowledge = (a: Knowledge, b: Knowledge): boolean => {
  if (a === b) return true;
  if (a.size !== b.size) return false;
  for (const [metal, one] of a) {
    const other = b.get(metal);
    if (!other || !isSame(one, other)) return false;
  }
  return true;
};

const isSame = (a: Known, b: Known): boolean =>
  a.ground === b.ground &&
  a.low === b.low &&
  a.high === b.high &&
  a.share?.value === b.share?.value &&
  (a.share === undefined || spread(a.share) === spread(b.share!)) &&
  isSameList(a.by, b.by);
