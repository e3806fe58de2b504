/** Grams of fine metal in a lot by a figure that is a guess or a word of somebody else: a range, cut to what it means. */
import type { Weight } from '../engine/book';
import type { Amount, Digits, Reading } from '../engine/entry';
import type { Decimal } from '../quantity/decimal';
import { showDigits } from '../quantity/show';
import { toBase } from '../quantity/units';

export interface FineWeight {
  readonly symbol: string;
  /** `~38..56 g`, `~22.4 g`, `<0.2 g`. */
  readonly grams: string;
}

/** A share says so many digits at least; a range, being a guess, one less. */
const DIGITS_OF_SHARE = 3;
const DIGITS_OF_RANGE = 2;

/** For each metal of a reading whose share can be taken of this weight. */
export const fineWeights = (reading: Reading, weight: Weight): readonly FineWeight[] => {
  const grams = weight.mass?.value;
  if (!grams?.greaterThan(0)) return [];
  return reading.metals.flatMap(({ symbol, amount }) => {
    if (isOtherBasis(amount, weight)) return [];
    const said = shareOf(amount, grams);
    return said === undefined ? [] : [{ symbol: symbol.name, grams: said }];
  });
};

/** A share of the dry weight says nothing of a wet one. */
const isOtherBasis = ({ states }: Amount, weight: Weight): boolean =>
  states.includes('dry') && (weight.states.includes('wet') || weight.states.includes('damp'));

const shareOf = ({ figure }: Amount, grams: Decimal): string | undefined => {
  if (!figure) return undefined;
  if (figure.form === 'range') {
    const [low, high] = [part(figure.low, grams), part(figure.high, grams)];
    return low && high ? `~${showDigits(low, DIGITS_OF_RANGE)}..${showDigits(high, DIGITS_OF_RANGE)} g` : undefined;
  }
  if (figure.form !== 'reading' && figure.form !== 'limit') return undefined;
  const fine = part(figure.digits, grams);
  if (!fine) return undefined;
  const mark = figure.form === 'reading' ? '~' : figure.side === 'below' ? '<' : '>';
  return `${mark}${showDigits(fine, figure.form === 'reading' ? DIGITS_OF_SHARE : DIGITS_OF_RANGE)} g`;
};

const part = ({ value, unit }: Digits, grams: Decimal): Decimal | undefined =>
  unit?.kind === 'proportion' ? grams.times(toBase(value, unit)) : undefined;
