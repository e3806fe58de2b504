/** A figure without its unit. */
import { formRule } from './rule';

export const missingUnit = formRule({
  code: 'missing-unit',
  severity: 'error',
  atOnce: false,
  title: 'a figure without its unit',
  why: 'A bare number cannot be weighed against another. The fix writes the commonest unit; look whether it is the right one.',
  wrong: '2026-05-04\nreceive A 203.88',
  right: '2026-05-04\nreceive A 203.88 g',
  says: (problem) =>
    problem.mend
      ? `${problem.found} has no unit. Is it \`${problem.wanted}\`?`
      : `${problem.found} has no currency. Write one behind it, such as \`USD\`.`,
  fix: (problem) => `Write ${problem.wanted}`,
});
