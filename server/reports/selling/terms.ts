/** Terms of sale in words. */
import { perGram } from '../../engine/selling/stated';
import type { Bands, ChargeTerm, Cut, Terms } from '../../engine/workshop';
import { type Decimal, toPlain } from '../../quantity/decimal';
import { type Money, minorDigits } from '../../quantity/money';
import { showPlaces } from '../../quantity/show';
import { unit } from '../../quantity/units';

/** `98.5 %` */
export const percent = (share: Decimal): string => `${toPlain(share.times(100))} %`;

/** `8.30 %`: an assay without its last noughts would look coarser than it is, and no assay is good to more than a hundredth of a part per thousand. */
export const assayWords = (share: Decimal, most = 3): string => {
  const cut = share.times(100).toDecimalPlaces(most);
  return `${cut.toFixed(Math.max(2, cut.decimalPlaces()))} %`;
};

/** `98.5 %`, or `96 %, from 75 % fine 98 %`. */
export const bandsWords = (bands: Bands): string =>
  bands
    .map(({ from, share }) => (from.isZero() ? percent(share) : `from ${percent(from)} fine ${percent(share)}`))
    .join(', ');

export const cutWords = ({ share, grams }: Cut): string => (grams ? `${toPlain(grams)} g` : percent(share!));

/** As it was written, and to the smallest coin at least. */
const coins = (amount: Decimal, currency: string): string =>
  `${amount.toFixed(Math.max(minorDigits(currency), amount.decimalPlaces()))} ${currency}`;

/** `0.30 USD/g of melted` */
export const chargeWords = ({ amount, currency, per, of, least }: ChargeTerm): string => {
  const size = currency === undefined ? percent(amount) : coins(amount, currency);
  const lowest = least ? `, at least ${coins(least.amount, least.currency)}` : '';
  return `${size}${per ? `/${per.symbol}` : ''}${of ? ` of ${of}` : ''}${lowest}`;
};

/** `2488.50 USD/ozt`: a price for a gram in the unit that it is written for, or else is spoken of in, the troy ounce; as finely as it is written. */
export const rateWords = (perGramMoney: Decimal, currency: string, symbol = 'ozt', digits = 0): string =>
  `${showPlaces(perGramMoney.times(unit(symbol)!.factor), Math.max(minorDigits(currency), digits))} ${currency}/${symbol}`;

/** In the unit in which it was written. */
export const priceWords = ({ amount, currency, perGrams }: Money & { readonly perGrams: Decimal }): string => {
  const symbol = ['ozt', 'g', 'kg'].find((one) => unit(one)!.factor.equals(perGrams));
  return symbol ? `${coins(amount, currency)}/${symbol}` : rateWords(perGram({ amount, perGrams }), currency, 'g');
};

const listed = <Value>(title: string, of: ReadonlyMap<string, Value>, words: (value: Value) => string): string[] =>
  of.size === 0 ? [] : [`${title} ${[...of].map(([name, value]) => `${name} ${words(value)}`).join(', ')}`];

const PRICE_DAYS = {
  shipped: 'of the day it is shipped',
  settled: 'of the day it is settled',
  paid: 'of the day it is paid',
};
const UMPIRES = {
  result: "an umpire's result settles",
  nearest: "the mean of an umpire's and the nearer result settles",
  middle: 'the middle of three results settles',
};

/** What was agreed, line by line; of a customer what we give back. */
export const termLines = (terms: Terms, ofCustomer = false): readonly string[] => [
  ...listed(ofCustomer ? 'we give back' : 'pays', terms.pays, bandsWords),
  ...listed('takes off first', terms.less, cutWords),
  ...listed('keeps at least', terms.keeps, (cut) => (cut.grams ? cutWords(cut) : `${cutWords(cut)} of the weight`)),
  ...[...terms.charges].map(([word, charge]) => `charge ${word}: ${chargeWords(charge)}`),
  ...listed('splitting limit', terms.splitting, percent),
  ...(terms.assay === 'exchange' ? ['assays are exchanged: within the limit their mean settles'] : []),
  ...(terms.exchangeDays === undefined
    ? []
    : [`assays are told within ${terms.exchangeDays} days; who misses them is bound by the other's`]),
  ...(terms.umpire ? [UMPIRES[terms.umpire]] : []),
  ...(terms.meltLoss ? [`loss in melt up to ${percent(terms.meltLoss)}`] : []),
  ...(terms.minimumGrams ? [`least lot ${toPlain(terms.minimumGrams)} g`] : []),
  ...(terms.days === undefined ? [] : [`pays within ${terms.days} days`]),
  ...(terms.priceDay ? [`price ${PRICE_DAYS[terms.priceDay]}`] : []),
  ...(terms.fixing ? [`the ${terms.fixing} fixing of that day`] : []),
  ...(terms.fineStepGrams ? [`fine metal rounded down to ${toPlain(terms.fineStepGrams)} g`] : []),
  ...(terms.rounding ? [`money rounded ${terms.rounding}`] : []),
  ...(terms.residues ? [`residues stay with the ${terms.residues}`] : []),
];
