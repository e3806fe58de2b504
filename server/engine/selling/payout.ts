/**
 * What a lot brings: for each metal weight × fineness × payable share × price, less charges. All of it exact decimals; each line is rounded to
 * the currency's smallest coin once, and the total is the sum of the lines, so that they agree to the last digit.
 */
import { type Decimal, roundTo, ZERO } from '../../quantity/decimal';
import { addMoney, type Money, money, moreMoney, negateMoney, roundMoney } from '../../quantity/money';
import { element } from '../../vocabulary/elements';
import type { Bands, ChargeTerm, Cut } from '../workshop';
import type { Deal } from './deal';

/** A lot as the buyer sees it. */
export interface Consigned {
  /** What counts: after their melt, else as received. */
  readonly grams: Decimal;
  readonly receivedGrams: Decimal;
  /** Mass fraction by metal. */
  readonly shares: ReadonlyMap<string, Decimal>;
}

/** Money for so many grams of a metal, in the currency of the payout; none where it has no price. */
export type PriceFor = (metal: string) => (Money & { readonly perGrams: Decimal }) | undefined;

/** Turns a charge into the currency of the payout; none where no rate is written. */
export type Convert = (of: Money) => Money | undefined;

export interface MetalLine {
  readonly metal: string;
  readonly fineGrams: Decimal;
  /** Taken off first. */
  readonly lessGrams: Decimal;
  /** The share that its fineness is paid at. */
  readonly share: Decimal;
  readonly payableGrams: Decimal;
  /** The least that is kept, where that is more than the share keeps. */
  readonly keptGrams: Decimal | undefined;
  readonly price: Money & { readonly perGrams: Decimal };
  readonly value: Money;
  /** What one gram more of fine metal would bring, in money. */
  readonly perFineGram: number;
}

export interface ChargeLine {
  readonly word: string;
  readonly term: ChargeTerm;
  /** Above nought: it is taken off. */
  readonly cost: Money;
}

export interface Payout {
  readonly currency: string;
  readonly metals: readonly MetalLine[];
  readonly charges: readonly ChargeLine[];
  readonly credits: readonly Money[];
  readonly total: Money;
  /** Metals that the deal pays and that have no price: not in the total. */
  readonly unpriced: readonly string[];
  /** Charges in a currency without a rate: not in the total. */
  readonly unconverted: readonly string[];
  /** Metals that are there and that the deal does not pay. */
  readonly unpaid: readonly { readonly metal: string; readonly fineGrams: Decimal }[];
}

export interface Asked {
  readonly currency: string;
  readonly priceFor: PriceFor;
  readonly convert: Convert;
  readonly credits?: readonly Money[];
}

/** Throws a RangeError where a price or a credit is in another currency than the payout. */
export const payoutOf = (lot: Consigned, deal: Deal, { currency, priceFor, convert, credits = [] }: Asked): Payout => {
  const round = (of: Money): Money => roundMoney(of, deal.rounding);
  const metals: MetalLine[] = [];
  const unpriced: string[] = [];
  for (const [metal, bands] of deal.pays) {
    const fineness = lot.shares.get(metal);
    if (!fineness?.greaterThan(0)) continue;
    const price = priceFor(metal);
    if (price) metals.push(metalLine(lot, deal, metal, fineness, bands, price, round));
    else unpriced.push(metal);
  }
  const unconverted: string[] = [];
  const charges = [...deal.charges].flatMap(([word, term]): ChargeLine[] => {
    const cost = costOf(term, lot, metals, currency, convert);
    if (!cost) unconverted.push(word);
    return cost ? [{ word, term, cost: round(cost) }] : [];
  });
  const kept = credits.map(round);
  const lines = [...metals.map(({ value }) => value), ...charges.map(({ cost }) => negateMoney(cost)), ...kept];
  const unpaid = [...lot.shares].flatMap(([metal, share]) =>
    deal.pays.has(metal) || !isPrecious(metal) || !share.greaterThan(0)
      ? []
      : [{ metal, fineGrams: lot.grams.times(share) }],
  );
  return {
    currency,
    metals,
    charges,
    credits: kept,
    total: addMoney(money(0, currency), ...lines),
    unpriced,
    unconverted,
    unpaid,
  };
};

const PRECIOUS: ReadonlySet<string> = new Set(['Au', 'Ag', 'Pt', 'Pd']);
const isPrecious = (metal: string): boolean => PRECIOUS.has(metal);

/** Nothing is left out of the total for want of a price or a rate. */
export const isComplete = ({ unpriced, unconverted }: Payout): boolean =>
  unpriced.length === 0 && unconverted.length === 0;

/** The share of the highest band that the fineness reaches; nought below the lowest. */
export const shareAt = (bands: Bands, fineness: Decimal): Decimal =>
  bands.findLast(({ from }) => fineness.greaterThanOrEqualTo(from))?.share ?? ZERO;

const gramsOf = (cut: Cut | undefined, whole: Decimal): Decimal =>
  cut === undefined ? ZERO : (cut.grams ?? whole.times(cut.share!));

const least = (a: Decimal, b: Decimal): Decimal => (a.lessThan(b) ? a : b);
const notBelowNought = (of: Decimal): Decimal => (of.isNegative() ? ZERO : of);

const metalLine = (
  lot: Consigned,
  deal: Deal,
  metal: string,
  fineness: Decimal,
  bands: Bands,
  price: Money & { readonly perGrams: Decimal },
  round: (of: Money) => Money,
): MetalLine => {
  const whole = lot.grams.times(fineness);
  const fineGrams = deal.fineStepGrams ? roundTo(whole, deal.fineStepGrams, 'down') : whole;
  const lessGrams = least(fineGrams, gramsOf(deal.less.get(metal), fineGrams));
  const net = fineGrams.minus(lessGrams);
  const share = shareAt(bands, fineness);
  const keeps = gramsOf(deal.keeps.get(metal), lot.grams);
  const byShare = net.times(share);
  const byKeeping = notBelowNought(net.minus(keeps));
  const isKept = byKeeping.lessThan(byShare);
  const payableGrams = isKept ? byKeeping : byShare;
  const value = round({ amount: payableGrams.times(price.amount).div(price.perGrams), currency: price.currency });
  const perGram = price.amount.div(price.perGrams).toNumber();
  const lessShare = deal.less.get(metal)?.share?.toNumber() ?? 0;
  const paidShare = isKept ? 1 : share.toNumber();
  const perFineGram = payableGrams.isZero() ? 0 : perGram * (1 - lessShare) * paidShare;
  const keptGrams = isKept ? keeps : undefined;
  return { metal, fineGrams, lessGrams, share, payableGrams, keptGrams, price, value, perFineGram };
};

/** A charge for a mass without a basis is for what they received, a share without one is of the value. */
const costOf = (
  term: ChargeTerm,
  lot: Consigned,
  metals: readonly MetalLine[],
  currency: string,
  convert: Convert,
): Money | undefined => {
  const cost = plainCost(term, lot, metals, currency, convert);
  const lowest = term.least && convert({ amount: term.least.amount, currency: term.least.currency });
  return cost && lowest ? moreMoney(cost, lowest) : cost;
};

const plainCost = (
  { amount, currency: written, per, of }: ChargeTerm,
  lot: Consigned,
  metals: readonly MetalLine[],
  currency: string,
  convert: Convert,
): Money | undefined => {
  const named = element(of ?? '') ? of : undefined;
  const ofMetal = named ? metals.filter(({ metal }) => metal === named) : metals;
  if (written === undefined) {
    const values = ofMetal.map(({ value }) => value);
    const whole = addMoney(money(0, currency), ...values);
    return { amount: whole.amount.times(amount), currency };
  }
  if (!per) return convert({ amount, currency: written });
  const grams = of === 'melted' ? lot.grams : named ? fineIn(lot, named) : lot.receivedGrams;
  return convert({ amount: amount.times(grams).div(per.factor), currency: written });
};

const fineIn = ({ grams, shares }: Consigned, metal: string): Decimal => grams.times(shares.get(metal) ?? ZERO);
