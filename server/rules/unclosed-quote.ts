/** A quote that is not closed. */
import { formRule } from './rule';

export const unclosedQuote = formRule({
  code: 'unclosed-quote',
  severity: 'error',
  atOnce: false,
  title: 'a quote that is not closed',
  why: 'A name in quotes ends with a quote on the same line.',
  wrong: '2026-05-04\nreceive "old ring',
  right: '2026-05-04\nreceive "old ring"',
  says: (problem) => `The name ${problem.found} lacks its closing quote.`,
  fix: () => 'Close the quote',
});
