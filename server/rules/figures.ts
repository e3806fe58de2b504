/** The numbers of an amount. */
import type { Amount, Digits } from '../engine/entry';

export const digitsIn = ({ figure }: Amount): readonly Digits[] => {
  if (!figure) return [];
  if (figure.form === 'range') return [figure.low, figure.high];
  return figure.form === 'sum' || figure.form === 'repeats' ? figure.parts : [figure.digits];
};
