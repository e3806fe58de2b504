/**
 * Arithmetic of terms of sale: payable metal, penalties in tiers, two assays against a limit, sell now or refine further. Masses, shares and
 * money are exact decimals, as typed; only a quotient is cut, at sixty digits. Nothing is rounded to coins here.
 */
import { type Decimal, ONE } from '../../quantity/decimal';
import { addMoney, type Money, moreMoney, negateMoney, timesMoney } from '../../quantity/money';
import { answer, noAnswer, type Result } from './result';

/** Metal that is paid for; any one unit of mass, fractions 0 to 1. */
export const payableMass = (lotMass: Decimal, fineFraction: Decimal, payableFraction: Decimal): Decimal =>
  lotMass.times(fineFraction).times(payableFraction);

/** A step of a scale of terms: up to, or from, a grade, and what holds there. */
export type Tier<T> = readonly [grade: Decimal, holds: T];

/** A scale that says *up to*: the first tier whose grade is not passed. Above the last one the lot is refused. */
export function upTo<T>(tiers: readonly Tier<T>[], grade: Decimal): Result<T> {
  const tier = tiers.find(([most]) => grade.lte(most));
  return tier ? answer(tier[1]) : noAnswer('above the last tier: refused');
}

/** A scale that says *from*: the last tier whose grade is reached. Below the first there are no terms. */
export function from<T>(tiers: readonly Tier<T>[], grade: Decimal): Result<T> {
  const tier = tiers.findLast(([least]) => grade.gte(least));
  return tier ? answer(tier[1]) : noAnswer('below the first tier: no terms');
}

export type SplitAssay = { readonly outcome: 'mean'; readonly settled: Decimal } | { readonly outcome: 'umpire' };

/** Two assays in one unit: within the splitting limit, or at it, the mean is final; beyond it an umpire decides. */
export function splitAssay(one: Decimal, other: Decimal, limit: Decimal): SplitAssay {
  const within = one.minus(other).abs().lte(limit);
  return within ? { outcome: 'mean', settled: one.plus(other).div(2) } : { outcome: 'umpire' };
}

/** Price of a unit of metal from what a parcel fetched with a returning charge: (price + charge × ore)/metal. */
export const pricePerMetal = (parcelPrice: Money, ore: Decimal, chargePerOre: Money, metal: Decimal): Money => {
  const whole = addMoney(parcelPrice, timesMoney(chargePerOre, ore));
  return { ...whole, amount: whole.amount.div(metal) };
};

/** Price of fine metal behind a price for a lot under a fixed charge and one for each per cent of grade; one unit of mass. */
export const standardOf = (price: Money, gradePercent: Decimal, fixedCharge: Money, chargePerPercent: Money): Money => {
  const before = addMoney(price, fixedCharge, timesMoney(chargePerPercent, gradePercent));
  return { ...before, amount: before.amount.times(100).div(gradePercent) };
};

export interface ScrapTerms {
  readonly returnFraction: Decimal;
  /** For a unit of the lot's gross mass. */
  readonly chargePerMass: Money;
  readonly leastCharge: Money;
}

/** Proceeds of a lot: fine metal × return × price, less the charge or its minimum. Throws a RangeError on two currencies. */
export function proceeds(lotMass: Decimal, fineFraction: Decimal, price: Money, terms: ScrapTerms): Money {
  const charge = moreMoney(terms.leastCharge, timesMoney(terms.chargePerMass, lotMass));
  const paid = timesMoney(price, payableMass(lotMass, fineFraction, terms.returnFraction));
  return addMoney(paid, negateMoney(charge));
}

export interface Further {
  readonly fineGrams: Decimal;
  readonly pricePerGram: Money;
  /** Share of the metal that is paid for, 0 to 1. */
  readonly payableNow: Decimal;
  readonly payableLater: Decimal;
  /** Share of the metal lost on the way. */
  readonly lossFraction: Decimal;
  readonly cost: Money;
}

/** What refining further brings against selling now: m P [(1 − loss) later − now] − cost. Throws a RangeError on two currencies. */
export const refiningGain = (terms: Further): Money => {
  const { fineGrams, pricePerGram, payableNow, payableLater, lossFraction, cost } = terms;
  const share = ONE.minus(lossFraction).times(payableLater).minus(payableNow);
  return addMoney(timesMoney(pricePerGram, fineGrams.times(share)), negateMoney(cost));
};
