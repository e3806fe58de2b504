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

/** The library keeps seven digits to a word. */
const WORD = 1e7;
const WORD_DIGITS = 7;
/** Powers of ten that are exact as binary numbers. */
const POWERS: readonly number[] = Array.from({ length: 23 }, (_, power) => Number(`1e${power}`));

/**
 * The binary number next to a value. The library writes it out and reads it again; of fourteen digits, which are nearly all that are written, the whole
 * number and the power of ten are exact, so that their one product or quotient is rounded as it should be.
 */
function nearest(this: Library): number {
  const { d: words, e: exponent, s: sign } = this;
  if (words && words.length <= 2) {
    const power = WORD_DIGITS * (Math.floor(exponent / WORD_DIGITS) - words.length + 1);
    const whole = sign * (words.length === 1 ? words[0]! : words[0]! * WORD + words[1]!);
    const ten = POWERS[Math.abs(power)];
    if (ten !== undefined) return power < 0 ? whole / ten : whole * ten;
  }
  return Library.prototype.toNumber.call(this);
}

Object.defineProperty(Exact, 'prototype', {
  value: Object.create(Library.prototype, { toNumber: { value: nearest } }) as Library,
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
