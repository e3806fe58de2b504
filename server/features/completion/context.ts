/** What may stand at the cursor: the word of a new line, or a value in one of the slots of the word before it. */

import type { Entry } from '../../engine/entry';
import type { JournalPage } from '../../journal/page';
import { unit as unitRow } from '../../quantity/units';
import { parsePage } from '../../syntax/parse';
import type { PieceNode, Section } from '../../syntax/tree';
import { endRun } from '../../text/runs';
import type { Span } from '../../text/span';
import type { Lead, Slot, WordRow } from '../../vocabulary/slots';

export type Context = {
  /** What is typed of it so far, to be replaced. */
  readonly typed: string;
  /** Offsets in the page's text. */
  readonly replace: Span;
  /** The entry that the cursor is in; none on an empty line at the margin. */
  readonly entry: Entry | undefined;
} & (
  | { readonly at: 'verb'; readonly prefixed: boolean }
  | { readonly at: 'detail' }
  | {
      readonly at: 'slot';
      /** None of a weight or a reading that begins with no word. */
      readonly row: WordRow | undefined;
      /** Slots that are still open, in order; with a lead before the cursor, its slot alone. */
      readonly open: readonly Slot[];
      readonly lead: Lead | undefined;
      /** A weight stands before the cursor, and not on which scale it was read. */
      readonly weighed: boolean;
    }
  /** Behind a figure. */
  | { readonly at: 'unit'; readonly row: WordRow | undefined }
  | { readonly at: 'date' }
  /** Behind a time of day. */
  | { readonly at: 'event' }
);

/** None within a comment, a remark's free text, a quoted name. */
export const contextAt = ({ file, page, bySection }: JournalPage, offset: number): Context | undefined => {
  const { text } = page;
  const lineStart = text.lastIndexOf('\n', offset - 1) + 1;
  const before = text.slice(lineStart, offset);
  const typed = endRun(before, (letter) => !/[\s,"]/.test(letter));
  const replace = { start: offset - typed.length, end: offset };
  if (isComment(before) || (before.split('"').length - 1) % 2 === 1) return undefined;
  const isMargin = !/^\s/.test(before);
  const section = page.sections.findLast((one) => page.starts.get(one)! <= lineStart);
  const own = section?.kind === 'entry' ? section : undefined;
  const entry = own && bySection.get(own);
  const common = { typed, replace };
  const done = before.slice(0, before.length - typed.length);
  if (isMargin && /^\d[\d-]*$/.test(typed) && done === '') return { ...common, entry: undefined, at: 'date' };
  if (isMargin && /^\s*((plan|more|correct|void)\s+)?$/.test(done))
    return {
      ...common,
      entry: own && page.starts.get(own) === lineStart ? entry : undefined,
      at: 'verb',
      prefixed: done !== '',
    };
  const pieceText = done.slice(done.lastIndexOf(',') + 1);
  if (pieceText.trim() === '') return { ...common, entry, at: 'detail' };
  if (!own) return undefined;
  if (CLOCK.test(before)) return CLOCK.test(done) && hasEnded(done) ? { ...common, entry, at: 'event' } : undefined;
  const piece = pieceBefore(file, own, isMargin ? done : `${headOf(own)}\n  ${done.trim()}`);
  if (!piece || (!piece.row && !OF_NO_WORD.has(piece.kind)) || isText(piece)) return undefined;
  const last = done.trim().split(/\s+/).at(-1)!;
  if (/^~?\d[\d.]*$/.test(last)) return { ...common, entry, at: 'unit', row: rowOf(piece) };
  return { ...common, entry, at: 'slot', row: piece.row, weighed: isWeighed(piece), ...openIn(piece, last) };
};

const CLOCK = /^\s*(\d{4}-\d{2}-\d{2}\s+)?\d{1,2}:\d{2}/;

/** Nothing stands behind the time yet. */
const hasEnded = (done: string): boolean => done.replace(CLOCK, '').trim() === '';

/** Pieces that begin with no word: `61.37 g`, `Au 91.2 %`. */
const OF_NO_WORD: ReadonlySet<PieceNode['kind']> = new Set(['amount', 'reading']);

const READING: WordRow = { word: '', slots: [{ takes: ['reading'] }] };

const rowOf = ({ row, kind }: PieceNode): WordRow | undefined => (kind === 'reading' ? READING : row);

const isWeighed = ({ values, scale }: PieceNode): boolean =>
  !scale &&
  values.some(
    (value) =>
      value.shape === 'amount' &&
      [value, ...value.parts].some(({ unit }) => unit && unitRow(unit.text)?.kind === 'mass'),
  );

const isComment = (before: string): boolean => /(^|\s)#(\s|$)/.test(before);

const headOf = ({ text }: Section): string => text.split('\n', 1)[0]!;

/** The piece that the cursor stands in, read up to the cursor. */
const pieceBefore = (file: string, _: Section, text: string): PieceNode | undefined => {
  const [section] = parsePage(file, text).sections;
  return section?.lines.findLast(({ pieces }) => pieces.length > 0)?.pieces.at(-1);
};

const isText = ({ row, filled }: PieceNode): boolean =>
  row?.slots.some(
    (slot, index) => slot.takes[0] === 'text' && (filled[index] !== undefined || row.slots.length === 1),
  ) ?? false;

const LEADS: ReadonlySet<string> = new Set(['from', 'to', 'of', 'by', 'at', 'for', 'with', 'until', 'on', 'into']);

const openIn = (
  piece: PieceNode,
  last: string,
): { readonly open: readonly Slot[]; readonly lead: Lead | undefined } => {
  const { filled } = piece;
  const slots = rowOf(piece)?.slots ?? [];
  const lead = LEADS.has(last) ? (last as Lead) : undefined;
  if (lead === 'on') return { open: [{ takes: ['scale'] }], lead };
  const led = lead && slots.filter((slot) => slot.lead === lead || slot.orLed === lead);
  if (lead && led && led.length > 0) return { open: led, lead };
  // After one metal of a reading another may stand.
  return { open: slots.filter((_, index) => piece.kind === 'reading' || filled[index] === undefined), lead: undefined };
};
