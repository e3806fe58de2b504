/** A character in a note or a remark that makes it read as what it is not. */
import { codePoint } from './hidden-character';
import { formRule } from './rule';

export const hiddenInText = formRule({
  code: 'hidden-in-text',
  severity: 'warning',
  atOnce: true,
  title: 'a character in a note that turns its text round',
  why: 'Some characters are not shown and turn the direction of what stands behind them, or steer the screen that shows it: a note then reads as something else than what is written. Characters that only join or part letters are left alone.',
  wrong: '2026-05-04\nnote paid \u202e005 to the carrier',
  right: '2026-05-04\nnote paid 500 to the carrier',
  says: (problem) =>
    `A hidden character, ${codePoint(problem.found)}, stands in this text: it may read as what it is not.`,
  fix: () => 'Take it out',
});
