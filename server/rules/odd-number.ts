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
  says: ({ found, mend }) => {
    if (!found) return 'A number is missing here.';
    const short = mend && mend.text !== '' && mend.text.length <= LONGEST_TOLD ? ` Write \`${mend.text}\`.` : '';
    return `\`${found}\` is no number of the journal.${short}`;
  },
  fix: (problem) => `Write \`${problem.mend?.text}\``,
});

/** `1e99` written out helps nobody. */
const LONGEST_TOLD = 20;
