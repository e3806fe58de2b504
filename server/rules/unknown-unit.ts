/** A unit that is not known. */
import { formRule } from './rule';

export const unknownUnit = formRule({
  code: 'unknown-unit',
  severity: 'error',
  atOnce: false,
  title: 'a unit that is not known',
  why: 'Units are written in one way, so that a gram is never read as a grain.',
  wrong: '2026-05-04\nreceive A 203.88 grams',
  right: '2026-05-04\nreceive A 203.88 g',
  says: (problem) => `\`${problem.found}\` is no unit here. Did you mean \`${problem.wanted}\`?`,
  fix: (problem) => `Write \`${problem.wanted}\``,
});
