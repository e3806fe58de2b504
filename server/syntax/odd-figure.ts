/** Figures as they are written elsewhere: `½`, `1 1/2`, `1e3`, `12'345`, `1 234.5`. Each is read for what it plainly means, and reported. */
import { type Decimal, decimal, toPlain } from '../quantity/decimal';
import { type Cursor, isMark, peek } from './cursor';
import type { Token } from './scan';

export interface OddFigure {
  /** How many tokens it is made of. */
  readonly tokens: number;
  /** The number of the journal that it is, as near as it can be written. */
  readonly text: string;
  /** It can be written exactly. */
  readonly isExact: boolean;
}

const VULGAR: ReadonlyMap<string, readonly [number, number]> = new Map([
  ['½', [1, 2]],
  ['¼', [1, 4]],
  ['¾', [3, 4]],
  ['⅓', [1, 3]],
  ['⅔', [2, 3]],
  ['⅕', [1, 5]],
  ['⅖', [2, 5]],
  ['⅗', [3, 5]],
  ['⅘', [4, 5]],
  ['⅛', [1, 8]],
  ['⅜', [3, 8]],
  ['⅝', [5, 8]],
  ['⅞', [7, 8]],
]);

export const isVulgar = (token: Token | undefined): boolean => token?.kind === 'odd' && VULGAR.has(token.text);

/** The odd figure that starts here; none where a plain number does. */
export const oddFigure = (cursor: Cursor): OddFigure | undefined => {
  const [first, second] = [peek(cursor), peek(cursor, 1)];
  if (isVulgar(first)) return figure(1, vulgar(first!));
  if (first?.kind !== 'number') return undefined;
  if (first.text.includes('e') || first.text.includes('E')) return figure(1, decimal(first.text));
  if (isVulgar(second) && isWhole(first)) return figure(2, decimal(first.text).plus(vulgar(second!)));
  const half = fractionAt(cursor, 0);
  if (half) return figure(3, half);
  const part = isWhole(first) ? fractionAt(cursor, 1) : undefined;
  if (part) return figure(4, decimal(first.text).plus(part));
  return pointed(cursor) ?? grouped(cursor);
};

const figure = (tokens: number, value: Decimal): OddFigure => {
  const cut = value.toDecimalPlaces(MOST_PLACES);
  return { tokens, text: toPlain(cut), isExact: cut.equals(value) };
};

const MOST_PLACES = 9;

const vulgar = (token: Token): Decimal => {
  const [over, under] = VULGAR.get(token.text)!;
  return decimal(over).div(under);
};

/** Of inches, carats and scales; other strokes are a weighing repeated. */
const UNDER: ReadonlySet<string> = new Set(['2', '3', '4', '5', '8', '10', '16', '20', '32', '64']);

/** `1/2`, with no blank in it. */
const fractionAt = (cursor: Cursor, ahead: number): Decimal | undefined => {
  const [over, stroke, under] = [peek(cursor, ahead), peek(cursor, ahead + 1), peek(cursor, ahead + 2)];
  if (!isWhole(over) || !isMark(stroke, '/') || !isWhole(under) || !UNDER.has(under!.text)) return undefined;
  if (over!.end !== stroke!.start || stroke!.end !== under!.start || isMark(peek(cursor, ahead + 3), '/'))
    return undefined;
  const [top, bottom] = [decimal(over!.text), decimal(under!.text)];
  return top.lessThan(bottom) && !top.isZero() ? top.div(bottom) : undefined;
};

const isWhole = (token: Token | undefined): boolean => {
  if (token?.kind !== 'number') return false;
  for (const char of token.text) if (char < '0' || char > '9') return false;
  return true;
};

/** `1.200.500`, `20.1.2`: more than one point. Groups of three are thousands; what else is meant nobody knows, and the first figure is kept. */
const pointed = (cursor: Cursor): OddFigure | undefined => {
  const first = peek(cursor)!.text;
  let text = first;
  let ahead = 1;
  for (; ; ahead++) {
    const [last, next] = [peek(cursor, ahead - 1)!, peek(cursor, ahead)];
    if (next?.kind !== 'number' || !next.text.startsWith('.') || next.start !== last.end) break;
    text += next.text;
  }
  if (ahead === 1) return undefined;
  const [head = '', ...groups] = text.split('.');
  const isThousands = head.length <= 3 && groups.every((group) => group.length === 3);
  return { tokens: ahead, text: isThousands ? [head, ...groups].join('') : first, isExact: isThousands };
};

/** Thousands set off by an apostrophe or by one blank. */
const grouped = (cursor: Cursor): OddFigure | undefined => {
  let text = peek(cursor)!.text;
  if (text.length > 3 || text.startsWith('0') || !isWhole(peek(cursor))) return undefined;
  let ahead = 1;
  for (;;) {
    const last = peek(cursor, ahead - 1)!;
    const mark = isApostrophe(peek(cursor, ahead), last);
    const group = peek(cursor, mark ? ahead + 1 : ahead);
    if (!group || !isGroup(group) || group.start - last.end !== 1 || text.includes('.')) break;
    text += group.text;
    ahead += mark ? 2 : 1;
  }
  return ahead > 1 ? { tokens: ahead, text, isExact: true } : undefined;
};

const isApostrophe = (token: Token | undefined, after: Token): boolean =>
  token?.kind === 'odd' && (token.text === "'" || token.text === '’') && token.start === after.end;

/** Three digits, and perhaps decimals. */
const isGroup = ({ kind, text }: Token): boolean =>
  kind === 'number' && (text.length === 3 ? !text.includes('.') : text.indexOf('.') === 3);
