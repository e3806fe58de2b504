/** A detail that does not belong to the verb. */
import { formRule } from './rule';

export const misplacedDetail = formRule({
  code: 'misplaced-detail',
  severity: 'warning',
  atOnce: false,
  title: 'a detail that does not belong to the verb',
  why: 'Each verb takes its own details: a bead belongs to an assay, flux to a melt. A detail in the wrong entry is not counted.',
  wrong: '2026-05-04\nreceive A 20.00 g\nweigh A 20.00 g\n  add borax-glass 10 g',
  right: '2026-05-04\nreceive A 20.00 g\nweigh A 20.00 g',
  says: (problem) =>
    problem.found === ALONE
      ? `A weight alone does not belong to \`${problem.wanted}\`. Write what weighs so before it.`
      : `\`${problem.found}\` does not belong to \`${problem.wanted}\`.`,
});

/** What the parser finds of a weight with no word before it. */
const ALONE = 'a weight';
