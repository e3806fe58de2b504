/** Something that fits nowhere in its line. */
import { formRule } from './rule';

export const strayPart = formRule({
  code: 'stray-part',
  severity: 'error',
  atOnce: false,
  title: 'something that fits nowhere in its line',
  why: 'Everything in a line has its place; what fits none is not counted.',
  wrong: '2026-05-04\nreceive A 20.00 g\ncast C1\n  in A\n  out B 19.99 g bra',
  right: '2026-05-04\nreceive A 20.00 g\ncast C1\n  in A\n  out B 19.99 g bar',
  says: (problem) =>
    problem.wanted
      ? `\`${problem.found}\` fits nowhere here. Did you mean \`${problem.wanted}\`?`
      : `\`${problem.found}\` fits nowhere in this line. A remark begins with \`note\`.`,
  fix: (problem) => `Write \`${problem.wanted}\``,
});
