/** A figure that is no number. */
import { formRule } from './rule';

export const oddNumber = formRule({
  code: 'odd-number',
  severity: 'error',
  atOnce: false,
  title: 'a figure that is no number',
  why: 'A number has digits before its point and after it, at most 15 and 12, and no sign but a minus before a temperature.',
  wrong: '2026-05-04\nreceive A -20.00 g',
  right: '2026-05-04\nreceive A 20.00 g',
  says: (problem) =>
    problem.found
      ? `\`${problem.found}\` is no number of the journal.${problem.mend?.text ? ` Write \`${problem.mend.text}\`.` : ''}`
      : 'A number is missing here.',
  fix: (problem) => `Write \`${problem.mend?.text}\``,
});
