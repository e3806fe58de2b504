/** A first word that is no verb. */
import { otherVerb } from '../vocabulary/other-verbs';
import { formRule } from './rule';

export const unknownVerb = formRule({
  code: 'unknown-verb',
  severity: 'error',
  atOnce: true,
  title: 'a first word that is no verb',
  why: 'An entry begins with what was done: `melt`, `receive`, `cupel` and so on. Of a line whose verb is not known nothing can be computed.',
  wrong: '2026-05-04\nmetl M1\n  in A 20.00 g',
  right: '2026-05-04\nreceive A 20.00 g\nmelt M1\n  in A 20.00 g\n  out B 19.98 g button',
  says: (problem) => {
    const more = otherVerb(problem.found)?.says;
    if (more) return `\`${problem.found}\` is no verb here. ${more}`;
    return problem.wanted
      ? `\`${problem.found}\` is no verb. Did you mean \`${problem.wanted}\`?`
      : `\`${problem.found}\` is no verb of the journal.`;
  },
  fix: (problem) => `Write \`${problem.wanted}\``,
});
