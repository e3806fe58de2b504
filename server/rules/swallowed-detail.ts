/** A detail, or an entry, inside running text. */
import { formRule } from './rule';

export const swallowedDetail = formRule({
  code: 'swallowed-detail',
  severity: 'hint',
  atOnce: false,
  title: 'a detail or an entry inside running text',
  why: 'A note, a clock time and the words behind a date run to the end of the line, commas and all. A detail behind the comma, or an entry behind a date, is part of the text and not counted.',
  wrong: '2026-05-04\nreceive A 20.00 g\ncast C1\n  in A\n  10:10 poured, out C 1.20 g prills\n  out B 18.79 g bar',
  right: '2026-05-04\nreceive A 20.00 g\ncast C1\n  in A\n  10:10 poured\n  out C 1.20 g prills\n  out B 18.79 g bar',
  says: (problem) => `\`${problem.found}\` is part of the text here and not counted. Give it a line of its own.`,
});
