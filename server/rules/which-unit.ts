/** A unit that is easily taken for another. */
import { formRule } from './rule';

export const whichUnit = formRule({
  code: 'which-unit',
  severity: 'hint',
  atOnce: false,
  title: 'a unit that is easily taken for another',
  why: '`gr` is a grain, 0.0648 g, and often written for grams. `oz` is the common ounce, 28.35 g; precious metal goes by the troy ounce, `ozt`, 31.10 g.',
  wrong: '2026-05-04\nreceive A 20 gr',
  right: '2026-05-04\nreceive A 20 g',
  says: (problem) =>
    problem.found === 'gr'
      ? '`gr` is a grain, 0.0648 g. Is `g` meant?'
      : '`oz` is the common ounce, 28.35 g. Is the troy ounce, `ozt`, meant?',
  fix: (problem) => `Write \`${problem.wanted}\``,
});
