/** Exact decimals: no binary rounding ever touches a typed digit. The only file that knows the decimal library. */
import { Decimal as Library } from 'decimal.js';

/** Our own constructor: settings on the shared one could be changed by anybody. */
const Exact = Library.clone({
  precision: 60,
  rounding: Library.ROUND_HALF_EVEN,
  toExpNeg: -9e15,
  toExpPos: 9e15,
  defaults: true,
});

export type Decimal = Library;

/** Throws on a text that is no number. Sums, differences and products are exact up to 60 digits. */
export const decimal = (value: string | number | Decimal): Decimal => withoutRoom(new Exact(value));

/** The library fills its list of digits one by one, which leaves room for seventeen; typed figures are kept by the ten thousand. */
const withoutRoom = (value: Decimal): Decimal => {
  if (value.d) (value as { d: number[] }).d = value.d.slice();
  return value;
};

export const ZERO: Decimal = decimal(0);
export const ONE: Decimal = decimal(1);

export const sum = (values: Iterable<Decimal>): Decimal => {
  let total = ZERO;
  for (const value of values) total = total.plus(value);
  return total;
};

/** `down` is towards zero, `up` away from it. */
export type Rounding = 'half-up' | 'half-even' | 'down' | 'up';

const MODES: Readonly<Record<Rounding, Library.Rounding>> = {
  'half-up': Library.ROUND_HALF_UP,
  'half-even': Library.ROUND_HALF_EVEN,
  down: Library.ROUND_DOWN,
  up: Library.ROUND_UP,
};

/** The value as a whole multiple of a quantum (`0.01`, `0.025`), which is above zero. */
export const roundTo = (value: Decimal, quantum: Decimal, mode: Rounding): Decimal =>
  value.div(quantum).toDecimalPlaces(0, MODES[mode]).times(quantum);

/** Digits after the point as typed: 2 for `58.10`. */
export const decimalsOf = (text: string): number => {
  const point = text.indexOf('.');
  return point < 0 ? 0 : text.length - point - 1;
};

/** The language's number: digits, a point with digits on both sides; at most 15 before and 12 after. */
export const isNumberText = (text: string): boolean => /^\d{1,15}(\.\d{1,12})?$/.test(text);

/** Never in exponent form. */
export const toPlain = (value: Decimal): string => (value.isZero() ? '0' : value.toFixed());
