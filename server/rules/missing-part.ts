/** Something left out of a line. */
import { formRule } from './rule';

export const missingPart = formRule({
  code: 'missing-part',
  severity: 'error',
  atOnce: false,
  title: 'something left out of a line',
  why: 'The word needs something behind it. What is not known yet is written `?`.',
  wrong: '2026-05-04\nreceive A 20.00 g, owner',
  right: '2026-05-04\nreceive A 20.00 g, owner high-fell',
  says: (problem) => `\`${problem.found}\` wants ${problem.wanted}.`,
});
