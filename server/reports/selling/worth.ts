/** What a lot would bring, in words: a label for the end of a line, and the whole sum. */

import { spread } from '../../engine/accounts/inexact';
import { isPriced } from '../../engine/selling/prices';
import { showMoney } from '../../quantity/money';
import { showQuantity } from '../../quantity/show';
import { asDecimal } from '../../workspace/selling/known';
import type { Offer, Worth } from '../../workspace/selling/offers';
import type { Sold } from '../../workspace/selling/sold';
import { fitting } from '../figures';
import { shareWords } from '../fine';
import { aboutMoney, shareOfValue, spreadMoney } from './money';
import { inColumns, sumRows } from './sum';
import { priceWords } from './terms';
import { dayWords, passedSays } from './words';

const moneyOf = ({ total, market, guessed }: Worth): string => spreadMoney(total, market.currency, guessed);

/** Nothing can be said of a payout that leaves out a metal for want of a price. */
export const isWhole = ({ payout, lump }: Worth): boolean => lump !== undefined || isReckoned(payout);

const isReckoned = (payout: Worth['payout']): boolean =>
  payout.metals.length > 0 && payout.unpriced.length === 0 && payout.unconverted.length === 0;

const ofValue = ({ share }: Worth): string | undefined =>
  share === undefined ? undefined : `${shareOfValue(share)} of the metal`;

/** `10023 USD ±8, 97.7 % of the metal` */
export const offerLabel = ({ worth }: Offer): string | undefined => {
  if (!isWhole(worth)) return undefined;
  const whole = moneyOf(worth);
  const plain = aboutMoney(worth.total, worth.market.currency, worth.guessed);
  const share = ofValue(worth);
  const how = worth.by === 'common practice' ? 'by common practice' : share;
  return fitting(...(how ? [`${whole}, ${how}`, `${plain}, ${how}`] : []), whole);
};

/** `worth 10023 USD ±8 by the terms` */
export const shipmentLabel = (worth: Worth): string | undefined => {
  if (!isWhole(worth)) return undefined;
  const by = worth.by === 'terms' ? ' by the terms' : ' by common practice';
  const plain = aboutMoney(worth.total, worth.market.currency, worth.guessed);
  return fitting(`worth ${moneyOf(worth)}${by}`, `worth ${plain}${by}`, `worth ${moneyOf(worth)}`);
};

/** `93.4 % of the metal, worth 1043 USD` */
export const soldLabel = ({ share, full, paid }: Sold): string | undefined =>
  share === undefined || !full
    ? undefined
    : fitting(
        `${shareOfValue(share)} of the metal, worth ${aboutMoney(full, paid.currency)}`,
        `${shareOfValue(share)} of the metal`,
      );

/** `Paid 300.00 USD: 93.3 % of the metal, worth 321.5 USD ±0.2 at its full price.` */
export const soldSays = ({ share, full, paid }: Sold): readonly string[] =>
  share === undefined || !full
    ? []
    : [
        `Paid ${showMoney(paid)}: ${shareOfValue(share)} of the metal, worth ${spreadMoney(full, paid.currency)} at its full price.`,
      ];

const BY: Readonly<Record<Worth['by'], string>> = {
  offer: 'By the offer',
  terms: 'By the terms on file',
  'common practice': 'No terms are known; buyers commonly pay 90 to 95 % of the gold (common practice, no source)',
};

/** The sum, step by step, of a worth; none of an offer that names a sum for the whole and no share. */
export const worthSum = ({ payout, grams, shares, words, lump }: Worth): readonly string[] => {
  if (lump && !words?.pays.size) return [];
  return inColumns(
    sumRows(payout, {
      grams: grams.value,
      shares: new Map([...shares].map(([metal, { share }]) => [metal, asDecimal(share.value)])),
    }),
  );
};

/** What it rests on, as sentences. */
export const worthSays = (worth: Worth): readonly string[] => {
  const { lots, grams, shares, market, payout, by, terms, share, guessed, lump } = worth;
  const names = lots.map(({ lot }) => lot).join(', ');
  const known = [...shares].map(
    ([metal, one]) =>
      `${metal} ${shareWords(one.share, one.ground)} ±${(200 * spread(one.share)).toFixed(2)}, ${one.ground}`,
  );
  const reckoned = lump && !worth.words?.pays.size ? [] : payout.metals;
  const prices = reckoned.flatMap(({ metal }) => {
    const price = worth.words?.prices.has(metal) ? undefined : market.find(metal);
    if (!price || !isPriced(price)) return [];
    const age = price.ageDays > 0 ? `, ${dayWords(price.ageDays)} old` : '';
    const rate = price.rate
      ? `, with ${price.rate.of} at ${price.rate.amount} ${price.rate.currency} of ${price.rate.date}`
      : '';
    return [`${metal} ${priceWords({ ...price.quote, perGrams: price.perGrams })} of ${price.quote.date}${age}${rate}`];
  });
  return [
    `${names}: ${showQuantity(grams, 'g')}; ${known.join('; ')}.`,
    ...(prices.length > 0 ? [`Prices: ${prices.join('; ')}.`] : []),
    `${BY[by]}${by === 'terms' && terms ? `, from ${terms.from}` : ''}: ${moneyOf(worth)}${
      share === undefined ? '' : `, ${shareOfValue(share)} of gold and silver at their full price`
    }.`,
    ...reckoned.flatMap(({ metal }) => {
      const price = worth.words?.prices.has(metal) ? undefined : market.find(metal);
      return price && isPriced(price) && price.passed ? [passedSays(price.passed)] : [];
    }),
    ...(lump ? ['It is the sum that the offer names for the whole.'] : []),
    ...(payout.unpriced.length > 0 && !lump
      ? [`Not counted, for want of a price: ${payout.unpriced.join(', ')}.`]
      : []),
    ...(payout.unconverted.length > 0 && !lump
      ? [`Not counted, for want of a rate: ${payout.unconverted.join(', ')}.`]
      : []),
    ...(guessed ? ['It rests on a guess: an assay would make it sure.'] : []),
  ];
};
