/** Writes into the text of an entry what a plan leaves out. The text that comes of it is read like any other. */

import type { Entry, Flow } from '../engine/entry';
import type { Section } from '../syntax/tree';
import { lineAt } from '../text/lines';
import type { Part, Writing } from './advice';

export interface FilledText {
  readonly text: string;
  /** Of each line the line that it was before; undefined for a new one. */
  readonly lines: readonly (number | undefined)[];
}

interface Line {
  text: string;
  readonly was: number | undefined;
}

/** The section's text with these things written in. `entry` is what the section was read as. */
export const filled = (section: Section, entry: Entry, writings: readonly Writing[]): FilledText => {
  const text = withAmounts(section.text, writings);
  const end = text.includes('\r\n') ? '\r' : '';
  const lines: Line[] = text.split('\n').map((line, was) => ({ text: line, was }));
  for (const part of PARTS) {
    const own = writings.flatMap((one) => ('part' in one && one.part === part ? [one.line] : []));
    if (own.length === 0) continue;
    const at = placeFor(part, lines, section, entry);
    lines.splice(at, 0, ...own.map((line) => ({ text: `  ${line}${end}`, was: undefined })));
  }
  return { text: lines.map((line) => line.text).join('\n'), lines: lines.map(({ was }) => was) };
};

/** From the last to the first, so that what was put in stays where it is. */
const PARTS: readonly Part[] = ['out', 'add', 'gear'];

/** Before which line of the text a new one goes. */
const placeFor = (part: Part, lines: readonly Line[], section: Section, entry: Entry): number => {
  if (part === 'gear') return 1;
  const end = lines.findLastIndex(({ text }) => text.trim() !== '' && !text.trimStart().startsWith('# ')) + 1;
  if (part === 'out') return Math.max(1, end);
  const charged = entry.flows.filter(({ word }) => word === 'in' || word === 'add');
  const last = Math.max(0, ...charged.map(({ place }) => lineAt(section.text, place.start)));
  return lines.findLastIndex(({ was }) => was !== undefined && was <= last) + 1;
};

const withAmounts = (text: string, writings: readonly Writing[]): string => {
  const edits = writings.flatMap((one) => ('flow' in one ? [editFor(one.flow, one.amount)] : []));
  return edits
    .sort((a, b) => b.start - a.start)
    .reduce((so, { start, end, put }) => so.slice(0, start) + put + so.slice(end), text);
};

/** In the place of `?`, else behind the name, or behind the word of a line without one. */
const editFor = (flow: Flow, amount: string): { start: number; end: number; put: string } => {
  if (flow.amount) return { start: flow.amount.place.start, end: flow.amount.place.end, put: amount };
  // A product without a name has that of its kind, placed at the kind.
  const isNamed = flow.kind === undefined || !flow.lot?.name.includes('.');
  const name = flow.material ?? (isNamed ? flow.lot : undefined);
  const at = name?.place.end ?? flow.place.start + flow.word.length;
  return { start: at, end: at, put: ` ${amount}` };
};
