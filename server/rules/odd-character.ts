/** A character that means nothing here. */
import { formRule } from './rule';

export const oddCharacter = formRule({
  code: 'odd-character',
  severity: 'error',
  atOnce: false,
  title: 'a character that means nothing here',
  why: 'Names hold letters, digits and `- _ . /`. Other characters belong in quotes or in a note.',
  wrong: '2026-05-04\nreceive A 20.00 g !',
  right: '2026-05-04\nreceive A 20.00 g',
  says: (problem) =>
    `\`${problem.found}\` means nothing here.${'$€£¥'.includes(problem.found) ? ' Money is written with its code: `1200.00 USD`.' : ''}`,
  fix: (problem) => `Write \`${problem.mend?.text}\``,
});
