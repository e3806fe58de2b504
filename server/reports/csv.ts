/** Comma-separated values (RFC 4180). */

/**
 * A cell that a spreadsheet would take for a formula is made text by a quote before it: what stands in a journal is data. Numbers go as they
 * are.
 */
const cellOf = (value: string | number | undefined): string => {
  if (value === undefined) return '';
  if (typeof value === 'number') return Number.isFinite(value) ? `${value}` : '';
  const harmless = /^[=+\-@\t\r]/.test(value) ? `'${value}` : value;
  return /[",\r\n]/.test(harmless) ? `"${harmless.replaceAll('"', '""')}"` : harmless;
};

/** Lines end in CR LF, as the standard has it. */
export const csv = (columns: readonly string[], rows: readonly (readonly (string | number | undefined)[])[]): string =>
  [columns, ...rows].map((row) => `${row.map(cellOf).join(',')}\r\n`).join('');
