/**
 * Amounts: a reading, a guess, a range, several goes, several readings, a limit, or a word for their absence.
 * Tolerant: what is amiss is reported and the rest is kept.
 */
import { decimal } from '../quantity/decimal';
import { nearUnit, unit as unitRow } from '../quantity/units';
import { KIND_WORDS, LEAD_WORDS, METHOD_WORDS, STATE_WORDS } from '../vocabulary/words';
import { type Cursor, isMark, isWord, peek, report, reportOdd, take, wordNode, writtenAs } from './cursor';
import { isVulgar, type OddFigure, oddFigure } from './odd-figure';
import { isDash, isOddRange, isTurned, reportDash, reportTurned } from './range';
import type { Token } from './scan';
import type { AmountNode, NumberNode, WordNode } from './tree';

/** What can begin an amount. */
export const startsAmount = (token: Token | undefined): boolean => {
  if (!token) return false;
  if (token.kind === 'number' || token.kind === 'comma-number' || isVulgar(token)) return true;
  if (token.kind === 'mark') return STARTING_MARKS.has(token.text);
  return isWord(token, 'gross') || isWord(token, 'none') || isWord(token, 'nd');
};

const STARTING_MARKS = new Set(['~', '?', '<', '>', '-', '+']);
const PLUS_MINUS = new Set(['±', '+-']);

/** Reads an amount; the caller has seen that one starts here. */
export const readAmount = (cursor: Cursor): AmountNode => {
  const first = peek(cursor)!;
  const gross = isWord(first, 'gross');
  if (gross) take(cursor);
  const absent = readAbsent(cursor);
  if (absent) return amountNode(cursor, first, gross, false, absent, []);
  const guessed = isMark(peek(cursor), '~');
  if (guessed) take(cursor);
  const side = isMark(peek(cursor), '<') ? 'below' : isMark(peek(cursor), '>') ? 'above' : undefined;
  if (side) take(cursor);
  const one = readNumber(cursor);
  if (!one) return amountNode(cursor, first, gross, guessed, 'unknown', []);
  if (side) return amountNode(cursor, first, gross, guessed, side, [one]);
  return readRest(cursor, first, gross, guessed, one);
};

const readAbsent = (cursor: Cursor): AmountNode['form'] | undefined => {
  const token = peek(cursor);
  const form = isMark(token, '?')
    ? 'unknown'
    : isWord(token, 'none')
      ? 'none'
      : isWord(token, 'nd')
        ? 'not-determined'
        : undefined;
  if (form) take(cursor);
  return form;
};

/** After the first number: a range, a sum, repeats, or just that reading. */
const readRest = (cursor: Cursor, first: Token, gross: boolean, guessed: boolean, one: NumberNode): AmountNode => {
  const mark = peek(cursor);
  if (isMark(mark, '..') || isDash(cursor) || isOddRange(cursor)) {
    const joint = take(cursor);
    if (joint.text === '-') reportDash(cursor);
    if (joint.kind === 'odd') reportOdd(cursor.problems, joint, '..');
    const high = readNumber(cursor);
    const ends = high ? [one, high] : [one];
    if (isTurned(ends)) reportTurned(cursor, ends);
    return amountNode(cursor, first, gross, guessed, 'range', ends);
  }
  if (!isMark(mark, '+') && !isMark(mark, '/')) return amountNode(cursor, first, gross, guessed, 'reading', [one]);
  const parts = [one];
  while (isMark(peek(cursor), '+') || isMark(peek(cursor), '/')) {
    const joint = take(cursor);
    if (joint.text !== mark!.text) report(cursor.problems, 'mixed-weighings', joint, joint.text);
    const next = readNumber(cursor);
    if (!next) break;
    parts.push(next);
  }
  return amountNode(cursor, first, gross, guessed, mark!.text === '+' ? 'sum' : 'repeats', parts);
};

/** A number and the unit behind it, if one stands there. */
const readNumber = (cursor: Cursor): NumberNode | undefined => {
  const minus = isMark(peek(cursor), '-') ? take(cursor) : undefined;
  const plus = isMark(peek(cursor), '+') ? take(cursor) : undefined;
  const odd = oddFigure(cursor);
  if (odd) return readOdd(cursor, odd, minus);
  const token = peek(cursor);
  if (token?.kind !== 'number' && token?.kind !== 'comma-number') {
    reportNoNumber(cursor);
    return undefined;
  }
  take(cursor);
  const text = numberText(cursor, token);
  if (plus)
    report(cursor.problems, 'odd-number', { start: plus.start, end: token.end }, `+${text}`, {
      mend: { start: plus.start, end: token.end, text },
    });
  const micro = readMicro(cursor, token, text);
  if (micro) return micro;
  const unit = readUnit(cursor);
  if (minus && !isTemperature(unit))
    report(cursor.problems, 'odd-number', { start: minus.start, end: token.end }, `-${token.text}`);
  return { start: minus?.start ?? token.start, end: unit?.end ?? token.end, text, minus: minus !== undefined, unit };
};

/** A figure written otherwise, with the number that it is. */
const readOdd = (cursor: Cursor, odd: OddFigure, minus: Token | undefined): NumberNode => {
  const first = peek(cursor)!;
  let last = first;
  for (let count = 0; count < odd.tokens; count++) last = take(cursor);
  const place = { start: first.start, end: last.end };
  const mend = odd.isExact ? { mend: { ...place, text: odd.text } } : {};
  report(cursor.problems, 'odd-number', place, writtenAs(cursor.tokens, place), mend);
  const unit = readUnit(cursor);
  return {
    start: (minus ?? first).start,
    end: unit?.end ?? last.end,
    text: odd.text,
    minus: minus !== undefined,
    unit,
  };
};

/** `300 µg`: no unit of the journal, but a thousandth of one. */
const readMicro = (cursor: Cursor, number: Token, text: string): NumberNode | undefined => {
  const token = peek(cursor);
  const symbol = token?.kind === 'word' ? MICRO.get(token.text) : undefined;
  if (!token || !symbol) return undefined;
  take(cursor);
  const places = text.includes('.') ? text.length - text.indexOf('.') - 1 : 0;
  const milli = decimal(text)
    .div(1000)
    .toFixed(places + 3);
  const place = { start: number.start, end: token.end };
  const wanted = `${milli} ${symbol}`;
  report(cursor.problems, 'unknown-unit', token, token.text, { wanted, mend: { ...place, text: wanted } });
  return {
    ...place,
    text: milli,
    minus: false,
    unit: { start: token.start, end: token.end, text: symbol, quoted: false },
  };
};

const MICRO: ReadonlyMap<string, string> = new Map([
  ...['µg', 'μg', 'ug', 'mcg'].map((word) => [word, 'mg'] as const),
  ...['µL', 'μL', 'µl', 'μl', 'uL', 'ul'].map((word) => [word, 'mL'] as const),
]);

const isTemperature = (unit: WordNode | undefined): boolean =>
  unit !== undefined && unitRow(unit.text)?.kind === 'temperature';

/** A mark that wants a number behind it. */
const reportNoNumber = (cursor: Cursor): void => {
  const mark = cursor.tokens[cursor.at - 1] ?? { start: 0, end: 0 };
  report(cursor.problems, 'odd-number', mark, '');
};

/** The number as it should have been typed; what was amiss is reported. */
const numberText = (cursor: Cursor, token: Token): string => {
  if (token.kind === 'comma-number') {
    reportComma(cursor, token);
    return commaToPoint(token.text);
  }
  const text = `${token.text.startsWith('.') ? '0' : ''}${token.text.endsWith('.') ? token.text.slice(0, -1) : token.text}`;
  const mend = text === token.text ? {} : { mend: { start: token.start, end: token.end, text } };
  if (text !== token.text || !isNumberSize(text)) report(cursor.problems, 'odd-number', token, token.text, mend);
  return text;
};

/** At most 15 digits before the point and 12 after. */
const isNumberSize = (text: string): boolean => {
  const point = text.indexOf('.');
  return point < 0 ? text.length <= 15 : point <= 15 && text.length - point - 1 <= 12;
};

/**
 * `61,37` may be 61.37; `1,200` may be 1200 or 1.200, so it is asked about: groups of three read as thousands first.
 */
const reportComma = (cursor: Cursor, token: Token): void => {
  const code = readsAsThousands(token.text) ? 'thousands-mark' : 'decimal-comma';
  const text = commaToPoint(token.text);
  report(cursor.problems, code, token, token.text, {
    wanted: text,
    mend: { start: token.start, end: token.end, text },
  });
};

const readsAsThousands = (text: string): boolean => {
  const [head, ...groups] = (text.split('.')[0] ?? '').split(',');
  return groups.length > 0 && head !== '0' && head!.length <= 3 && groups.every((group) => group.length === 3);
};

/** The last mark is the decimal: `1.234,50` is 1234.50, `1,234.50` too. */
const commaToPoint = (text: string): string => {
  const comma = text.lastIndexOf(',');
  if (readsAsThousands(text) || text.lastIndexOf('.') > comma) return text.replaceAll(',', '');
  return `${text.slice(0, comma).replaceAll('.', '').replaceAll(',', '')}.${text.slice(comma + 1)}`;
};

/** Words that may follow a bare number and are no unit. */
const isOtherWord = (text: string): boolean => {
  const word = text.toLowerCase();
  return (
    KIND_WORDS.has(word) || STATE_WORDS.has(word) || LEAD_WORDS.has(word) || METHOD_WORDS.has(word) || OTHER.has(word)
  );
};
const OTHER = new Set(['was', 'expanded', 'standard', 'because', 'note', 'and']);

const readUnit = (cursor: Cursor): WordNode | undefined => {
  const token = peek(cursor);
  if (token?.kind !== 'word') return undefined;
  if (unitRow(token.text)) return wordNode(take(cursor));
  if (isOtherWord(token.text)) return undefined;
  // An element's symbol in front of the next figure belongs to that figure; a currency makes this money.
  const follows = peek(cursor, 1);
  if (startsAmount(follows) && token.text.length <= 2 && token.text[0] !== token.text[0]!.toLowerCase())
    return undefined;
  const reads = nearUnit(token.text);
  if (!reads && !isMeasure(token.text)) return undefined;
  if (reads) reportNearUnit(cursor, token, reads);
  return wordNode(take(cursor));
};

const reportNearUnit = (cursor: Cursor, token: Token, reads: string): void =>
  report(cursor.problems, 'unknown-unit', token, token.text, {
    wanted: reads,
    mend: { start: token.start, end: token.end, text: reads },
  });

/** `spoon`, `cup`: a word of small letters may be one of the shop's own measures. */
const isMeasure = (text: string): boolean => {
  for (const char of text) if (char < 'a' || char > 'z') return false;
  return true;
};

const amountNode = (
  cursor: Cursor,
  first: Token,
  gross: boolean,
  guessed: boolean,
  form: AmountNode['form'],
  parts: readonly NumberNode[],
): AmountNode => {
  const spread = readSpread(cursor);
  // Behind `?`, or where a number is missing before it.
  const bareUnit = lastUnit(parts) ? undefined : readKnownUnit(cursor);
  const states: WordNode[] = [];
  while (peek(cursor)?.kind === 'word' && STATE_WORDS.has(peek(cursor)!.text.toLowerCase()))
    states.push(wordNode(take(cursor)));
  const unit = bareUnit ?? lastUnit(parts) ?? spread?.half.unit;
  const end = cursor.tokens[cursor.at - 1]?.end ?? first.end;
  return { shape: 'amount', start: first.start, end, gross, guessed, form, parts, unit, spread, states };
};

const readKnownUnit = (cursor: Cursor): WordNode | undefined => {
  const token = peek(cursor);
  return token?.kind === 'word' && unitRow(token.text) ? wordNode(take(cursor)) : undefined;
};

const lastUnit = (parts: readonly NumberNode[]): WordNode | undefined => {
  for (let index = parts.length - 1; index >= 0; index--) if (parts[index]!.unit) return parts[index]!.unit;
  return undefined;
};

const readSpread = (cursor: Cursor): AmountNode['spread'] => {
  const mark = peek(cursor);
  if (mark?.kind !== 'mark' || !PLUS_MINUS.has(mark.text)) return undefined;
  take(cursor);
  const half = readNumber(cursor);
  if (!half) return undefined;
  const word = peek(cursor);
  const meaning = isWord(word, 'expanded') ? 'expanded' : isWord(word, 'standard') ? 'standard' : 'limits';
  if (meaning !== 'limits') take(cursor);
  return { half, meaning };
};
