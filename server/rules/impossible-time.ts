/** A time that there is not. */
import { formRule } from './rule';

export const impossibleTime = formRule({
  code: 'impossible-time',
  severity: 'error',
  atOnce: false,
  title: 'a time that there is not',
  why: 'A time of day runs from 00:00 to 23:59.',
  wrong: '2026-05-04\nreceive A 20.00 g\ncast C1\n  in A\n  24:10 poured\n  out B 19.99 g bar',
  right: '2026-05-04\nreceive A 20.00 g\ncast C1\n  in A\n  23:10 poured\n  out B 19.99 g bar',
  says: (problem) =>
    problem.mend ? `\`${problem.found}\` is written ${problem.mend.text}.` : `There is no time ${problem.found}.`,
  fix: (problem) => `Write ${problem.mend?.text}`,
});
