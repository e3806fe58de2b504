/** Arithmetic of terms of sale: payable metal, penalties in tiers, two assays against a limit, sell now or refine further. */
import { answer, assume, noAnswer, type Result } from './result';

/** Metal that is paid for; any one unit of mass, fractions 0 to 1. */
export const payableMass = (lotMass: number, fineFraction: number, payableFraction: number): number =>
  lotMass * fineFraction * payableFraction;

/** A step of a scale of terms: up to, or from, a grade, and what holds there. */
export type Tier = readonly [number, number];

/** A scale that says *up to*: the first tier whose grade is not passed. Above the last one the lot is refused. */
export function upTo(tiers: readonly Tier[], grade: number): Result<number> {
  const tier = tiers.find(([most]) => grade <= most);
  return tier ? answer(tier[1]) : noAnswer('above the last tier: refused');
}

/** A scale that says *from*: the last tier whose grade is reached. Below the first there are no terms. */
export function from(tiers: readonly Tier[], grade: number): Result<number> {
  const tier = tiers.findLast(([least]) => grade >= least);
  return tier ? answer(tier[1]) : noAnswer('below the first tier: no terms');
}

export type SplitAssay = { readonly outcome: 'mean'; readonly settled: number } | { readonly outcome: 'umpire' };

/** Two assays in one unit: within the splitting limit the mean is final, beyond it an umpire decides. */
export function splitAssay(one: number, other: number, limit: number): SplitAssay {
  // A difference typed in decimals is not to miss its limit by a rounding of the machine.
  const within = Math.abs(one - other) <= limit * (1 + 1e-9);
  return within ? { outcome: 'mean', settled: (one + other) / 2 } : { outcome: 'umpire' };
}

/** Price of the metal from what a parcel fetched with a returning charge: (price + charge × ore)/metal. */
export const pricePerMetal = (parcelPrice: number, ore: number, chargePerOre: number, metal: number): number =>
  (parcelPrice + chargePerOre * ore) / metal;

/** Price of fine metal behind a price for a lot under a fixed charge and one for each per cent of grade; one unit of mass. */
export const standardOf = (
  price: number,
  gradePercent: number,
  fixedCharge: number,
  chargePerPercent: number,
): number => (price + fixedCharge + chargePerPercent * gradePercent) / (gradePercent / 100);

export interface ScrapTerms {
  readonly returnFraction: number;
  readonly chargePerMass: number;
  readonly leastCharge: number;
}

/** Proceeds of a lot, in the price's money: fine metal × return × price, less the charge or its minimum. */
export function proceeds(lotMass: number, fineFraction: number, price: number, terms: ScrapTerms): number {
  const charge = Math.max(terms.leastCharge, terms.chargePerMass * lotMass);
  return lotMass * fineFraction * terms.returnFraction * price - charge;
}

export interface Further {
  readonly fineGrams: number;
  readonly pricePerGram: number;
  readonly payableNow: number;
  readonly payableLater: number;
  /** Share of the metal lost on the way. */
  readonly lossFraction: number;
  readonly cost: number;
}

/** What refining further brings against selling now, in the price's money: m P [(1 − loss) later − now] − cost. */
export const refiningGain = ({
  fineGrams,
  pricePerGram,
  payableNow,
  payableLater,
  lossFraction,
  cost,
}: Further): number => fineGrams * pricePerGram * ((1 - lossFraction) * payableLater - payableNow) - cost;

/** Loss at which refining further comes out even, as a fraction; no answer when it never can. */
export function breakEvenLoss({
  fineGrams,
  pricePerGram,
  payableNow,
  payableLater,
  cost,
}: Omit<Further, 'lossFraction'>): Result<number> {
  const value = fineGrams * pricePerGram;
  if (!(value > 0 && payableLater > 0)) return noAnswer('nothing would be paid later');
  const loss = 1 - (payableNow + cost / value) / payableLater;
  return loss < 0
    ? noAnswer('refining further loses even without loss of metal')
    : answer(loss, [assume('as m P [(1 − loss) later − now] = cost', 'algebra')]);
}
