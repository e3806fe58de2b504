/** Two details run together. */
import { formRule } from './rule';

export const runOn = formRule({
  code: 'run-on',
  severity: 'error',
  atOnce: false,
  title: 'two details run together',
  why: 'A detail stands on a line of its own, or after a comma. It is read as if it did, but the next reader should not have to guess.',
  wrong: '2026-05-04\nreceive A 20.00 g\ncast C1 in A\n  out B 19.98 g bar',
  right: '2026-05-04\nreceive A 20.00 g\ncast C1\n  in A\n  out B 19.98 g bar',
  says: (problem) => `\`${problem.found}\` begins a detail of its own. Give it a line, or put a comma before it.`,
  fix: (problem) => (problem.mend?.text === ', ' ? 'Put a comma before it' : 'Give it a line of its own'),
});
