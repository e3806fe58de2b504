/** What may stand at the cursor: the word of a new line, or a value in one of the slots of the word before it. */

import type { Entry } from '../../engine/entry';
import type { JournalPage } from '../../journal/page';
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
  /** Slots that are still open, in order; with a lead before the cursor, its slot alone. */
  | { readonly at: 'slot'; readonly row: WordRow; readonly open: readonly Slot[]; readonly lead: Lead | undefined }
  /** Behind a figure. */
  | { readonly at: 'unit'; readonly row: WordRow | undefined }
  | { readonly at: 'date' }
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
  if (!own || /^\s*(\d{4}-\d{2}-\d{2}\s+)?\d{1,2}:\d{2}/.test(before)) return undefined;
  const piece = pieceBefore(file, own, isMargin ? done : `${headOf(own)}\n  ${done.trim()}`);
  if (!piece?.row || isText(piece)) return undefined;
  const last = done.trim().split(/\s+/).at(-1)!;
  if (/^~?\d[\d.]*$/.test(last)) return { ...common, entry, at: 'unit', row: piece.row };
  return { ...common, entry, at: 'slot', row: piece.row, ...openIn(piece, last) };
};

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
  { row, filled }: PieceNode,
  last: string,
): { readonly open: readonly Slot[]; readonly lead: Lead | undefined } => {
  const slots = row!.slots;
  const lead = LEADS.has(last) ? (last as Lead) : undefined;
  if (lead === 'on') return { open: [{ takes: ['scale'] }], lead };
  const led = lead && slots.filter((slot) => slot.lead === lead || slot.orLed === lead);
  if (lead && led && led.length > 0) return { open: led, lead };
  return { open: slots.filter((_, index) => filled[index] === undefined), lead: undefined };
};
