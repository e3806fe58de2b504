/** A name that reads as something else. */
import { formRule } from './rule';

export const nameNeedsQuotes = formRule({
  code: 'name-needs-quotes',
  severity: 'error',
  atOnce: false,
  title: 'a name that reads as something else',
  why: 'What reads as an amount, a date, a unit, a metal or a word of the language is a name only in quotes.',
  wrong: '2026-05-04\nreceive 14k 20.00 g',
  right: '2026-05-04\nreceive "14k" 20.00 g',
  says: (problem) => `\`${problem.found}\` reads as something else. As a name it needs quotes.`,
  fix: (problem) => `Write ${problem.mend?.text}`,
});
