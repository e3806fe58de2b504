/** How the cost of work is known, and what is missing of it. */
import { listWords } from '../../reports/words';
import type { TimedBy, Upkeep } from '../../workspace/selling/upkeep';
import { type Sentence, says } from '../model';

const TIMED: Readonly<Record<TimedBy, string>> = {
  clock: 'by the clock lines of the step',
  journal: 'by the middle of such steps that were timed here',
  'common practice':
    'as is usual where no times are written (2 h to cupel, 3 h to part, 1 h to melt; common practice, no source)',
};

export const hoursSays = (all: readonly Upkeep[]): readonly Sentence[] => {
  const by = (Object.keys(TIMED) as TimedBy[]).filter((one) => all.some(({ timedBy }) => timedBy.has(one)));
  const untimed = all.reduce((so, one) => so + one.untimed, 0);
  return [
    ...(by.length > 0 ? [says(`Hours: ${by.map((one) => TIMED[one]).join('; ')}.`)] : []),
    ...(untimed > 0
      ? [
          says(
            `${untimed === 1 ? 'One step' : `${untimed} steps`} of weighing, sampling and the like without a time ${untimed === 1 ? 'counts' : 'count'} as no work: two clock lines in an entry give it.`,
          ),
        ]
      : []),
  ];
};

export const unpricedSays = (all: readonly Upkeep[]): readonly Sentence[] => {
  const names = [
    ...new Set(all.flatMap(({ materials }) => materials.flatMap(({ name, cost }) => (cost ? [] : [name])))),
  ];
  return names.length > 0
    ? [
        says(
          `Not counted for want of a price: ${listWords(names)}; \`price\` under \`materials\` in workshop.yaml gives it.`,
        ),
      ]
    : [];
};
