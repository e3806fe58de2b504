/** Comma-separated values (RFC 4180). */

/** Digits as they are, of a figure that a binary fraction would not hold. */
export interface Plain {
  readonly plain: string;
}

export type CsvCell = string | number | Plain | undefined;

/**
 * A cell that a spreadsheet would take for a formula is made text by a quote before it: what stands in a journal is data. Numbers go as they
 * are.
 */
const cellOf = (value: CsvCell): string => {
  if (value === undefined) return '';
  if (typeof value === 'object') return value.plain;
  if (typeof value === 'number') return Number.isFinite(value) ? `${value}` : '';
  const harmless = /^[=+\-@\t\r]/.test(value) ? `'${value}` : value;
  return /[",\r\n]/.test(harmless) ? `"${harmless.replaceAll('"', '""')}"` : harmless;
};

/** Lines end in CR LF, as the standard has it. */
export const csvLine = (cells: readonly CsvCell[]): string => `${cells.map(cellOf).join(',')}\r\n`;

export const csv = (columns: readonly string[], rows: readonly (readonly CsvCell[])[]): string =>
  [columns, ...rows].map(csvLine).join('');
