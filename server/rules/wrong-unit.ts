/** A unit of the wrong kind. */
import { formRule } from './rule';

export const wrongUnit = formRule({
  code: 'wrong-unit',
  severity: 'error',
  atOnce: true,
  title: 'a unit of the wrong kind',
  why: 'A weight is in grams, ounces and so on; a share of a metal in per cent, thousandths or karat. `ct` is a weight, 0.2 g; karat is `k`.',
  wrong: '2026-05-04\nreceive A 20.00 g\n  claim Au 14 ct',
  right: '2026-05-04\nreceive A 20.00 g\n  claim Au 14 k',
  says: (problem) => `\`${problem.found}\` does not measure ${problem.wanted}.`,
  fix: (problem) => `Write \`${problem.mend?.text}\``,
});
