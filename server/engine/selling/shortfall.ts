/**
 * An offer held against the terms on file: what both pay for the same lot at the prices of the day, and which words of the offer make the difference.
 */
import { type Decimal, decimal, ZERO } from '../../quantity/decimal';
import { addMoney, type Money, minorUnit, money, negateMoney } from '../../quantity/money';
import type { Place } from '../../text/place';
import type { Terms } from '../workshop';
import { type Deal, type DealWords, dealOf } from './deal';
import {
  type Consigned,
  type Convert,
  isComplete,
  type MetalLine,
  type Payout,
  type PriceFor,
  payoutOf,
} from './payout';
import { FAR_PRICE } from './prices';

export interface OfferCase {
  readonly lot: Consigned;
  readonly words: DealWords;
  readonly terms: Terms;
  readonly currency: string;
  /** Of the day of the offer. */
  readonly priceFor: PriceFor;
  /** Its quote and its rate are of that very day. */
  readonly isOfDay: (metal: string) => boolean;
  readonly convert: Convert;
  /** Standard uncertainty of what the terms pay, in money: what weight and assay of the lot leave open. */
  readonly u: number;
}

/** One word of an offer, or a metal that it does not pay. */
export interface Shortfall {
  /** `price Au`, `charge assay`, `total`; of a metal that is not paid `pays Ag`. */
  readonly word: string;
  readonly isMissing: boolean;
  /** What it makes to the sum: the offer with this word put to the terms pays so much more. */
  readonly short: Money;
  readonly place: Place | undefined;
}

export interface Below {
  readonly offered: Money;
  readonly agreed: Money;
  readonly short: Money;
  /** The dearest first. What words do together is not parted, so they need not come to the sum. */
  readonly words: readonly Shortfall[];
}

type Prices = DealWords['prices'];

/** None where the offer is not below the terms by more than prices, weight and assay leave open, or where one of them cannot be reckoned. */
export const belowTerms = (of: OfferCase): Below | undefined => {
  const { words, terms } = of;
  const agreed = payBy(of, dealOf(undefined, terms)!, NONE);
  if (!isComplete(agreed) || agreed.metals.length === 0) return undefined;
  const deal = dealOf(words, terms)!;
  const lines = payBy(of, deal, words.prices);
  const isLump = words.total?.value.currency === of.currency && !isWrittenOut(words, lines);
  if (!isLump && !isComplete(lines)) return undefined;
  const offered = isLump ? words.total!.value : lines.total;
  const short = addMoney(agreed.total, negateMoney(offered));
  const allowed = isLump ? lumpAllowed(of, agreed) : pricesAllowed(of, lines);
  if (short.amount.lessThanOrEqualTo(allowed)) return undefined;
  const total = { word: 'total', isMissing: false, short, place: words.total?.detail.place };
  return { offered, agreed: agreed.total, short, words: isLump ? [total] : shortfallsOf(of, deal, lines) };
};

const NONE: Prices = new Map();

/** It names a price of each metal that it pays: its total can be held against its own lines. */
export const isWrittenOut = ({ pays, prices }: DealWords, { metals, unpriced }: Payout): boolean =>
  pays.size > 0 && unpriced.length === 0 && metals.every(({ metal }) => prices.has(metal));

const payBy = ({ lot, currency, priceFor, convert }: OfferCase, deal: Deal, named: Prices): Payout =>
  payoutOf(lot, deal, {
    currency,
    convert,
    priceFor: (metal) => {
      const written = named.get(metal)?.value;
      const price = written && convert(written);
      return price ? { ...price, perGrams: written!.perGrams } : priceFor(metal);
    },
  });

/** A sum rests on weights and assays of the buyer's own, and on a price of that day; where ours is of another, a market moves. */
const lumpAllowed = ({ u, isOfDay }: OfferCase, { metals }: Payout): Decimal =>
  metals.reduce(
    (so, { metal, value }) => (isOfDay(metal) ? so : so.plus(value.amount.times(decimal(FAR_PRICE)))),
    decimal(2 * u),
  );

const pricesAllowed = (of: OfferCase, { metals }: Payout): Decimal =>
  metals.reduce((so, line) => so.plus(priceAllowed(of, line)), ZERO);

/** A price that is named may be rounded to a coin; where ours is of another day, a market moves. */
const priceAllowed = (of: OfferCase, { metal, payableGrams, value }: MetalLine): Decimal => {
  const named = of.words.prices.get(metal)?.value;
  if (!named) return ZERO;
  if (!of.isOfDay(metal)) return value.amount.times(decimal(FAR_PRICE));
  const coin = of.convert(money(minorUnit(named.currency), named.currency))?.amount ?? ZERO;
  return coin.div(2).div(named.perGrams).times(payableGrams);
};

const shortfallsOf = (of: OfferCase, deal: Deal, lines: Payout): readonly Shortfall[] => {
  const { words, terms } = of;
  const coin = minorUnit(of.currency);
  const put = (
    word: string,
    name: string,
    to: { readonly deal?: Deal; readonly prices?: Prices },
    place: Place | undefined,
  ): readonly Shortfall[] => {
    const payout = payBy(of, to.deal ?? deal, to.prices ?? words.prices);
    const short = addMoney(payout.total, negateMoney(lines.total));
    return short.amount.lessThan(coin) ? [] : [{ word: `${word} ${name}`, isMissing: false, short, place }];
  };
  const said = words.pays.size > 0 ? [...new Set([...words.pays.keys(), ...terms.pays.keys()])] : [];
  const all = [
    ...said.flatMap((metal) => {
      const place = words.pays.get(metal)?.detail.place;
      const to = { deal: { ...deal, pays: withOne(deal.pays, metal, terms.pays.get(metal)) } };
      return put('pays', metal, to, place).map((one) => ({ ...one, isMissing: !words.pays.has(metal) }));
    }),
    ...(['less', 'keeps', 'charges'] as const).flatMap((kind) =>
      [...words[kind]].flatMap(([name, { detail }]) => {
        const to = { deal: { ...deal, [kind]: withOne(deal[kind] as Named, name, (terms[kind] as Named).get(name)) } };
        return put(kind === 'charges' ? 'charge' : kind, name, to, detail.place);
      }),
    ),
    ...[...words.prices].flatMap(([metal, { detail }]) =>
      put('price', metal, { prices: withOne(words.prices, metal, undefined) }, detail.place).filter(({ short }) => {
        const line = lines.metals.find((one) => one.metal === metal);
        return line && short.amount.greaterThan(priceAllowed(of, line));
      }),
    ),
  ];
  return all.sort((a, b) => b.short.amount.comparedTo(a.short.amount));
};

type Named = ReadonlyMap<string, unknown>;

const withOne = <Value>(
  of: ReadonlyMap<string, Value>,
  name: string,
  value: Value | undefined,
): ReadonlyMap<string, Value> => {
  const all = new Map(of);
  if (value === undefined) all.delete(name);
  else all.set(name, value);
  return all;
};
