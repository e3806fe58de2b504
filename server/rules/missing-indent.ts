/** A detail at the margin. */
import { formRule } from './rule';

export const missingIndent = formRule({
  code: 'missing-indent',
  severity: 'warning',
  atOnce: false,
  title: 'a detail at the margin',
  why: 'A line at the margin is a day or an entry; what belongs to an entry is set in by two blanks.',
  wrong: '2026-05-04\nreceive A 20.00 g\nnote for the others\nmelt M1\nin A 20.00 g\n  out B 19.98 g button',
  right: '2026-05-04\nreceive A 20.00 g\nmelt M1\n  in A 20.00 g\n  out B 19.98 g button',
  says: (problem) => `\`${problem.found}\` belongs to the entry above: set it in.`,
  fix: () => 'Set the line in',
  safe: true,
});
