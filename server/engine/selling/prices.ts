/** Prices by day. A price is the last that was written by then; no currency is turned into another without a written rate. */
import { type Decimal, ONE } from '../../quantity/decimal';
import type { Money } from '../../quantity/money';
import { unit as unitRow } from '../../quantity/units';
import { dayNumber } from '../../text/calendar';
import { element } from '../../vocabulary/elements';
import type { Entry } from '../entry';

/** One `quote`: a metal in money for a mass, or one currency in another. */
export interface Quote extends Money {
  /** A metal's symbol, or a currency's code. */
  readonly of: string;
  /** Grams of the unit that it is for; none of a currency. */
  readonly perGrams: Decimal | undefined;
  readonly date: string;
  readonly entry: Entry;
}

/** The quote of an entry; none where it lacks its price, its unit, or its day. */
export const quoteOf = (entry: Entry): Quote | undefined => {
  const { name, money, date } = entry;
  if (!name || !money || date === undefined) return undefined;
  const isMetal = element(name.name) !== undefined;
  if (isMetal !== (money.per?.kind === 'mass') || !money.digits.value.greaterThan(0)) return undefined;
  return {
    of: name.name,
    amount: money.digits.value,
    currency: money.currency,
    perGrams: money.per?.factor,
    date,
    entry,
  };
};

/** A quote whose unit cannot be right beside another: with `unit` in its place both would agree. */
export interface UnitSlip {
  readonly beside: Quote;
  readonly unit: string;
}

/** Units that metal is quoted by. */
const QUOTED_BY = ['g', 'kg', 'ozt'] as const;
/** No metal becomes so much dearer or cheaper from one quote to the next. */
const TOO_FAR = 5;
/** With the right unit they are at least so near. */
const NEAR = 1.3;

/**
 * Quotes of metals that are far from the one before them in the same currency, and near to it by another unit. Where the next one is far from that
 * one too, and near to this, the price has moved after all, or the first was the wrong one: it is told once.
 */
export const unitSlips = (quotes: readonly Quote[]): ReadonlyMap<Quote, UnitSlip> => {
  const slips = new Map<Quote, UnitSlip>();
  const standing = new Map<string, { last: Quote; doubted: Quote | undefined }>();
  for (const quote of quotes) {
    if (!quote.perGrams) continue;
    const key = `${quote.of} ${quote.currency}`;
    const so = standing.get(key);
    const unit = so && unitMeant(quote, so.last);
    if (!so || !unit) standing.set(key, { last: quote, doubted: undefined });
    else if (so.doubted && apart(gramPrice(quote), gramPrice(so.doubted)) < NEAR)
      standing.set(key, { last: quote, doubted: undefined });
    else {
      slips.set(quote, { beside: so.last, unit });
      so.doubted = quote;
    }
  }
  return slips;
};

const unitMeant = (quote: Quote, beside: Quote): string | undefined => {
  const right = gramPrice(beside);
  if (apart(gramPrice(quote), right) < TOO_FAR) return undefined;
  return QUOTED_BY.find((symbol) => apart(quote.amount.div(unitRow(symbol)!.factor).toNumber(), right) < NEAR);
};

const gramPrice = ({ amount, perGrams }: Quote): number => amount.div(perGrams!).toNumber();

/** How many times the one is the other, 1 or more. */
const apart = (a: number, b: number): number => Math.max(a / b, b / a);

/** A metal's price on a day: `amount` for `perGrams` grams in the currency that was asked for. */
export interface Price extends Money {
  readonly metal: string;
  readonly perGrams: Decimal;
  readonly quote: Quote;
  /** The rate that turned it into the currency that was asked for. */
  readonly rate: Quote | undefined;
  /** Whole days between the day asked for and the older of quote and rate. */
  readonly ageDays: number;
  /** The same of the quote alone. */
  readonly quoteAgeDays: number;
  /** A later quote, in another currency, for which no rate is written. */
  readonly passed: Quote | undefined;
}

export interface NoPrice {
  readonly metal: string;
  /** No quote by that day; or one in another currency, and no rate. */
  readonly missing: 'price' | 'rate';
  /** The currency that it is quoted in. */
  readonly quotedIn?: string;
}

export const isPriced = (of: Price | NoPrice): of is Price => !('missing' in of);

/**
 * The price of a metal on a day. `quotes` are in order. The latest quote that can be used counts: one in the currency asked for, or one for which a rate
 * is written; of two of a day that in the currency asked for.
 */
export const priceOn = (quotes: readonly Quote[], metal: string, date: string, currency?: string): Price | NoPrice => {
  const last = new Map<string, Quote>();
  for (const quote of quotes) {
    if (quote.of !== metal || quote.date > date) continue;
    // Of two of a day the later is the newer.
    last.delete(quote.currency);
    last.set(quote.currency, quote);
  }
  const newestFirst = [...last.values()].reverse();
  const [newest] = newestFirst;
  if (!newest) return { metal, missing: 'price' };
  const wanted = currency ?? newest.currency;
  const own = last.get(wanted);
  let passed: Quote | undefined;
  for (const quote of newestFirst) {
    if (own && own.date >= quote.date) return priceOf(own, metal, own, undefined, { date, passed });
    const rate = rateOn(quotes, quote.currency, wanted, date);
    const inWanted = rate && { ...quote, amount: quote.amount.times(rate.factor), currency: wanted };
    if (inWanted) return priceOf(inWanted, metal, quote, rate.quote, { date, passed });
    passed ??= quote;
  }
  return { metal, missing: 'rate', quotedIn: newest.currency };
};

/** Every price of a metal that was written on a day, in the order of the quotes. */
export const pricesWithin = (
  quotes: readonly Quote[],
  metal: string,
  date: string,
  currency: string,
): readonly Price[] =>
  quotes.flatMap((quote, at) => {
    if (quote.of !== metal || quote.date !== date) return [];
    const price = priceOn(quotes.slice(0, at + 1), metal, date, currency);
    return isPriced(price) && price.quote === quote ? [price] : [];
  });

const priceOf = (
  money: Quote,
  metal: string,
  quote: Quote,
  rate: Quote | undefined,
  { date, passed }: { readonly date: string; readonly passed: Quote | undefined },
): Price => ({
  metal,
  amount: money.amount,
  currency: money.currency,
  perGrams: quote.perGrams!,
  quote,
  rate,
  ageDays: Math.max(...[quote, ...(rate ? [rate] : [])].map((one) => dayNumber(date) - dayNumber(one.date))),
  quoteAgeDays: dayNumber(date) - dayNumber(quote.date),
  passed: passed && passed.date > quote.date ? passed : undefined,
});

/** What one unit of a currency is worth in another on a day, by the last written rate either way round; none without one. */
export const rateOn = (
  quotes: readonly Quote[],
  from: string,
  to: string,
  date: string,
): { readonly factor: Decimal; readonly quote: Quote } | undefined => {
  const quote = quotes.findLast(
    (one) => one.date <= date && ((one.of === from && one.currency === to) || (one.of === to && one.currency === from)),
  );
  if (!quote) return undefined;
  return { quote, factor: quote.of === from ? quote.amount : ONE.div(quote.amount) };
};

/** Money in another currency on a day; none without a written rate. Nothing is rounded. */
export const inCurrency = (quotes: readonly Quote[], of: Money, currency: string, date: string): Money | undefined => {
  if (of.currency === currency) return of;
  const rate = rateOn(quotes, of.currency, currency, date);
  return rate && { amount: of.amount.times(rate.factor), currency };
};
