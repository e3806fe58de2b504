/** Prices by day. A price is the last that was written by then; no currency is turned into another without a written rate. */
import { type Decimal, ONE } from '../../quantity/decimal';
import type { Money } from '../../quantity/money';
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
  /** Which of the day's, as of an exchange, a morning or an hour. */
  readonly fixing: string | undefined;
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
    fixing: entry.said.fixing?.name,
    entry,
  };
};

/** Without what was quoted on a day beside the fixing of that name, of all that was quoted by it. */
export const quotesBy = (quotes: readonly Quote[], date: string, fixing: string | undefined): readonly Quote[] => {
  const isIt = (one: Quote): boolean => one.date === date && one.fixing === fixing;
  const named = new Set(fixing === undefined ? [] : quotes.filter(isIt).map(({ of }) => of));
  return named.size === 0 ? quotes : quotes.filter((one) => one.date !== date || !named.has(one.of) || isIt(one));
};

/** A price rarely moves farther in a day or two (common practice, no source). */
export const FAR_PRICE = 0.03;

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
