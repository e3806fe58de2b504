/** A figure without its unit. */
import { formRule } from './rule';

export const missingUnit = formRule({
  code: 'missing-unit',
  severity: 'error',
  atOnce: false,
  title: 'a figure without its unit',
  why: 'A bare number cannot be weighed against another. The fix writes the unit used last; look whether it is the right one.',
  wrong: '2026-05-04\nreceive A 203.88',
  right: '2026-05-04\nreceive A 203.88 g',
  says: (problem) => `${problem.found} has no unit.`,
  fix: (problem) => `Write ${problem.found} ${problem.wanted}`,
});
