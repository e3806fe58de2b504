/** A comma used as a list. */
import { formRule } from './rule';

export const commaList = formRule({
  code: 'comma-list',
  severity: 'error',
  atOnce: false,
  title: 'a comma used as a list',
  why: 'A comma begins a new detail, so each lot needs its own word: `in A, in B`.',
  wrong: '2026-05-04\nreceive A 20.00 g\nreceive B 10.00 g\nblend J1\n  in A, B\n  out J1x 30.00 g',
  right: '2026-05-04\nreceive A 20.00 g\nreceive B 10.00 g\nblend J1\n  in A, in B\n  out J1x 30.00 g',
  says: (problem) => `A comma makes no list: write \`${problem.wanted} ${problem.found}\`.`,
  fix: (problem) => `Write \`${problem.wanted} ${problem.found}\``,
});
