/** The figures in a value: one number, a range, or a number with its ±, and what stands behind them. Hand-written: nothing can blow up. */
import { type Decimal, decimal, decimalsOf, isNumberText } from '../quantity/decimal';

export interface Figures {
  readonly low: Decimal;
  /** The same as `low` where one number stands. */
  readonly high: Decimal;
  /** Digits after the point of the first number, as typed. */
  readonly decimals: number;
  /** After `±`. */
  readonly half: Decimal | undefined;
  /** What stands behind: a unit, or nothing. */
  readonly rest: string;
  /** The numbers as typed, without the rest. */
  readonly typed: string;
}

/** Why no figures were read, and how the value would be written. */
export interface Misread {
  readonly wrong: 'comma' | 'sign' | 'size' | 'none' | 'backwards' | 'guess';
  readonly write?: string;
}

export const isMisread = (of: Figures | Misread): of is Misread => 'wrong' in of;

export const readFigures = (text: string): Figures | Misread => {
  const first = numberAt(text, skipBlanks(text, 0));
  if ('wrong' in first) return first;
  let at = skipBlanks(text, first.end);
  let high = first.value;
  let half: Decimal | undefined;
  let end = first.end;
  const mark = MARKS.find((candidate) => text.startsWith(candidate, at));
  if (mark) {
    const second = numberAt(text, skipBlanks(text, at + mark.length));
    if ('wrong' in second) return second;
    if (mark === '..') high = second.value;
    else half = second.value;
    end = second.end;
    at = skipBlanks(text, end);
  }
  if (high.lessThan(first.value)) return { wrong: 'backwards' };
  const typed = text.slice(0, end).trim();
  return { low: first.value, high, decimals: first.decimals, half, rest: text.slice(at).trim(), typed };
};

const MARKS = ['..', '±', '+-'];

const isDigit = (char: string | undefined): boolean => char !== undefined && char >= '0' && char <= '9';

const skipBlanks = (text: string, from: number): number => {
  let at = from;
  while (text[at] === ' ' || text[at] === '\u00a0' || text[at] === '\u202f') at++;
  return at;
};

const digitsEnd = (text: string, from: number): number => {
  let at = from;
  while (isDigit(text[at])) at++;
  return at;
};

interface NumberFound {
  readonly value: Decimal;
  readonly decimals: number;
  readonly end: number;
}

const numberAt = (text: string, start: number): NumberFound | Misread => {
  const first = text[start];
  if (first === '-' || first === '\u2212' || first === '+') return { wrong: 'sign' };
  if (first === '~') return { wrong: 'guess', write: text.slice(start + 1).trim() };
  if (first === '.' && isDigit(text[start + 1])) return { wrong: 'none', write: `0${text.slice(start)}` };
  if (!isDigit(first)) return { wrong: 'none' };
  const whole = digitsEnd(text, start);
  const pointed = text[whole] === '.' && isDigit(text[whole + 1]);
  const end = pointed ? digitsEnd(text, whole + 1) : whole;
  if (text[end] === ',' && isDigit(text[end + 1])) return { wrong: 'comma', write: withPoint(text, end) };
  const number = text.slice(start, end);
  if (!isNumberText(number)) return { wrong: 'size' };
  return { value: decimal(number), decimals: decimalsOf(number), end };
};

/** Three digits behind the comma may be thousands: then nothing is proposed. */
const withPoint = (text: string, comma: number): string | undefined =>
  digitsEnd(text, comma + 1) - comma === 4 ? undefined : `${text.slice(0, comma)}.${text.slice(comma + 1)}`;
