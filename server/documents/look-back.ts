/** Tables of the look back over the record, as sections of a document. */

import type { Table } from '../reports/table';
import { endRun } from '../text/runs';
import { type Cell, type Section, says, section, sentences, table } from './model';

export const lookBack = (tables: readonly Table[]): readonly Section[] =>
  tables.flatMap(({ title, columns, rows, notes }) =>
    section(
      `${title[0]!.toUpperCase()}${title.slice(1)}`,
      table(
        columns.map(({ head, right }) => ({ head: head === '' ? 'remarks' : head, right: right ?? false })),
        rows.map((row) => ({ cells: row.map(({ text, value }) => cellOf(text, value)) })),
      ),
      sentences(notes.map((note) => says(note))),
    ),
  );

/** Masses are in grams, shares fractions of 1: the unit that stands in the text tells which. */
const cellOf = (text: string, value: number | string | undefined): Cell =>
  typeof value === 'number' && Number.isFinite(value)
    ? { text, figure: { value: plain(value), unit: unitOf(text) } }
    : { text };

const unitOf = (text: string): string => (/[%‰]/.test(text) ? '1' : text.includes(' g') ? 'g' : '');

/** Never in exponent form. */
const withoutZeros = (text: string): string =>
  text.slice(0, text.length - endRun(text, (letter) => letter === '0').length);

const plain = (value: number): string => (Number.isInteger(value) ? `${value}` : withoutZeros(value.toFixed(10)));
