/** Exact money: an amount and its ISO 4217 code. Nothing is rounded until it is asked for, and then once. */
import { type Decimal, decimal, type Rounding, roundTo, sum } from './decimal';

export interface Money {
  readonly amount: Decimal;
  /** ISO 4217, three capitals. */
  readonly currency: string;
}

/**
 * Currencies whose minor unit is not a hundredth, by ISO 4217 (list one, in a public copy of the maintenance agency's table; that the Uganda
 * shilling has no minor unit, and the digits of units of account, as a public package has them, the copy being older or without them).
 */
const OTHER_DIGITS: ReadonlyMap<string, number> = new Map([
  ...codes('BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF', 0),
  ...codes('BHD IQD JOD KWD LYD OMR TND', 3),
  ...codes('CLF UYW', 4),
]);

/** Digits after the point of the currency's smallest coin of account: 2 unless ISO 4217 says otherwise. */
export const minorDigits = (currency: string): number => OTHER_DIGITS.get(currency) ?? 2;

/** The currency's minor unit: 0.01 for USD, 1 for JPY, 0.001 for KWD. */
export const minorUnit = (currency: string): Decimal => decimal(10).pow(-minorDigits(currency));

export const money = (amount: string | number | Decimal, currency: string): Money => ({
  amount: decimal(amount),
  currency,
});

/** To the minor unit; half to even unless a contract says otherwise. Once for each line of a settlement, never in between. */
export const roundMoney = ({ amount, currency }: Money, mode: Rounding = 'half-even'): Money => ({
  amount: roundTo(amount, minorUnit(currency), mode),
  currency,
});

/** Throws a RangeError on two currencies: no rate is ever assumed. */
export const addMoney = (first: Money, ...others: readonly Money[]): Money => {
  const stranger = others.find(({ currency }) => currency !== first.currency);
  if (stranger) throw new RangeError(`${stranger.currency} cannot be added to ${first.currency}`);
  return { amount: sum([first.amount, ...others.map(({ amount }) => amount)]), currency: first.currency };
};

export const negateMoney = ({ amount, currency }: Money): Money => ({ amount: amount.negated(), currency });

/** A price times how much of it, or any other plain factor. */
export const timesMoney = ({ amount, currency }: Money, factor: Decimal): Money => ({
  amount: amount.times(factor),
  currency,
});

/** The larger of two. Throws a RangeError on two currencies. */
export const moreMoney = (one: Money, other: Money): Money =>
  addMoney(one, negateMoney(other)).amount.isNegative() ? other : one;

/** `3804.74 USD`, rounded half to even to the minor unit. */
export const showMoney = (of: Money): string => {
  const { amount } = roundMoney(of);
  const text = amount.abs().toFixed(minorDigits(of.currency));
  return `${amount.isNegative() && !amount.isZero() ? '-' : ''}${text} ${of.currency}`;
};

function codes(list: string, digits: number): [string, number][] {
  return list.split(' ').map((code) => [code, digits]);
}
