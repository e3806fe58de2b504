/** Fine metal in words: how much, how surely, and by what. */

import { type Inexact, isGuess, spread } from '../engine/accounts/inexact';
import type { MetalGround } from '../engine/accounts/known';
import { type Fine, isGuessed } from '../engine/accounts/stock';
import type { Entry } from '../engine/entry';
import { decimal } from '../quantity/decimal';
import type { Measured } from '../quantity/measured';
import { showDigits, showPercent, showPercentSpread, showQuantity } from '../quantity/show';
import { stepWords } from './words';

/** For the functions that show a measured value; `guessed` where it is one by more than its own parts. */
export const asMeasured = (of: Inexact, guessed = false): Measured => ({
  value: decimal(of.value),
  errors: of.sources.map((source, at) => ({ source, size: of.sizes[at]! })),
  guessed: guessed || isGuess(of),
});

/** Below this a metal is a trace that no one sells or owes: not shown in lists. */
export const LEAST_SHOWN_GRAMS = 0.0005;
/** Nor is what may be nothing at all, and is no more than this. */
const LEAST_DOUBTFUL_GRAMS = 0.02;

/** Of a sum: no more than the rounding of it, or than what may be nothing at all and would be a trace if it were something. */
export const isNothing = (of: Inexact): boolean => {
  const [size, reach] = [Math.abs(of.value), 2 * spread(of)];
  return size + reach < 2e-6 || (size <= reach && size + reach < LEAST_SHOWN_GRAMS);
};

export const isShown = ({ grams, highGrams }: Fine): boolean => {
  if (!grams) return highGrams >= LEAST_SHOWN_GRAMS;
  const reach = 2 * spread(grams);
  return grams.value + reach >= (grams.value <= reach ? LEAST_DOUBTFUL_GRAMS : LEAST_SHOWN_GRAMS);
};

/** Gold and silver; where they are not told apart, both together. */
export const preciousIn = (fine: readonly Fine[]): readonly Fine[] => {
  const shown = fine.filter(isShown);
  const apart = shown.filter(({ metal }) => metal === 'Au' || metal === 'Ag');
  return apart.length > 0 ? apart : shown.filter(({ metal }) => metal === 'Au+Ag');
};

/** `44.96 g ±0.42`; `none to speak of` for what is known not to be worth a figure, `–` where nothing is known. */
export const fineCell = (fine: Fine | undefined): string => {
  if (!fine) return '–';
  return isShown(fine) ? fineWords(fine) : 'none to speak of';
};

/** `44.96 g ±0.42`, `~2.4 g ±2.7`, `up to 12 g`. */
export const fineWords = (fine: Fine): string => {
  const { grams, lowGrams, highGrams } = fine;
  if (grams) return showQuantity(asMeasured(grams, isGuessed(fine)), 'g');
  const high = `${showDigits(decimal(highGrams), 2)} g`;
  return lowGrams > 0 ? `${showDigits(decimal(lowGrams), 2)}..${high}` : `up to ${high}`;
};

/** `91.34 %`, `~56 %`. */
export const shareWords = (share: Inexact, ground: MetalGround): string =>
  `${ground === 'guessed' ? '~' : ''}${showPercent(share.value, spread(share), placesOf(share))}`;

/** `0.06`: the ± of such a share. */
export const shareSpread = (share: Inexact): string => showPercentSpread(spread(share), placesOf(share));

/** Of bullion a third place of per cent means nothing; an ore has its whole figure there. */
const placesOf = ({ value }: Inexact): number => (Math.abs(value) < 0.005 ? 4 : 2);

/** `assayed`, `inferred from cupel K21`, `carried from cast C7`, `guessed`: how a share is known, and by what first. */
export const groundWords = (ground: MetalGround, by: readonly Entry[]): string => {
  const [first] = by;
  if (!first) return ground;
  if (ground === 'assayed') return `assayed${first.method ? ` by ${first.method.name}` : ''}`;
  return ground === 'guessed' ? 'guessed' : `${ground} from ${stepWords(first)}`;
};
