/** A comma between thousands. */
import { formRule } from './rule';

export const thousandsMark = formRule({
  code: 'thousands-mark',
  severity: 'error',
  atOnce: true,
  title: 'a comma between thousands',
  why: '`1,200` could be one thousand two hundred or one and a fifth. Thousands are written without a mark.',
  wrong: '2026-05-04\nreceive A 1,200 g',
  right: '2026-05-04\nreceive A 1200 g',
  says: (problem) =>
    `${problem.found} could be ${problem.wanted} or ${problem.found.replace(',', '.')}. Write it without the comma.`,
  fix: (problem) => `Write ${problem.wanted}`,
});
