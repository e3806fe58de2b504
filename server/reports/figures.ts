/** Figures in words: cut to what they mean, and short enough for the end of a line. */
import { decimal, toPlain } from '../quantity/decimal';
import { divide, type Measured, uncertainty } from '../quantity/measured';
import { showDigits, showMass, showPercent, showQuantity } from '../quantity/show';

/** Editors cut what is shown at a line's end at 43 characters. */
export const LONGEST_LABEL = 40;

/** The first wording that fits; of the last one as much as fits. */
export const fitting = (...wordings: readonly string[]): string => {
  const found = wordings.find((wording) => wording.length <= LONGEST_LABEL);
  return found ?? `${wordings.at(-1)!.slice(0, LONGEST_LABEL - 1)}…`;
};

export const sizeOf = (of: Measured): Measured => ({ ...of, value: of.value.abs() });

/** `±0.03 g`; nothing of an exact value. */
export const spreadWords = (of: Measured): string | undefined => {
  const spread = showQuantity(of, 'g').split('±')[1];
  return spread === undefined ? undefined : `±${spread} g`;
};

/** `11.5 %`; none of nothing. */
export const shareWords = (part: Measured, whole: Measured): string | undefined => {
  if (!whole.value.greaterThan(0)) return undefined;
  const share = divide(part, whole);
  return showPercent(share.value.toNumber(), uncertainty(share));
};

/** Cut to what means something, it is nothing. */
export const isShownAsNothing = (of: Measured): boolean => {
  for (const character of showMass(of)) if (character >= '1' && character <= '9') return false;
  return true;
};

/** So many grams, cut to the place that another figure is good to; to three digits where that one is exact. */
export const cutLike = (grams: number, like: Measured): string => {
  if (uncertainty(like) > 0) return showMass({ ...like, value: decimal(grams), guessed: false });
  return `${showDigits(decimal(grams), 3)} g`;
};

/** A plain figure of the workshop or of a table, without the noise of binary fractions: at most four digits that mean something. */
export const showSize = (value: number): string => {
  const places = value === 0 ? 0 : Math.max(0, 3 - Math.floor(Math.log10(Math.abs(value))));
  const text = decimal(value).toDecimalPlaces(places);
  return toPlain(text);
};
