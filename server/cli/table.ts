/** Columns of text for a terminal, each as wide as its widest cell. */
import { widthOf } from './print';

export interface Column {
  readonly head: string;
  readonly right?: boolean;
}

/** The head, then the rows; two blanks between columns, none at a line's end. */
export const table = (columns: readonly Column[], rows: readonly (readonly string[])[]): readonly string[] => {
  const heads = columns.map(({ head }) => head);
  const widths = columns.map((_, at) => Math.max(...[heads, ...rows].map((row) => widthOf(row[at] ?? ''))));
  const line = (row: readonly string[]): string =>
    columns
      .map(({ right }, at) => {
        const cell = row[at] ?? '';
        const room = ' '.repeat(widths[at]! - widthOf(cell));
        return right ? room + cell : cell + room;
      })
      .join('  ')
      .trimEnd();
  return [line(heads), ...rows.map(line)];
};
