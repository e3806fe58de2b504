/** One line of an entry to its pieces, or to a clock time with its text. */
import { unit as unitRow } from '../quantity/units';
import { isTime } from '../text/calendar';
import { nearest } from '../text/nearest';
import type { Span } from '../text/span';
import { DETAILS, detail, detailsOf, REMARKS, remark, takesDetail } from '../vocabulary/details';
import { mayBeLed } from '../vocabulary/slots';
import { VERBS, type VerbRow, verb } from '../vocabulary/verbs';
import { PREFIX_WORDS } from '../vocabulary/words';
import { startsAmount } from './amount';
import { type Cursor, isWord, peek, report, take, wordNode } from './cursor';
import { isLanguageWord } from './fill';
import { checkDate, rowPiece, startsReading, startsText } from './piece';
import { scanLine, type Token } from './scan';
import type { ClockNode, LineNode, PieceNode, Problem, Value, WordNode } from './tree';

export interface Head {
  readonly prefix: WordNode | undefined;
  readonly verb: { readonly node: WordNode; readonly row: VerbRow } | undefined;
}

export const scan = (text: string, line: Span): Token[] =>
  scanLine(text, line.start, line.end, (word) => unitRow(word) !== undefined);

/** Token ranges between top-level commas. Running text swallows its commas. */
const splitAtCommas = (tokens: readonly Token[]): { from: number; to: number }[] => {
  const ranges: { from: number; to: number }[] = [];
  let from = 0;
  for (let at = 0; at < tokens.length; at++) {
    if (startsText(tokens[at]!)) break;
    if (tokens[at]!.kind !== 'comma') continue;
    ranges.push({ from, to: at });
    from = at + 1;
  }
  ranges.push({ from, to: tokens.length });
  return ranges.filter((range) => range.to > range.from);
};

/** The first line of an entry. */
export const parseHead = (text: string, line: Span, problems: Problem[]): { line: LineNode; head: Head } => {
  const { tokens, comment } = tokensOf(text, line);
  const ranges = splitAtCommas(tokens);
  let head: Head = { prefix: undefined, verb: undefined };
  const pieces: PieceNode[] = [];
  ranges.forEach((range, index) => {
    const cursor: Cursor = { tokens, at: range.from, end: range.to, problems };
    if (index > 0) {
      readPieces(text, cursor, pieces, head.verb?.row);
      return;
    }
    head = readHeadWords(cursor);
    pieces.push(readHeadPiece(text, cursor, head));
    readPieces(text, cursor, pieces, head.verb?.row);
  });
  return { line: lineNode('head', text, line, pieces, comment), head };
};

const readHeadWords = (cursor: Cursor): Head => {
  const first = peek(cursor);
  const prefixed = first?.kind === 'word' && PREFIX_WORDS.has(first.text.toLowerCase()) && cursor.end > cursor.at + 1;
  const prefix = prefixed ? wordNode(take(cursor)) : undefined;
  const token = peek(cursor);
  if (!token) return { prefix, verb: undefined };
  const row = token.kind === 'word' ? verb(token.text.toLowerCase()) : undefined;
  take(cursor);
  if (row) return { prefix, verb: { node: wordNode(token), row } };
  const near = nearest(token.text, [...VERBS.map(({ word }) => word), ...(prefix ? [] : PREFIX_WORDS)]);
  const mend = near ? { mend: { start: token.start, end: token.end, text: near } } : {};
  report(cursor.problems, 'unknown-verb', token, token.text, { wanted: near, ...mend });
  return { prefix, verb: undefined };
};

const ofDate = mayBeLed('of', 'date');

const readHeadPiece = (text: string, cursor: Cursor, head: Head): PieceNode => {
  const row = head.verb?.row;
  const start = head.prefix?.start ?? head.verb?.node.start ?? peek(cursor)?.start ?? cursor.tokens[0]!.start;
  if (row?.word === 'note') return textPiece('head', text, cursor, head.verb!.node, row);
  // Of a verb that is not known nothing is asked: what is wrong has been said.
  const slots = row ? (head.prefix ? [...row.slots, ofDate] : row.slots) : [];
  const quiet: Problem[] = [];
  const piece = rowPiece('head', head.verb?.node, row, slots, row ? cursor : { ...cursor, problems: quiet }, start);
  if (!row) cursor.at = cursor.end;
  return piece;
};

/** An indented line. */
export const parseDetails = (text: string, line: Span, row: VerbRow | undefined, problems: Problem[]): LineNode => {
  const { tokens, comment } = tokensOf(text, line);
  const first = tokens[0];
  if (first?.kind === 'time' || (first?.kind === 'date' && tokens[1]))
    return parseClock(text, line, tokens, comment, problems);
  const pieces: PieceNode[] = [];
  for (const range of splitAtCommas(tokens)) {
    readPieces(text, { tokens, at: range.from, end: range.to, problems }, pieces, row);
  }
  return lineNode(tokens.length === 0 ? 'blank' : 'details', text, line, pieces, comment);
};

const tokensOf = (text: string, line: Span): { tokens: Token[]; comment: Span | undefined } => {
  const tokens = scan(text, line);
  const last = tokens.at(-1);
  if (last?.kind !== 'comment') return { tokens, comment: undefined };
  tokens.pop();
  return { tokens, comment: { start: last.start, end: last.end } };
};

const lineNode = (
  kind: LineNode['kind'],
  text: string,
  line: Span,
  pieces: readonly PieceNode[],
  comment: Span | undefined,
  clock?: ClockNode,
): LineNode => ({ kind, start: line.start, end: line.end, indent: indentOf(text, line), pieces, clock, comment });

const indentOf = (text: string, line: Span): number => {
  let at = line.start;
  while (at < line.end && text[at]!.trim() === '') at++;
  return at - line.start;
};

/** The pieces of one range: one, or more where a remark or a text follows without its comma. */
const readPieces = (text: string, cursor: Cursor, pieces: PieceNode[], row: VerbRow | undefined): void => {
  while (cursor.at < cursor.end) {
    const before = cursor.at;
    pieces.push(readPiece(text, cursor, pieces.at(-1), row));
    if (cursor.at === before) take(cursor);
  }
};

const readPiece = (text: string, cursor: Cursor, before: PieceNode | undefined, of: VerbRow | undefined): PieceNode => {
  const token = peek(cursor)!;
  if (startsReading(cursor)) return readingPiece(cursor);
  if (token.kind === 'word' && !isAmountWord(token)) {
    const lower = token.text.toLowerCase();
    const row = (of && takesDetail(of, lower) ? detail(lower) : undefined) ?? remark(lower) ?? detail(lower);
    if (!row) return strayPiece(cursor, before, of);
    const word = wordNode(take(cursor));
    if (startsText(token)) return textPiece('remark', text, cursor, word, row);
    const isRemark = remark(lower) === row;
    if (!isRemark && of && !takesDetail(of, lower))
      report(cursor.problems, 'misplaced-detail', word, lower, { wanted: of.word });
    return rowPiece(isRemark ? 'remark' : 'detail', word, row, row.slots, cursor, word.start);
  }
  if (startsAmount(token)) return rowPiece('amount', undefined, undefined, AMOUNT_SLOTS, cursor, token.start);
  return strayPiece(cursor, before, of);
};

const AMOUNT_SLOTS = [{ takes: ['amount'] as const }];

const isAmountWord = (token: Token): boolean => isWord(token, 'gross') || isWord(token, 'none') || isWord(token, 'nd');

const readingPiece = (cursor: Cursor): PieceNode => {
  const start = peek(cursor)!.start;
  return rowPiece('reading', undefined, undefined, READING_SLOTS, cursor, start);
};

const READING_SLOTS = [{ takes: ['reading'] as const }];

const textPiece = (
  kind: PieceNode['kind'],
  text: string,
  cursor: Cursor,
  word: WordNode,
  row: NonNullable<PieceNode['row']>,
): PieceNode => {
  const last = cursor.tokens.at(-1)!;
  const first = peek(cursor);
  cursor.at = cursor.end;
  if (!first) {
    report(cursor.problems, 'missing-part', word, word.text.toLowerCase(), { wanted: 'a text' });
    return {
      kind,
      start: word.start,
      end: word.end,
      word,
      row,
      values: [],
      filled: [undefined],
      readings: [],
      scale: undefined,
      states: [],
    };
  }
  const value: Value = { shape: 'text', start: first.start, end: last.end, text: text.slice(first.start, last.end) };
  reportSwallowed(text, value, cursor.problems);
  return {
    kind,
    start: word.start,
    end: value.end,
    word,
    row,
    values: [value],
    filled: [value],
    readings: [],
    scale: undefined,
    states: [],
  };
};

/** `note stirred, out S57 …`: what follows the comma reads as a detail with a figure. */
const reportSwallowed = (text: string, value: Span, problems: Problem[]): void => {
  const tokens = scan(text, value);
  tokens.forEach((token, index) => {
    const word = tokens[index + 1];
    if (token.kind !== 'comma' || word?.kind !== 'word') return;
    const row = detail(word.text);
    const next = tokens[index + 2];
    const figure = tokens.slice(index + 2, index + 5).some((later) => later.kind === 'number');
    if (row?.group === 'flows' && next && figure) report(problems, 'swallowed-detail', word, word.text);
  });
};

const parseClock = (
  text: string,
  line: Span,
  tokens: readonly Token[],
  comment: Span | undefined,
  problems: Problem[],
): LineNode => {
  const [first, second] = tokens;
  const date = first?.kind === 'date' ? first : undefined;
  const time = date ? (second?.kind === 'time' ? second : undefined) : first;
  if (date) checkDate({ problems }, date);
  if (time && !isTime(time.text)) report(problems, 'impossible-time', time, time.text);
  const rest = tokens.slice((date ? 1 : 0) + (time ? 1 : 0));
  const start = rest[0]?.start ?? tokens.at(-1)!.end;
  const end = tokens.at(-1)!.end;
  const said = { start, end: Math.max(start, end), text: text.slice(start, end) };
  if (rest.length > 0) reportSwallowed(text, said, problems);
  const clock: ClockNode = { start: tokens[0]!.start, end, date, time, text: said };
  return lineNode('clock', text, line, [], comment, clock);
};

/** A piece that starts with no word of the language. */
const strayPiece = (cursor: Cursor, before: PieceNode | undefined, of: VerbRow | undefined): PieceNode => {
  const token = take(cursor);
  const piece: PieceNode = {
    kind: 'stray',
    start: token.start,
    end: cursor.tokens[cursor.end - 1]!.end,
    word: token.kind === 'word' || token.kind === 'quoted' ? wordNode(token) : undefined,
    row: undefined,
    values: [],
    filled: [],
    readings: [],
    scale: undefined,
    states: [],
  };
  cursor.at = cursor.end;
  if (token.kind === 'hidden')
    report(cursor.problems, 'hidden-character', token, token.text, {
      mend: { start: token.start, end: token.end, text: '' },
    });
  else if (token.kind !== 'word' && token.kind !== 'quoted')
    report(cursor.problems, 'odd-character', token, token.text);
  else reportStrayWord(cursor, token, before, of);
  return piece;
};

const reportStrayWord = (
  cursor: Cursor,
  token: Token,
  before: PieceNode | undefined,
  of: VerbRow | undefined,
): void => {
  const known = [...(of ? detailsOf(of) : DETAILS), ...REMARKS].map(({ word }) => word);
  const near = token.kind === 'word' ? nearest(token.text, known) : undefined;
  const listWord = before?.word?.text.toLowerCase();
  const inList =
    (listWord === 'in' || listWord === 'out' || listWord === 'add') &&
    !(near && isLanguageWord(near) && token.text.length > 2);
  if (inList) {
    const mend = { start: token.start, end: token.start, text: `${listWord} ` };
    report(cursor.problems, 'comma-list', token, token.text, { wanted: listWord, mend });
    return;
  }
  const mend = near ? { mend: { start: token.start, end: token.end, text: near } } : {};
  report(cursor.problems, 'unknown-word', token, token.text, { wanted: near, ...mend });
};
