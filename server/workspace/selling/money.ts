/** In what currency a party is reckoned with, and what a metal costs in it on a day. */
import type { DealWords } from '../../engine/selling/deal';
import type { Convert, PriceFor } from '../../engine/selling/payout';
import {
  inCurrency,
  isPriced,
  type NoPrice,
  type Price,
  priceOn,
  type Quote,
  rateOn,
} from '../../engine/selling/prices';
import type { Terms, Workshop } from '../../engine/workshop';
import type { Sales } from './sales';

/** The currency of their bottom line, of their prices, of the terms, of the shop, of the last quote; the first of these that there is. */
export const currencyOf = (
  words: DealWords | undefined,
  terms: Terms | undefined,
  { shop }: Workshop,
  { quotes }: Sales,
  date: string,
): string | undefined =>
  words?.total?.value.currency ??
  first(words?.prices.values())?.value.currency ??
  first(words?.charges.values(), ({ value }) => value.currency !== undefined)?.value.currency ??
  first(terms?.charges.values(), ({ currency }) => currency !== undefined)?.currency ??
  shop.currency ??
  lastMetal(quotes, date)?.currency;

/**
 * Of a settlement: that of its lines where its total is in another that neither a quote nor a rate speaks of. So a slip in the total leaves the lines
 * checked.
 */
export const settledCurrencyOf = (
  words: DealWords,
  terms: Terms | undefined,
  workshop: Workshop,
  sales: Sales,
  date: string,
): string | undefined => {
  const named = words.total?.value.currency;
  const ofLines = currencyOf({ ...words, total: undefined }, terms, workshop, sales, date);
  if (named === undefined || ofLines === undefined || named === ofLines) return named ?? ofLines;
  if (rateOn(sales.quotes, named, ofLines, date) || isQuotedIn(sales, named, date)) return named;
  return isQuotedIn(sales, ofLines, date) ? ofLines : named;
};

/** A metal is quoted in it, or in another that a rate turns into it. */
const isQuotedIn = ({ quotes }: Sales, currency: string, date: string): boolean =>
  quotes.some((one) => one.perGrams && one.date <= date && inCurrency(quotes, one, currency, date) !== undefined);

const first = <Value>(
  of: Iterable<Value> | undefined,
  test: (value: Value) => boolean = () => true,
): Value | undefined => [...(of ?? [])].find(test);

const lastMetal = (quotes: readonly Quote[], date: string): Quote | undefined =>
  quotes.findLast((one) => one.perGrams !== undefined && one.date <= date);

/** Prices of a day, each looked for once, with what was found. */
export interface Market {
  readonly currency: string;
  readonly date: string;
  readonly priceFor: PriceFor;
  readonly convert: Convert;
  readonly find: (metal: string) => Price | NoPrice;
}

export const marketOn = ({ quotes }: Pick<Sales, 'quotes'>, date: string, currency: string): Market => {
  const found = new Map<string, Price | NoPrice>();
  const find = (metal: string): Price | NoPrice => {
    const known = found.get(metal) ?? priceOn(quotes, metal, date, currency);
    found.set(metal, known);
    return known;
  };
  return {
    currency,
    date,
    find,
    priceFor: (metal) => {
      const price = find(metal);
      return isPriced(price) ? price : undefined;
    },
    convert: (of) => inCurrency(quotes, of, currency, date),
  };
};

/** The price that an offer names stands before that of the day. */
export const pricesBy =
  (market: Market, words: DealWords | undefined): PriceFor =>
  (metal) => {
    const named = words?.prices.get(metal)?.value;
    const money = named && market.convert(named);
    return money ? { ...money, perGrams: named!.perGrams } : market.priceFor(metal);
  };
