/** The lines of a metal account in words, the same on the command line and in documents. */
import { type Inexact, spread } from '../engine/accounts/inexact';
import { type AccountLine, COMES_IN, type Movement, type PeriodAccount } from '../engine/accounts/period';
import { decimal } from '../quantity/decimal';
import { showDigits } from '../quantity/show';

export const MOVEMENT_WORDS: Readonly<Record<Movement, string>> = {
  received: 'came in',
  returned: 'came back',
  added: 'added from the shelf',
  shipped: 'shipped',
  sold: 'sold',
  discarded: 'thrown away',
  assayed: 'used up in assays',
  missing: 'missing at a count',
};

export const inFirst = (lines: readonly AccountLine[]): readonly AccountLine[] => [
  ...lines.filter(({ movement }) => COMES_IN.has(movement)),
  ...lines.filter(({ movement }) => !COMES_IN.has(movement)),
];

export const sizeOf = (of: Inexact): Inexact => ({ ...of, value: Math.abs(of.value) });

export const lineWords = ({ guessedGrams, count, unknown }: AccountLine): string =>
  [
    `${count} ${count === 1 ? 'entry' : 'entries'}`,
    guessedGrams > 0.005 ? `${showDigits(decimal(guessedGrams), 2)} g of it guessed` : '',
    unknownWords(unknown, 'of them'),
  ]
    .filter((words) => words !== '')
    .join(', ');

export const unknownWords = (unknown: number, what: string): string =>
  unknown === 0
    ? ''
    : what === 'lot'
      ? `not known of ${unknown} ${unknown === 1 ? 'lot' : 'lots'}`
      : `not known of ${unknown}`;

/** Twice the standard uncertainty is the limit within which an account closes. */
export const limitWords = ({ unaccounted }: PeriodAccount): string =>
  Math.abs(unaccounted.value) <= 2 * spread(unaccounted)
    ? 'weighing and assays explain it'
    : 'beyond weighing and assays; usual losses are in it';
