/** Plans that wait for each other. */
import { circleOf } from '../advice/plans';
import { stepWords } from '../reports/words';
import { rule } from './rule';

export const plansInACircle = rule({
  code: 'plans-in-a-circle',
  severity: 'error',
  atOnce: false,
  title: 'plans that wait for each other',
  why: 'A plan takes what another is to make, and that one takes, straight or through others, what the first is to make. None of them can be done first, and nothing can be worked out. One of the names is wrong, or one of the lots has to come in from elsewhere.',
  wrong: '2026-05-04\nplan melt M1\n  in B\n  out A 20 g button\nplan cast M2\n  in A\n  out B 20 g bar',
  right:
    '2026-05-04\nreceive B 20 g\n  material scrap\nplan melt M1\n  in B\n  out A 20 g button\nplan cast M2\n  in A\n  out C 20 g bar',
  source: 'a step is done with what is there',
  plan: function* (entry, workspace) {
    const circle = circleOf(workspace, entry);
    const [first, ...others] = circle ?? [];
    if (!first) return;
    const name = first.flow.lot!.name;
    const own = stepWords(entry);
    const then = others.map(({ flow, maker }) => `which takes ${flow.lot!.name} of ${stepWords(maker)}`).join(', ');
    yield {
      place: first.flow.place,
      says:
        others.length === 0
          ? `${own} takes ${name}, which it is to make itself. Which lot goes in?`
          : `${own} takes ${name} of ${stepWords(first.maker)}, ${then}: these plans wait for each other. Which lot comes from elsewhere?`,
      related: circle!.flatMap(({ flow, maker }) =>
        maker === entry && others.length === 0
          ? []
          : [{ place: maker.name?.place ?? maker.head, says: `${flow.lot!.name} is planned here` }],
      ),
    };
  },
});
