/** One line of an entry to its pieces, or to a clock time with its text. */
import { unit as unitRow } from '../quantity/units';
import { nearest } from '../text/nearest';
import type { Span } from '../text/span';
import { detail, remark, takesDetail } from '../vocabulary/details';
import { otherVerb } from '../vocabulary/other-verbs';
import { mayBeLed, type Slot } from '../vocabulary/slots';
import { VERBS, type VerbRow, verb } from '../vocabulary/verbs';
import { KIND_WORDS, PREFIX_WORDS } from '../vocabulary/words';
import { startsAmount } from './amount';
import { clockOf, isClock } from './clock-line';
import { type Cursor, isWord, peek, report, reportOdd, take, tokenAt, wordNode, writtenAs } from './cursor';
import { rowPiece, startsReading, startsText } from './piece';
import { isBlank, type Token } from './scan';
import { DEAL_LIST_WORDS, LIST_WORDS, reportStrayWord } from './stray-word';
import { reportSwallowed } from './swallowed';
import { tokensOf } from './tokens';
import type { ClockNode, LineNode, PieceNode, Problem, Value, WordNode } from './tree';

export interface Head {
  readonly prefix: WordNode | undefined;
  readonly verb: { readonly node: WordNode; readonly row: VerbRow } | undefined;
}

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
  const { tokens, comment } = tokensOf(text, line, problems);
  const ranges = splitAtCommas(tokens);
  let head: Head = { prefix: undefined, verb: undefined };
  const pieces: PieceNode[] = [];
  if (ranges.length === 0) {
    report(problems, 'unknown-verb', { start: line.start, end: comment?.start ?? line.end }, tokens[0]?.text ?? '');
  }
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
  const prefixed = first?.kind === 'word' && PREFIX_WORDS.has(first.text.toLowerCase());
  const prefix = prefixed ? wordNode(take(cursor)) : undefined;
  const token = peek(cursor);
  if (!token) {
    if (prefix) report(cursor.problems, 'missing-part', prefix, prefix.text.toLowerCase(), { wanted: 'a verb' });
    return { prefix, verb: undefined };
  }
  const row = token.kind === 'word' ? verb(token.text.toLowerCase()) : undefined;
  take(cursor);
  if (row) return { prefix, verb: { node: wordNode(token), row } };
  const other = otherVerb(token.text);
  const near = other
    ? other.verb
    : nearest(token.text, [...VERBS.map(({ word }) => word), ...(prefix ? [] : PREFIX_WORDS)]);
  const mend = near ? { mend: { start: token.start, end: token.end, text: near } } : {};
  report(cursor.problems, 'unknown-verb', token, token.text, { wanted: near, ...mend });
  return { prefix, verb: undefined };
};

const ofDate = mayBeLed('of', 'date');

/** What is mended, taken back or gone on with is named, and not told again: `correct assay B57c`, `more ship V7`. */
const slotsBehind = (prefix: WordNode, { slots }: VerbRow): readonly Slot[] => {
  if (prefix.text.toLowerCase() === 'plan') return slots;
  return slots.map((slot, index) => (index === 0 ? slot : { ...slot, optional: true }));
};

const readHeadPiece = (text: string, cursor: Cursor, head: Head): PieceNode => {
  const row = head.verb?.row;
  const start = cursor.tokens[0]!.start;
  if (row?.word === 'note') return { ...textPiece('head', text, cursor, head.verb!.node, row), start };
  // Of a verb that is not known nothing is asked: what is wrong has been said.
  const slots = row ? (head.prefix ? [...slotsBehind(head.prefix, row), ofDate] : row.slots) : [];
  if (row) return rowPiece('head', head.verb?.node, row, slots, cursor, start);
  const end = cursor.tokens[cursor.end - 1]!.end;
  cursor.at = cursor.end;
  return { ...EMPTY_PIECE, kind: 'head', start, end };
};

/** An indented line. */
export const parseDetails = (text: string, line: Span, row: VerbRow | undefined, problems: Problem[]): LineNode => {
  const { tokens, comment } = tokensOf(text, line, problems);
  if (isClock(tokens, row)) return lineNode('clock', text, line, [], comment, clockOf(text, tokens, problems));
  const pieces: PieceNode[] = [];
  for (const range of splitAtCommas(tokens)) {
    readPieces(text, { tokens, at: range.from, end: range.to, problems }, pieces, row);
  }
  return lineNode(tokens.length === 0 ? 'blank' : 'details', text, line, pieces, comment);
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
  while (at < line.end && isBlank(text.charCodeAt(at))) at++;
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
  if (startsReading(cursor) && !isListed(cursor, before)) return readingPiece(cursor, before, of);
  if (token.kind === 'word' && !isAmountWord(token)) {
    const lower = token.text.toLowerCase();
    const row = (of && takesDetail(of, lower) ? detail(lower) : undefined) ?? remark(lower) ?? detail(lower);
    if (!row) return strayPiece(cursor, before, of);
    const word = wordNode(take(cursor));
    const kind = remark(lower) === row ? 'remark' : 'detail';
    if (kind === 'detail' && of && !takesDetail(of, lower))
      report(cursor.problems, 'misplaced-detail', word, lower, { wanted: of.word });
    if (startsText(token)) return textPiece(kind, text, cursor, word, row);
    return rowPiece(kind, word, row, row.slots, cursor, word.start);
  }
  if (startsAmount(token)) return amountPiece(cursor, of);
  return strayPiece(cursor, before, of);
};

/** `in A, C 20 g`, `pays Au 98 %, Ag 90 %`: a symbol that goes on a list which a comma does not make. */
const isListed = (cursor: Cursor, before: PieceNode | undefined): boolean => {
  const word = before?.word?.text.toLowerCase() ?? '';
  if (DEAL_LIST_WORDS.has(word)) return true;
  return LIST_WORDS.has(word) && [2, 3].some((ahead) => isMass(peek(cursor, ahead)));
};

const isMass = (token: Token | undefined): boolean => token?.kind === 'word' && unitRow(token.text)?.kind === 'mass';

const amountPiece = (cursor: Cursor, of: VerbRow | undefined): PieceNode => {
  const { problems } = cursor;
  const problemsBefore = problems.length;
  const piece = rowPiece('amount', undefined, undefined, AMOUNT_SLOTS, cursor, peek(cursor)!.start);
  if (!of || of.word === 'ship' || of.slots.some(({ takes }) => takes.includes('amount'))) return piece;
  problems.splice(problemsBefore);
  const end = lastWordIn(cursor.tokens, piece);
  const isProduct = of.takes.includes('flows') && end !== undefined && KIND_WORDS.has(end.text.toLowerCase());
  if (isProduct) {
    const found = writtenAs(cursor.tokens, piece);
    const mend = { start: piece.start, end: piece.start, text: 'out ' };
    report(problems, 'unknown-word', piece, found, { wanted: `out ${found}`, mend });
  } else report(problems, 'misplaced-detail', piece, 'a weight', { wanted: of.word });
  return piece;
};

const lastWordIn = (tokens: readonly Token[], { start, end }: Span): Token | undefined => {
  for (let at = tokenAt(tokens, end) - 1; at >= 0 && tokens[at]!.start >= start; at--)
    if (tokens[at]!.kind === 'word') return tokens[at];
  return undefined;
};

const AMOUNT_SLOTS = [{ takes: ['amount'] as const }];

const isAmountWord = (token: Token): boolean => isWord(token, 'gross') || isWord(token, 'none') || isWord(token, 'nd');

const readingPiece = (cursor: Cursor, before: PieceNode | undefined, of: VerbRow | undefined): PieceNode => {
  const symbol = peek(cursor)!;
  const joins = before?.kind === 'reading' || before?.row?.slots.some(({ takes }) => takes.includes('reading'));
  const takesReading = !of || of.takes.includes('lab') || of.takes.includes('deal');
  if (!joins && !takesReading) report(cursor.problems, 'misplaced-detail', symbol, symbol.text, { wanted: of.word });
  return rowPiece('reading', undefined, undefined, READING_SLOTS, cursor, symbol.start);
};

const READING_SLOTS = [{ takes: ['reading'] as const }];

const EMPTY_PIECE = {
  word: undefined,
  row: undefined,
  values: [],
  filled: [],
  readings: [],
  scale: undefined,
  states: [],
} as const;

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
    return { ...EMPTY_PIECE, kind, start: word.start, end: word.end, word, row, filled: [undefined] };
  }
  const value: Value = { shape: 'text', start: first.start, end: last.end, text: text.slice(first.start, last.end) };
  reportSwallowed(text, value, cursor.problems);
  return { ...EMPTY_PIECE, kind, start: word.start, end: value.end, word, row, values: [value], filled: [value] };
};

/** A piece that starts with no word of the language. */
const strayPiece = (cursor: Cursor, before: PieceNode | undefined, of: VerbRow | undefined): PieceNode => {
  const token = take(cursor);
  const end = cursor.tokens[cursor.end - 1]!.end;
  const word = token.kind === 'word' || token.kind === 'quoted' ? wordNode(token) : undefined;
  cursor.at = cursor.end;
  if (word) reportStrayWord(cursor, token, before, of);
  else if (token.kind === 'date' || token.kind === 'time') report(cursor.problems, 'stray-part', token, token.text);
  else reportOdd(cursor.problems, token);
  return { ...EMPTY_PIECE, kind: 'stray', start: token.start, end, word };
};
