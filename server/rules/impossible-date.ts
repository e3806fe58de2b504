/** A date that there is not. */
import { formRule } from './rule';

export const impossibleDate = formRule({
  code: 'impossible-date',
  severity: 'error',
  atOnce: false,
  title: 'a date that there is not',
  why: 'A date is written year-month-day, and the day must be in the calendar. Entries below a date that is none have no date.',
  wrong: '2026-02-30\nreceive A 20.00 g',
  right: '2026-02-28\nreceive A 20.00 g',
  says: (problem) =>
    problem.mend
      ? `\`${problem.found}\` is written ${problem.mend.text}.`
      : problem.wanted
        ? `\`${problem.found}\` may be ${problem.wanted}. Write the year first.`
        : `There is no day ${problem.found}.`,
  fix: (problem) => `Write ${problem.mend?.text}`,
});
