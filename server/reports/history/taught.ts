/** What this journal teaches of usual losses, and on how many steps that rests. */
import { FEWEST_EARLIER, learntFrom, MOST_EARLIER } from '../../engine/learnt';
import type { Done } from '../../engine/longview/done';
import { decimal } from '../../quantity/decimal';
import { showDigits } from '../../quantity/show';
import { type Cell, count, figure, NOTHING, type Table, word } from '../table';
import { percent } from './groups';

/** Kinds of step that something may be learnt of: the next step of each is held against these figures. */
export const taughtTable = (done: readonly Done[]): Table => {
  const byKind = new Map<string, Done[]>();
  for (const one of done) {
    const kind = one.step.alike;
    if (kind === undefined || !one.loss) continue;
    const all = byKind.get(kind);
    if (all) all.push(one);
    else byKind.set(kind, [one]);
  }
  const kinds = [...byKind].sort(([a, one], [b, other]) => other.length - one.length || (a < b ? -1 : 1));
  const short = kinds.filter(([, steps]) => steps.length < FEWEST_EARLIER).length;
  return {
    key: 'taught',
    title: 'what this journal teaches of usual losses',
    columns: [
      { key: 'kind', head: 'kind of step' },
      { key: 'steps', head: 'steps', right: true },
      { key: 'least', head: 'lost from', right: true },
      { key: 'most', head: 'to', right: true },
      { key: 'limit', head: 'told above', right: true },
      { key: 'remarks', head: '' },
    ],
    rows: kinds.map(([kind, steps]) => rowOf(kind, steps)),
    notes: [
      `A step is held against the last ${MOST_EARLIER} of its kind, once there are ${FEWEST_EARLIER}; until then, and above them, against the built-in table of usual losses.`,
      ...(short > 0 ? [`Of ${short} ${short === 1 ? 'kind' : 'kinds'} nothing is learnt yet.`] : []),
    ],
  };
};

const rowOf = (kind: string, steps: readonly Done[]): readonly Cell[] => {
  const last = steps.slice(-MOST_EARLIER);
  const learnt = learntFrom(last.map(({ loss }) => loss!));
  if (!learnt) {
    const missing = FEWEST_EARLIER - steps.length;
    return [word(kind), count(steps.length), NOTHING, NOTHING, NOTHING, word(`${missing} more to learn from`)];
  }
  const { low, most, places, high, within } = learnt;
  const odd = learnt.count - within;
  return [
    word(kind),
    count(learnt.count),
    figure(percent(low / 100, places), low / 100),
    figure(percent(most / 100, places), most / 100),
    figure(`${showDigits(decimal(100 * high), 2)} %`, high),
    word(odd > 0 ? `${odd} far off left aside` : ''),
  ];
};
