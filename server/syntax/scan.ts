/** One line of text to tokens. Hand-written: no pattern can blow up on a hostile line. */

export type TokenKind =
  | 'word'
  | 'quoted'
  | 'number'
  | 'comma-number'
  | 'date'
  | 'time'
  | 'mark'
  | 'comma'
  | 'comment'
  | 'odd'
  | 'hidden';

export interface Token {
  readonly kind: TokenKind;
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

const TAB = 9;
export const isDigit = (code: number): boolean => code >= 48 && code <= 57;
const isAsciiLetter = (code: number): boolean => (code >= 65 && code <= 90) || (code >= 97 && code <= 122);
const LETTER = /\p{L}|\p{M}|\p{Nd}/u;

/** Any blank that a keyboard or a pasted page may hold, the byte order mark included; line ends are not. */
export const isBlank = (code: number): boolean =>
  code === 32 ||
  code === TAB ||
  code === 11 ||
  code === 12 ||
  code === 0xa0 ||
  code === 0x1680 ||
  (code >= 0x2000 && code <= 0x200a) ||
  code === 0x202f ||
  code === 0x205f ||
  code === 0x3000 ||
  code === 0xfeff;

/** Where the first character of a line stands that is no blank; its end if none does. */
export const firstOf = (text: string, line: { readonly start: number; readonly end: number }): number => {
  let at = line.start;
  while (at < line.end && isBlank(text.charCodeAt(at))) at++;
  return at;
};

/** What stands from an offset up to a blank or a comma. */
export const runAt = (text: string, start: number, end: number): string => {
  let at = start;
  while (at < end && !isBlank(text.charCodeAt(at)) && text[at] !== ',') at++;
  return text.slice(start, at);
};

/** Characters that are not seen, or that turn the direction of what is: two names could look the same and differ. */
export const isHidden = (code: number): boolean =>
  (code < 32 && !isBlank(code)) ||
  (code >= 0x7f && code <= 0x9f) ||
  code === 0xad ||
  (code >= 0x200b && code <= 0x200f) ||
  (code >= 0x2028 && code <= 0x202e) ||
  (code >= 0x2060 && code <= 0x206f);

/** Those that turn the direction of writing (Trojan Source, CVE-2021-42574), and those that steer a screen. */
export const isTurning = (code: number): boolean =>
  (code < 32 && !isBlank(code)) ||
  (code >= 0x7f && code <= 0x9f) ||
  (code >= 0x202a && code <= 0x202e) ||
  (code >= 0x2066 && code <= 0x2069);

/** Length in UTF-16 of the letter at an offset, 0 if it is none. */
export const letterLength = (text: string, at: number): number => {
  const code = text.charCodeAt(at);
  if (code < 128) return isAsciiLetter(code) || code === 95 ? 1 : 0;
  const point = text.codePointAt(at);
  if (point === undefined || isHidden(point)) return 0;
  const letter = String.fromCodePoint(point);
  return LETTER.test(letter) ? letter.length : 0;
};

const isJoiner = (code: number): boolean => code === 45 || code === 46 || code === 47;

/** End of a run of name characters: letters, digits, `- _ . /`, but never `..`. */
export const nameEnd = (text: string, from: number, limit: number): number => {
  let at = from;
  while (at < limit) {
    const code = text.charCodeAt(at);
    if (isDigit(code)) at++;
    else if (code === 46 && text.charCodeAt(at + 1) === 46) break;
    else if (isJoiner(code) || isHidden(code)) at++;
    else {
      const length = letterLength(text, at);
      if (length === 0) break;
      at += length;
    }
  }
  // A name does not end in a joiner: `B57.` is B57 and a stray point. Nor in what is not seen.
  while (at > from && (isJoiner(text.charCodeAt(at - 1)) || isHidden(text.charCodeAt(at - 1)))) at--;
  return at;
};

/** Whether a name that reached this offset goes on behind it. */
const nameGoesOn = (text: string, from: number, limit: number): boolean => {
  let at = from;
  while (at < limit && isJoiner(text.charCodeAt(at))) {
    if (text.charCodeAt(at) === 46 && text.charCodeAt(at + 1) === 46) return false;
    at++;
  }
  return at < limit && (isDigit(text.charCodeAt(at)) || letterLength(text, at) > 0);
};

const digitsEnd = (text: string, from: number, limit: number): number => {
  let at = from;
  while (at < limit && isDigit(text.charCodeAt(at))) at++;
  return at;
};

/** Digits, and a point with digits behind it; also a point that lacks them on one side, for the reader of amounts to mend. */
const numberEnd = (text: string, from: number, limit: number): number => {
  const whole = digitsEnd(text, from, limit);
  if (whole >= limit || text.charCodeAt(whole) !== 46) return whole;
  if (isDigit(text.charCodeAt(whole + 1))) return digitsEnd(text, whole + 1, limit);
  return isLonePoint(text, whole, limit) ? whole + 1 : whole;
};

/** `5. g`: a point with nothing glued behind it. */
const isLonePoint = (text: string, at: number, limit: number): boolean =>
  at + 1 === limit || isBlank(text.charCodeAt(at + 1)) || text.charCodeAt(at + 1) === 44;

const startsFigure = (text: string, at: number, limit: number): boolean =>
  isDigit(text.charCodeAt(at)) || (text[at] === '.' && at + 1 < limit && isDigit(text.charCodeAt(at + 1)));

/** `61,37`, `1,200`, `1,200.50`: commas with a digit on both sides. */
const commaNumberEnd = (text: string, from: number, limit: number): number => {
  let at = numberEnd(text, from, limit);
  while (text.charCodeAt(at) === 44 && at + 1 < limit && isDigit(text.charCodeAt(at + 1)))
    at = numberEnd(text, at + 1, limit);
  return at;
};

/** `2026-05-04`, and what was meant to be one (`2026-5-4`): three runs of digits with dashes, the first of four. */
const dateEnd = (text: string, from: number, limit: number): number => {
  const year = digitsEnd(text, from, limit);
  if (year - from !== 4 || text.charCodeAt(year) !== 45) return from;
  const month = digitsEnd(text, year + 1, limit);
  if (month === year + 1 || text.charCodeAt(month) !== 45) return from;
  const day = digitsEnd(text, month + 1, limit);
  if (day === month + 1) return from;
  return nameGoesOn(text, day, limit) ? from : day;
};

/** `08:10` */
const timeEnd = (text: string, from: number, limit: number): number => {
  const hour = digitsEnd(text, from, limit);
  if (hour - from > 2 || text.charCodeAt(hour) !== 58) return from;
  const minute = digitsEnd(text, hour + 1, limit);
  return minute - hour === 3 ? minute : from;
};

const UNIT_MARKS = new Set(['%', '‰']);

/** Whether what is glued to a number reads as its unit (`14k`, `58.16g`, `92%`). */
export type IsUnit = (text: string) => boolean;

/** Tokens of `text` from `start` to `end`, which hold no line end. Offsets are those of `text`. */
export const scanLine = (text: string, start: number, end: number, isUnit: IsUnit): Token[] => {
  const tokens: Token[] = [];
  const push = (kind: TokenKind, from: number, to: number): number => {
    tokens.push({ kind, start: from, end: to, text: text.slice(from, to) });
    return to;
  };
  const figures: Figures = { text, end, isUnit, push, letterless: start };
  let at = start;
  while (at < end) {
    if (isBlank(text.charCodeAt(at))) at++;
    else if (startsFigure(text, at, end)) at = scanFigure(figures, at);
    else if (letterLength(text, at) > 0) at = push('word', at, nameEnd(text, at, end));
    else at = scanMark(text, at, start, end, push);
  }
  return tokens;
};

type Push = (kind: TokenKind, from: number, to: number) => number;

interface Figures {
  readonly text: string;
  readonly end: number;
  readonly isUnit: IsUnit;
  readonly push: Push;
  /** Up to here a run of name characters is known to hold no letter, so that each is looked through once. */
  letterless: number;
}

const scanFigure = (figures: Figures, at: number): number => {
  const { text, end, push } = figures;
  const date = dateEnd(text, at, end);
  if (date > at) return push('date', at, date);
  const time = timeEnd(text, at, end);
  if (time > at) return push('time', at, time);
  const number = numberEnd(text, at, end);
  const comma = commaNumberEnd(text, at, end);
  if (comma > number) return push('comma-number', at, comma);
  if (number < figures.letterless) return push('number', at, number);
  const exponent = exponentEnd(figures, number);
  if (exponent > number) return push('number', at, exponent);
  const run = nameEnd(text, at, end);
  if (run <= number) return push('number', at, number);
  const letters = hasLetter(text, number, run);
  if (!letters) figures.letterless = run;
  const isName = letters && !(run - number <= LONGEST_UNIT && figures.isUnit(text.slice(number, run)));
  return isName ? push('word', at, run) : push('number', at, number);
};

/** `1e3 g`: powers of ten behind a number, where a unit shows that it is no name. */
const exponentEnd = ({ text, end, isUnit }: Figures, number: number): number => {
  const letter = text[number];
  if (letter !== 'e' && letter !== 'E') return number;
  const sign = text[number + 1] === '-' || text[number + 1] === '+' ? 1 : 0;
  const power = digitsEnd(text, number + 1 + sign, end);
  const size = power - number - 1 - sign;
  if (size < 1 || size > 2 || !isBlank(text.charCodeAt(power))) return number;
  let unit = power;
  while (unit < end && isBlank(text.charCodeAt(unit))) unit++;
  const run = Math.max(nameEnd(text, unit, end), UNIT_MARKS.has(text[unit] ?? '') ? unit + 1 : unit);
  return run > unit && run - unit <= LONGEST_UNIT && isUnit(text.slice(unit, run)) ? power : number;
};

const LONGEST_UNIT = 8;

const hasLetter = (text: string, from: number, to: number): boolean => {
  for (let at = from; at < to; at++) if (letterLength(text, at) > 0) return true;
  return false;
};

const MARKS = new Set(['~', '?', '+', '/', '±', '<', '>', '-']);

const scanMark = (text: string, at: number, start: number, end: number, push: Push): number => {
  const char = text[at]!;
  if (char === ',') return push('comma', at, at + 1);
  if (char === '#' && startsComment(text, at, start, end)) return push('comment', at, end);
  if (char === '"') {
    const close = text.indexOf('"', at + 1);
    return push('quoted', at, close < 0 || close >= end ? end : close + 1);
  }
  if (char === '°' && at + 1 < end) {
    const unit = text[at + 1];
    if (unit === 'C' || unit === 'F') return push('word', at, at + 2);
  }
  if (UNIT_MARKS.has(char)) return push('word', at, at + 1);
  if (text.startsWith('+-', at)) return push('mark', at, at + 2);
  if (text.startsWith('..', at)) return push('mark', at, at + 2);
  if (MARKS.has(char)) return push('mark', at, at + 1);
  const point = text.codePointAt(at)!;
  return push(isHidden(point) ? 'hidden' : 'odd', at, at + (point > 0xffff ? 2 : 1));
};

/** `#` with a blank after it, at the line's start or after a blank. */
const startsComment = (text: string, at: number, start: number, end: number): boolean =>
  (at === start || isBlank(text.charCodeAt(at - 1))) && (at + 1 === end || isBlank(text.charCodeAt(at + 1)));
