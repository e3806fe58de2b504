/** Money that is reckoned and not paid, cut to what its error leaves. */
import { type Inexact, isGuess, spread } from '../../engine/accounts/inexact';
import { decimal } from '../../quantity/decimal';
import { type Money, minorDigits, showMoney } from '../../quantity/money';
import { placesFor, showPlaces } from '../../quantity/show';

/** `8912 USD`: of a figure that is not known to the coin, no coins. */
export const aboutMoney = (of: Inexact, currency: string, guessed = false): string =>
  `${guessed || isGuess(of) ? '~' : ''}${amountOf(of, currency)} ${currency}`;

/** `8912 USD ±30` */
export const spreadMoney = (of: Inexact, currency: string, guessed = false): string => {
  const u = 2 * spread(of);
  const words = aboutMoney(of, currency, guessed);
  return u > 0 ? `${words} ±${showPlaces(decimal(u), placesOf(of, currency))}` : words;
};

const amountOf = (of: Inexact, currency: string): string => showPlaces(decimal(of.value), placesOf(of, currency));

/** No finer than a coin, no coarser than its error. */
const placesOf = (of: Inexact, currency: string): number => {
  const u = 2 * spread(of);
  if (!(u > 0)) return minorDigits(currency);
  const places = u >= 1 ? -Math.floor(Math.log10(u / 1.95) + 1e-12) : placesFor(u);
  return Math.min(minorDigits(currency), places);
};

/** `It costs you 12.30 USD.`, `It is 12.30 USD in your favour.`: what a line makes to the sum, seen from the shop. */
export const costsYou = (owed: Money): string =>
  owed.amount.isZero()
    ? 'It makes nothing to the sum.'
    : owed.amount.isNegative()
      ? `It is ${showMoney({ ...owed, amount: owed.amount.negated() })} in your favour.`
      : `It costs you ${showMoney(owed)}.`;

/** `93.1 %` of a share 0 to 1. */
export const shareOfValue = (share: number): string => `${(100 * share).toFixed(1)} %`;
