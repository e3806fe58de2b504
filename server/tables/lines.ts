/** Rows as lines of CSV and of NDJSON. */
import { decimal, toPlain } from '../quantity/decimal';
import { csvLine } from '../reports/csv';
import { columnsOf, PLACES, type Row, type TidyTable, type Value } from './schema';

export const csvHead = (table: TidyTable): string => csvLine(columnsOf(table).map(({ name }) => name));

/** Text that a spreadsheet would take for a formula is made harmless by a quote before it; a figure is never text. */
export const csvRow = (table: TidyTable, row: Row): string =>
  csvLine(
    columnsOf(table).map(({ name }) => {
      const value = row[name];
      const plain = plainOf(value);
      return typeof value === 'string' ? value : plain === undefined ? undefined : { plain };
    }),
  );

/** Exact: figures in their own digits, text as it is. */
export const jsonRow = (table: TidyTable, row: Row): string => {
  const cells = columnsOf(table).map(({ name }) => {
    const value = row[name];
    const json = typeof value === 'string' ? JSON.stringify(value) : (plainOf(value) ?? 'null');
    return `${JSON.stringify(name)}:${json}`;
  });
  return `{${cells.join(',')}}\n`;
};

/** Digits without an exponent, to as many places as a column has; none of text and of what is no number. */
const plainOf = (value: Value): string | undefined => {
  if (value === undefined || typeof value === 'string') return undefined;
  if (typeof value === 'boolean') return `${value}`;
  if (typeof value === 'number' && !Number.isFinite(value)) return undefined;
  return toPlain(decimal(value).toDecimalPlaces(PLACES));
};
