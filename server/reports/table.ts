/** A table as a value: what a reader sees and what a program reads, cell by cell. */

export interface Cell {
  /** As it is shown. */
  readonly text: string;
  /** As it is computed with; none where nothing is known. Shares are fractions of 1, masses grams. */
  readonly value: number | string | undefined;
}

export interface Column {
  /** Stable: programs read by it. */
  readonly key: string;
  readonly head: string;
  /** Figures stand to the right. */
  readonly right?: true;
}

export interface Table {
  /** Stable: programs read by it. */
  readonly key: string;
  readonly title: string;
  readonly columns: readonly Column[];
  readonly rows: readonly (readonly Cell[])[];
  /** Sentences that belong under it. */
  readonly notes: readonly string[];
}

export const word = (text: string): Cell => ({ text, value: text === '' ? undefined : text });
export const figure = (text: string, value: number | undefined): Cell => ({ text, value });
export const count = (value: number): Cell => ({ text: `${value}`, value });
export const NOTHING: Cell = { text: '', value: undefined };

/** For other programs: one object a row, by the columns' keys; null where nothing is known. */
export const tableJson = ({ key, title, columns, rows, notes }: Table) => ({
  key,
  title,
  rows: rows.map((row) => Object.fromEntries(columns.map((column, at) => [column.key, row[at]?.value ?? null]))),
  notes,
});

/** One line a cell, so that tables of any columns stand in one file: table, row from 1, column, value. */
export const tidyRows = (tables: readonly Table[]): (string | number | undefined)[][] =>
  tables.flatMap(({ key, columns, rows }) =>
    rows.flatMap((row, at) => columns.map((column, cell) => [key, at + 1, column.key, row[cell]?.value])),
  );

export const TIDY_COLUMNS: readonly string[] = ['table', 'row', 'column', 'value'];
