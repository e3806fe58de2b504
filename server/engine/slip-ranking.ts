/**
 * Which slip, if any, is to be believed, of all that would close a gap.
 *
 * Two questions are asked of every figure that would close the gap. How much is it to be believed, against all others that were tried and
 * against an honest loss or gain? And how easily would a gap of this size have been closed by chance? Only what passes both is offered.
 *
 * Belief. A candidate weighs as the share of slips that would have made it, times the density of the rest that it leaves. An honest gap
 * weighs as its share of all unexplained gaps, times the density of a gap of that size, spread evenly over the powers of ten from the
 * division to the whole (both per gram). Digits have many alternatives each, so one of them weighs little.
 *
 * Chance. An honest gap within half a power of ten of this one is as likely at one size as at another on a scale of ratios, and falls on
 * steps of the finer division. The chance that some candidate at least as likely beforehand leaves as little as this one does is the sum,
 * over their shifts Δ in that range, of w/(|Δ| ln 10), where w is 2|rest| and one division: an exact closure counts one division, not the
 * whole reach of weighing. With a division of 0.01 g that gives for 58.61 after 58.16 (a swap) 0.010; for 59.16 after 58.16 (one digit,
 * 8 and 9 being neighbours on the pad, 100 divisions) 0.021; for 58.26 after 58.16 (10 divisions) 0.058, so that is not offered; and every
 * gap of 0.01 to 0.09 g is one digit's. The rates that come of it are measured in the tests.
 */

import { ZERO } from '../quantity/decimal';
import type { Slip } from './book';
import type { Amount, Digits } from './entry';
import type { Candidate } from './slip-candidates';
import { gramsOf } from './weigh';

/** Another balance in which a reading stands, in grams. */
export interface OtherBalance {
  /** What it misses now. */
  readonly residual: number;
  readonly u: number;
  /** 1 where a heavier reading adds to the residual. */
  readonly sign: 1 | -1;
  /** What it may miss without surprise. */
  readonly low?: number;
  readonly high?: number;
}

/** A difference to be explained, in grams. */
export interface Gap {
  readonly grams: number;
  readonly u: number;
  /** What may be left without surprise beside weighing: zero both, or the usual band of a step. */
  readonly low: number;
  readonly high: number;
  readonly coverage: number;
  /** The finest division that it was read in. */
  readonly divisionGrams: number;
  /** All that was weighed: no honest gap is larger. */
  readonly throughputGrams: number;
  /** Of gaps like this, the share that are slips. */
  readonly slipShare: number;
  /** Either of two readings of one weight: what turns the one into the other turns the other back, so chance is counted once. */
  readonly mirrored: boolean;
}

/** A written figure that may be the wrong one. */
export interface Doubt {
  readonly amount: Amount;
  readonly digits: Digits;
  /** 1 where a heavier reading adds to the gap. */
  readonly sign: 1 | -1;
  readonly candidates: readonly Candidate[];
  readonly other: OtherBalance | undefined;
  /** The figure is the tare that was taken off the amount. */
  readonly inTare?: true;
}

export const MOST_CHANCE = 0.05;
export const SURE = 0.8;

export const AHEAD = 4;
export const MOST_OFFERED = 3;

/** Evidence of another balance counts no more than this much to one. */
export const MOST_FROM_OTHER = 100;

/** Beliefs that differ by less are the same. */
export const millionths = (belief: number): number => Math.round(belief * 1e6);

/** Ranks all candidates of all doubted readings; what is to be offered, best first, at most three. */
export function rankSlips(gap: Gap, doubts: readonly Doubt[]): readonly Slip[] {
  if (gap.grams === 0 || doubts.length === 0 || !(gap.throughputGrams > gap.divisionGrams)) return [];
  const trials = doubts.flatMap((doubt) =>
    doubt.candidates.map((candidate) => tryOne(gap, doubt, candidate, doubts.length)),
  );
  const closing = trials.filter((trial) => trial.closes);
  const weights = closing.map((trial) => trial.weight);
  const all = weights.reduce((sum, weight) => sum + weight, honestWeight(gap));
  const believed = closing
    .map((trial, at) => ({ ...trial, belief: weights[at]! / all }))
    .filter((trial) => chanceOf(gap, trial, trials) < MOST_CHANCE)
    .sort((a, b) => millionths(b.belief) - millionths(a.belief));
  return offered(believed).map(slipOf);
}

interface Trial {
  readonly doubt: Doubt;
  readonly candidate: Candidate;
  /** What the candidate takes the gap by, in grams. */
  readonly shift: number;
  /** What it leaves, from the middle of what may be left. */
  readonly rest: number;
  readonly closes: boolean;
  readonly weight: number;
  /** Chance that the other balance would have come right by itself. */
  readonly otherChance: number;
}

function tryOne(gap: Gap, doubt: Doubt, candidate: Candidate, readings: number): Trial {
  const change = candidate.grams.minus(gramsOf(doubt.digits)?.grams ?? ZERO).toNumber();
  const shift = doubt.sign * change;
  const after = gap.grams + shift;
  const u = uWith(gap, candidate, doubt);
  const [middle, half] = [(gap.low + gap.high) / 2, (gap.high - gap.low) / 2];
  const rest = Math.abs(after - middle);
  const spread = Math.hypot(u, half / Math.sqrt(3));
  const other = evidenceOf(doubt.other, change);
  // Readings fall on steps, and one on a coarser step agrees the more easily: so how well it fits is judged by the candidate's own spread,
  // but spread over the grams of the gap as written, for all alike.
  const asWritten = Math.hypot(Math.max(gap.u, gap.divisionGrams / Math.sqrt(12)), half / Math.sqrt(3));
  const density = Math.exp(-0.5 * (rest / spread) ** 2) / (asWritten * Math.sqrt(2 * Math.PI));
  return {
    doubt,
    candidate,
    shift,
    rest,
    closes: other !== undefined && rest <= half + gap.coverage * u,
    weight: ((gap.slipShare * candidate.prior) / readings) * density * (other?.odds ?? 0),
    otherChance: other?.chance ?? 1,
  };
}

/** The gap's u with this reading's rounding changed to the candidate's. Never less than the rounding of the finest reading. */
function uWith(gap: Gap, candidate: Candidate, { digits }: Doubt): number {
  const was = gramsOf(digits)?.division ?? 0;
  const squared = gap.u ** 2 + (candidate.divisionGrams ** 2 - was ** 2) / 12;
  return Math.sqrt(Math.max(squared, gap.divisionGrams ** 2 / 12));
}

interface Evidence {
  readonly odds: number;
  readonly chance: number;
}

/** What the other balance says of a change: none when it would be put out of order by it, or further out. */
function evidenceOf(other: OtherBalance | undefined, change: number): Evidence | undefined {
  if (!other || !(other.u > 0)) return { odds: 1, chance: 1 };
  const now = beyond(other.residual, other) / other.u;
  const then = beyond(other.residual + other.sign * change, other) / other.u;
  if (then > 2 && then > now) return undefined;
  if (now <= 3 || then > 2) return { odds: 1, chance: 1 };
  const reach = 4 * other.u + (other.high ?? 0) - (other.low ?? 0);
  return {
    odds: Math.min(MOST_FROM_OTHER, Math.exp(0.5 * (now ** 2 - then ** 2))),
    chance: Math.min(1, reach / (Math.abs(other.residual) * Math.LN10)),
  };
}

const beyond = (residual: number, { low = 0, high = 0 }: OtherBalance): number =>
  Math.max(0, residual - high, low - residual);
/** Density per gram of an honest gap of this size and sign, times its share. */
function honestWeight(gap: Gap): number {
  const range = Math.log(gap.throughputGrams / gap.divisionGrams);
  return (1 - gap.slipShare) / (2 * Math.abs(gap.grams) * range);
}

/** Chance that an honest gap of about this size would be closed as well by a candidate at least as likely beforehand. */
function chanceOf(gap: Gap, trial: Trial, trials: readonly Trial[]): number {
  const half = (gap.high - gap.low) / 2;
  const width = Math.max(2 * trial.rest + gap.divisionGrams, 2 * half);
  const size = Math.abs(gap.grams);
  const shifts = new Map<number, number>();
  for (const { doubt, shift, candidate } of trials) {
    const tried = candidate.prior >= trial.candidate.prior * (1 - 1e-9) && (!gap.mirrored || doubt === trial.doubt);
    const near = Math.abs(shift) >= size / ROOT_OF_TEN && Math.abs(shift) <= size * ROOT_OF_TEN;
    if (tried && near && shift > 0 === gap.grams < 0)
      shifts.set(Math.round(shift / gap.divisionGrams), candidate.ways ?? 1);
  }
  let chance = 0;
  for (const [steps, ways] of shifts) chance += (ways * width) / (Math.abs(steps) * gap.divisionGrams * Math.LN10);
  return Math.min(1, chance) * trial.otherChance;
}

const ROOT_OF_TEN = Math.sqrt(10);
type Believed = Trial & { readonly belief: number };

/** The one that stands out, or up to three that share the belief between them. */
function offered(believed: readonly Believed[]): readonly Believed[] {
  const [best, next] = believed;
  if (!best) return [];
  if (best.belief > SURE && best.belief >= AHEAD * (next?.belief ?? 0)) return [best];
  let together = 0;
  for (let count = 1; count <= Math.min(MOST_OFFERED, believed.length); count++) {
    together += believed[count - 1]!.belief;
    if (together > SURE) return believed.slice(0, count);
  }
  return [];
}

const slipOf = ({ doubt, candidate, belief }: Believed): Slip => ({
  kind: candidate.kind,
  amount: doubt.amount,
  replace: candidate.at ?? doubt.digits.place,
  reads: candidate.reads,
  belief,
  ...(doubt.inTare && { inTare: true as const }),
});
