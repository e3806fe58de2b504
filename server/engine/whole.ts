/** Whether the shares of one determination can be true together. */
import { type Decimal, decimal, decimalsOf, ONE, ZERO } from '../quantity/decimal';
import { toBase } from '../quantity/units';
import type { Amount, Digits, Reading } from './entry';

/** Shares that add up to more than the whole, each taken as small as its last digit allows. */
export const isAboveWhole = ({ metals }: Reading): boolean =>
  metals.reduce((sum, { amount }) => sum.plus(lowestShare(amount)), ZERO).greaterThan(ONE);

/** The least that the written figure can mean: half its last digit less, or less its stated spread. */
const lowestShare = (amount: Amount): Decimal => {
  const { figure } = amount;
  if (!figure) return ZERO;
  if (figure.form === 'limit') return figure.side === 'above' ? fraction(figure.digits) : ZERO;
  if (figure.form === 'range') return fraction(figure.low);
  const digits = figure.form === 'reading' ? figure.digits : figure.parts[0]!;
  const half = amount.spread ? fraction(amount.spread.half) : halfDigit(digits);
  return fraction(digits).minus(half);
};

const fraction = (digits: Digits): Decimal =>
  digits.unit?.kind === 'proportion' ? toBase(digits.value, digits.unit) : ZERO;

const halfDigit = (digits: Digits): Decimal => {
  const step = decimal(10).pow(-decimalsOf(digits.text)).div(2);
  return digits.unit?.kind === 'proportion' ? toBase(step, digits.unit) : ZERO;
};
