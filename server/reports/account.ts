/** The lines of a metal account in words, the same on the command line and in documents. */
import { type Inexact, spread } from '../engine/accounts/inexact';
import { COMES_IN, type Movement } from '../engine/accounts/moves';
import type { AccountLine, PeriodAccount, StepLoss } from '../engine/accounts/period';
import { decimal } from '../quantity/decimal';
import { showDigits } from '../quantity/show';
import { LEAST_SHOWN_GRAMS } from './fine';

export const MOVEMENT_WORDS: Readonly<Record<Movement, string>> = {
  received: 'came in',
  returned: 'came back',
  found: 'found at a count',
  added: 'added from the shelf',
  shipped: 'shipped',
  sold: 'sold',
  discarded: 'thrown away',
  lost: 'seen to be lost',
  assayed: 'used up in assays',
  missing: 'missing at a count',
};

export const inFirst = (lines: readonly AccountLine[]): readonly AccountLine[] => [
  ...lines.filter(({ movement }) => COMES_IN.has(movement)),
  ...lines.filter(({ movement }) => !COMES_IN.has(movement)),
];

export const sizeOf = (of: Inexact): Inexact => ({ ...of, value: Math.abs(of.value) });

export const lineWords = ({ guessedGrams, grams, count, unknown }: AccountLine): string =>
  [
    `${count} ${count === 1 ? 'entry' : 'entries'}`,
    guessedGrams > 0.005 ? guessedWords(guessedGrams, grams) : '',
    unknownWords(unknown, 'of them'),
  ]
    .filter((words) => words !== '')
    .join(', ');

/** `22 g of it guessed`, `all guessed`. */
const guessedWords = (guessed: number, all: Inexact): string =>
  guessed > 0.995 * all.value ? 'all guessed' : `${showDigits(decimal(guessed), 2)} g of it guessed`;

export const unknownWords = (unknown: number, what: string): string =>
  unknown === 0
    ? ''
    : what === 'lot'
      ? `not known of ${unknown} ${unknown === 1 ? 'lot' : 'lots'}`
      : `not known of ${unknown}`;

/** Twice the standard uncertainty is the limit within which an account closes; beyond it nothing is said of metal that may be where nobody knows of it. */
export const limitWords = (of: PeriodAccount): string => {
  const { unaccounted } = of;
  if (Math.abs(unaccounted.value) <= 2 * spread(unaccounted)) return 'weighing and assays explain it';
  if (isInPart(of)) return 'may be in what is not known';
  return 'beyond weighing and assays; usual losses are in it';
};

/** What is left over may be where nobody knows of it: it is no loss that anybody has shown. */
export const isInPart = ({ unknownOpening, unknownClosing, lines, untold }: PeriodAccount): boolean =>
  unknownOpening > 0 || unknownClosing > 0 || untold.length > 0 || lines.some(({ unknown }) => unknown > 0);

export interface LossLine extends Pick<StepLoss, 'count' | 'grams'> {
  /** The verb of the steps; none of what changed between two of them. */
  readonly verb: string | undefined;
  /** Went in, and it is not known where it came out. */
  readonly isUntold: boolean;
}

export const BETWEEN = 'between two weighings';

/** Without what is known to be no more than a trace: of the metal of cement silver, say, the gold. */
export const lossLines = ({ steps, untold, changed }: PeriodAccount): readonly LossLine[] =>
  [
    ...steps.map((one) => ({ ...one, isUntold: false })),
    ...untold.map((one) => ({ ...one, isUntold: true })),
    ...(changed.count > 0 ? [{ ...changed, verb: undefined, isUntold: false }] : []),
  ].filter(({ grams }) => Math.abs(grams.value) + 2 * spread(grams) >= LEAST_SHOWN_GRAMS);
