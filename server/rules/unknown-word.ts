/** A detail that is not known. */
import { formRule } from './rule';

export const unknownWord = formRule({
  code: 'unknown-word',
  severity: 'error',
  atOnce: false,
  title: 'a detail that is not known',
  why: 'A detail begins with one of its words (`in`, `add`, `out`, …), with a metal, or with a figure. Anything else is left out of the balance.',
  wrong: '2026-05-04\nreceive A\n  12.40 g\n  matreial scrap',
  right: '2026-05-04\nreceive A\n  12.40 g\n  material scrap',
  says: (problem) =>
    problem.wanted
      ? `\`${problem.found}\` is not known here. Did you mean \`${problem.wanted}\`?`
      : `\`${problem.found}\` is not known here. A remark begins with \`note\`.`,
  fix: (problem) => `Write \`${problem.wanted}\``,
});
