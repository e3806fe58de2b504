/**
 * Decimal points below each other, at a column of one's own choosing: a fixed one, so that a figure which grows a digit moves no neighbour, and a
 * comparison of two versions shows the line that changed and no other. A line that reaches beyond the column stays as it is.
 */
import { unit } from '../quantity/units';
import type { AmountNode, LineNode, NumberNode } from '../syntax/tree';
import type { Span } from '../text/span';

/** A stretch of a text, and what is to stand there. */
export interface TextEdit extends Span {
  readonly text: string;
}

/** The edits of a line, with as many blanks before its weight as put the point there. `column` counts from 1. */
export const linedUp = (text: string, line: LineNode, edits: readonly TextEdit[], column: number): TextEdit[] => {
  const weight = weightOf(line);
  const from = weight && blanksBefore(text, weight.amount.start);
  if (!weight || from === undefined || from <= line.start + line.indent) return [...edits];
  const before = lengthOf(edits, line.start, from);
  const head = lengthOf(edits, weight.amount.start, pointOf(weight.number));
  const blanks = Math.max(1, column - 1 - before - head);
  const others = edits.filter(({ start, end }) => !(start === from && end === weight.amount.start));
  return [...others, { start: from, end: weight.amount.start, text: ' '.repeat(blanks) }];
};

/** The first weight of a line of details. */
const weightOf = ({ kind, pieces }: LineNode): { amount: AmountNode; number: NumberNode } | undefined => {
  if (kind !== 'details') return undefined;
  for (const value of pieces[0]?.values ?? []) {
    if (value.shape !== 'amount') continue;
    const [number] = value.parts;
    const written = number?.unit ?? value.unit;
    if (number && written && unit(written.text)?.kind === 'mass') return { amount: value, number };
  }
  return undefined;
};

const blanksBefore = (text: string, at: number): number | undefined => {
  let from = at;
  while (from > 0 && (text[from - 1] === ' ' || text[from - 1] === '\t')) from--;
  return from < at ? from : undefined;
};

/** Where the point stands, or would stand behind a whole number. */
const pointOf = ({ start, text }: NumberNode): number => {
  const at = text.indexOf('.');
  return start + (at < 0 ? text.length : at);
};

/** How long a stretch is once it is edited. */
const lengthOf = (edits: readonly TextEdit[], from: number, to: number): number =>
  edits
    .filter(({ start, end }) => from <= start && end <= to)
    .reduce((length, { start, end, text }) => length + text.length - (end - start), to - from);
