/** Ranges as they are written: by a dash, by the mark of a phone, with the higher end first. */
import { decimal, isNumberText } from '../quantity/decimal';
import { type Cursor, isMark, peek, report, writtenAs } from './cursor';
import type { NumberNode } from './tree';

/** `50..40 g`: the higher end first. */
export const isTurned = ([low, high]: readonly NumberNode[]): boolean =>
  high !== undefined &&
  isNumberText(low!.text) &&
  isNumberText(high.text) &&
  (!low!.unit || !high.unit || low!.unit.text === high.unit.text) &&
  decimal(low!.text)
    .times(low!.minus ? -1 : 1)
    .greaterThan(decimal(high.text).times(high.minus ? -1 : 1));

export const reportTurned = (cursor: Cursor, ends: readonly NumberNode[]): void => {
  const [low, high] = ends as [NumberNode, NumberNode];
  const said = ({ minus, text }: NumberNode): string => `${minus ? '-' : ''}${text}`;
  const place = { start: low.start, end: high.end };
  const unit = (high.unit ?? low.unit)?.text;
  const mend = { ...place, text: `${said(high)}..${said(low)}${unit ? ` ${unit}` : ''}` };
  report(cursor.problems, 'odd-number', place, writtenAs(cursor.tokens, place), { mend });
};

const RANGE_LOOKALIKES: ReadonlySet<string> = new Set(['…', '–', '—', '−']);

/** `22…30 %`, `22–30 %`, as phones write it. */
export const isOddRange = (cursor: Cursor): boolean => {
  const token = peek(cursor);
  return token?.kind === 'odd' && RANGE_LOOKALIKES.has(token.text) && peek(cursor, 1)?.kind === 'number';
};

/** `22-30 %`: a dash with a number right behind it. */
export const isDash = (cursor: Cursor): boolean => {
  const [low, dash, high] = [cursor.tokens[cursor.at - 1], peek(cursor), peek(cursor, 1)];
  return isMark(dash, '-') && low?.kind === 'number' && high?.kind === 'number' && high.start === dash!.end;
};

export const reportDash = (cursor: Cursor): void => {
  const [low, high] = [cursor.tokens[cursor.at - 2]!, peek(cursor)!];
  const range = { start: low.start, end: high.end };
  const mend = { ...range, text: `${low.text}..${high.text}` };
  report(cursor.problems, 'odd-number', range, `${low.text}-${high.text}`, { mend });
};
