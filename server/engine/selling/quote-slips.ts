/** Quotes that cannot be right beside those before and after them: by the wrong unit, or a slip of the pen. */
import type { Decimal } from '../../quantity/decimal';
import { unit as unitRow } from '../../quantity/units';
import { dayNumber } from '../../text/calendar';
import { FAR_PRICE, type Quote } from './prices';

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
  const known = slipsOf.get(quotes) ?? slipsIn(quotes);
  slipsOf.set(quotes, known);
  return known;
};

/** Every quote is asked about, of the same list. */
const slipsOf = new WeakMap<readonly Quote[], ReadonlyMap<Quote, UnitSlip>>();

const slipsIn = (quotes: readonly Quote[]): ReadonlyMap<Quote, UnitSlip> => {
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

const gramPrice = ({ amount, perGrams }: Pick<Quote, 'amount' | 'perGrams'>): number =>
  amount.div(perGrams!).toNumber();

/** How many times the one is the other, 1 or more. */
const apart = (a: number, b: number): number => Math.max(a / b, b / a);

/** Gold rarely moves so far in a week and back; other metals move twice as far (common practice, no source). */
const farOf = (metal: string): number => (metal === 'Au' ? FAR_PRICE : 2 * FAR_PRICE);

/** A price between two that agree with each other, and far from both. */
export interface Outlier {
  readonly before: Quote;
  readonly after: Quote;
  /** How far from the nearer, as a share of it; below nought it is lower. */
  readonly off: number;
  /** Whether another figure in its place, in the same money and unit, would agree with both. */
  readonly agrees: (amount: Decimal) => boolean;
}

/** Each at most so many days from the quotes of its metal in its money before and after it. Where no later one is written the market may have moved. */
export const outliers = (quotes: readonly Quote[], withinDays: number): ReadonlyMap<Quote, Outlier> => {
  const known = outliersOf.get(quotes);
  if (known?.withinDays === withinDays) return known.found;
  const found = outliersIn(quotes, withinDays);
  outliersOf.set(quotes, { withinDays, found });
  return found;
};

const outliersOf = new WeakMap<readonly Quote[], { withinDays: number; found: ReadonlyMap<Quote, Outlier> }>();

const outliersIn = (quotes: readonly Quote[], withinDays: number): ReadonlyMap<Quote, Outlier> => {
  const found = new Map<Quote, Outlier>();
  const bySort = new Map<string, Quote[]>();
  for (const quote of quotes) {
    if (!quote.perGrams) continue;
    const key = `${quote.of} ${quote.currency}`;
    const so = bySort.get(key);
    if (so) so.push(quote);
    else bySort.set(key, [quote]);
  }
  for (const alike of bySort.values()) {
    alike.forEach((quote, at) => {
      const [before, after] = [alike[at - 1], alike[at + 1]];
      if (!before || !after || days(before, quote) > withinDays || days(quote, after) > withinDays) return;
      const far = 1 + farOf(quote.of);
      const price = gramPrice(quote);
      const offBy = [before, after].map((one) => price / gramPrice(one));
      const isApart = apart(gramPrice(before), gramPrice(after)) < far && offBy.every((times) => apart(times, 1) > far);
      if (!isApart || offBy[0]! > 1 !== offBy[1]! > 1) return;
      const nearest = offBy.reduce((so, times) => (apart(times, 1) < apart(so, 1) ? times : so));
      const agrees = (amount: Decimal): boolean =>
        [before, after].every((one) => apart(gramPrice({ ...quote, amount }), gramPrice(one)) < far);
      found.set(quote, { before, after, off: nearest - 1, agrees });
    });
  }
  return found;
};

const days = (from: Quote, to: Quote): number => dayNumber(to.date) - dayNumber(from.date);
