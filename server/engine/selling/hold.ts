/** Keep a lot, and sell it later as it is. No price is foretold: the expected price is that of today, and its error is how it has moved. */
import { decimal } from '../../quantity/decimal';
import { showDigits } from '../../quantity/show';
import { assume } from '../bench/result';
import type { Quote } from './prices';
import { PRICE, type Route } from './route';

/** Whole days; a month (common practice, no source). */
export const HOLD_DAYS = 30;

/** From fewer changes nothing is read. */
const FEWEST = 5;

/**
 * Standard deviation of a price's relative change over so many days, from the changes between the quotes of a journal, each divided by the root
 * of its days: changes that do not hang on each other add up by their squares. None of fewer than five changes.
 */
export const moveOf = (
  quotes: readonly Quote[],
  of: { readonly metal: string; readonly currency: string; readonly until: string },
  days: number,
  daysBetween: (from: string, to: string) => number,
): number | undefined => {
  const own = quotes.filter(
    ({ of: metal, currency, date }) => metal === of.metal && currency === of.currency && date <= of.until,
  );
  const changes = own.slice(1).flatMap((quote, at) => {
    const before = own[at]!;
    const apart = daysBetween(before.date, quote.date);
    if (apart <= 0 || !quote.perGrams || !before.perGrams) return [];
    const [now, then] = [quote, before].map(({ amount, perGrams }) => amount.div(perGrams!).toNumber());
    return [Math.log(now! / then!) ** 2 / apart];
  });
  if (changes.length < FEWEST) return undefined;
  return Math.sqrt((changes.reduce((sum, one) => sum + one, 0) / changes.length) * days);
};

/** From the best way as it is; `move` is the standard deviation of the price in so many days. */
export const holdRoute = (direct: Route, move: number | undefined): Route => ({
  ...direct,
  key: 'hold',
  factors: [...direct.factors, { name: PRICE, best: 1, u: move ?? 0, shape: 'normal' }],
  days: direct.days + HOLD_DAYS,
  assumed: [
    ...direct.assumed,
    assume(
      `to hold is to sell it as it is ${HOLD_DAYS} days later, at the prices of today: none is foretold. ${
        move === undefined
          ? 'How far they may move is not counted, for fewer than six quotes of gold are written'
          : `By its quotes here gold moves by ${showDigits(decimal(100 * move), 2)} % in as many days, one standard deviation`
      }`,
      'derived',
    ),
  ],
});
