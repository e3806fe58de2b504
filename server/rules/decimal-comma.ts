/** A comma for a decimal point. */
import { formRule } from './rule';

export const decimalComma = formRule({
  code: 'decimal-comma',
  severity: 'error',
  atOnce: true,
  title: 'a comma for a decimal point',
  why: 'A comma divides details. A decimal is written with a point.',
  wrong: '2026-05-04\nreceive A 61,37 g',
  right: '2026-05-04\nreceive A 61.37 g',
  says: (problem) => `${problem.found}: a decimal has a point. Write ${problem.wanted}.`,
  fix: (problem) => `Write ${problem.wanted}`,
});
