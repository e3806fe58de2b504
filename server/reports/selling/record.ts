/** A party's record in words. */
import { type Dealing, isBiased, type Mean } from '../../engine/selling/record';
import { decimal } from '../../quantity/decimal';
import { minorDigits } from '../../quantity/money';
import { showPlaces } from '../../quantity/show';
import type { RecordInCurrency } from '../../workspace/selling/records';
import { listWords } from '../words';
import { shareOfValue } from './money';
import { dayWords } from './words';

export const RECORD_HEADS = [
  'sale',
  'date',
  'weight ours − theirs',
  'Au ours − theirs',
  'days',
  'comes to',
  'of the metal',
  'paid on',
  'still owed',
] as const;

const signed = (value: number, places: number, unit: string): string =>
  `${value > 0 ? '+' : ''}${showPlaces(decimal(value), places)} ${unit}`;

export const dealingCells = (one: Dealing, currency: string): readonly string[] => {
  const coins = (value: number): string => `${showPlaces(decimal(value), minorDigits(currency))} ${currency}`;
  return [
    one.name,
    one.date,
    one.weightGrams === undefined ? '–' : signed(one.weightGrams, 2, 'g'),
    one.goldShare === undefined ? '–' : signed(100 * one.goldShare, 2, '%'),
    one.days === undefined
      ? '–'
      : `${one.days}${one.agreedDays !== undefined && one.days > one.agreedDays ? ' late' : ''}`,
    coins(one.paid),
    one.full ? shareOfValue(one.paid / one.full) : '–',
    one.paidOn ?? 'not yet',
    one.owed === undefined || one.owed === 0 ? '' : coins(one.owed),
  ];
};

/** What the sales say together; small numbers are said to be small. */
export const recordSays = ({ record, currency, party }: RecordInCurrency): readonly string[] => {
  const { dealings, weightGrams, goldShare, days, late, share, owed, awaited } = record;
  const coins = (value: number): string => `${showPlaces(decimal(value), minorDigits(currency))} ${currency}`;
  return [
    ...(share === undefined
      ? []
      : [
          `${party} pays ${shareOfValue(share)} of what our own gold and silver were worth, all charges and losses in.`,
        ]),
    ...(weightGrams ? [meanSays('Our weight', 'than theirs', weightGrams, 1, 2, 'g')] : []),
    ...(goldShare ? [meanSays('Our gold', 'than theirs', goldShare, 100, 2, '%')] : []),
    ...(days === undefined
      ? []
      : [
          `Settled and paid in ${dayWords(days)} in the middle${late > 0 ? `, late ${late} ${late === 1 ? 'time' : 'times'}` : ''}.`,
        ]),
    ...(awaited.names.length > 0
      ? [
          `${coins(awaited.money)} of ${listWords(awaited.names)} is settled, and no payment is written: write \`paid DATE\` when it comes.`,
        ]
      : []),
    ...(owed !== 0
      ? [
          `By the journal ${coins(Math.abs(owed))} ${owed > 0 ? 'is still owed to you' : 'was paid too much'}: ${openSince(dealings)}.`,
        ]
      : []),
    ...(dealings.length < FEW
      ? [`${dealings.length === 1 ? 'One sale is' : `${dealings.length} sales are`} few: read nothing fine into them.`]
      : []),
  ];
};

/** `S4 since 2026-09-24` */
const openSince = (dealings: readonly Dealing[]): string =>
  listWords(dealings.flatMap(({ name, date, owed }) => (owed ? [`${name} since ${date}`] : [])));

/** From so many on a mean says something fine. */
const FEW = 8;

const meanSays = (what: string, against: string, of: Mean, factor: number, places: number, unit: string): string => {
  const value = factor * of.value;
  const spread = of.u === undefined ? '' : ` ±${showPlaces(decimal(2 * factor * of.u), places)}`;
  const size = `${showPlaces(decimal(Math.abs(value)), places)} ${unit}${spread}`;
  const more = value < 0 ? 'less' : 'more';
  const verdict = isBiased(of) ? 'more than chance makes' : of.count < 2 ? 'of one sale' : 'no more than chance makes';
  return `${what} is ${size} ${more} ${against} in the mean of ${of.count}: ${verdict}.`;
};
