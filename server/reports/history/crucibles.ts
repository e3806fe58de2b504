/** Crucibles with the heats that they have done. */
import { type CrucibleLife, usualLifeOf } from '../../engine/longview/crucibles';
import { count, figure, NOTHING, type Table, word } from '../table';
import { stepWords } from '../words';

export const crucibleTable = (lives: readonly CrucibleLife[]): Table => ({
  key: 'crucibles',
  title: 'heats of each crucible',
  columns: [
    { key: 'crucible', head: 'crucible' },
    { key: 'heats', head: 'heats', right: true },
    { key: 'usual', head: 'usually lasts', right: true },
    { key: 'first', head: 'first' },
    { key: 'last', head: 'last' },
    { key: 'last_step', head: 'in' },
    { key: 'remarks', head: '' },
  ],
  rows: lives.map((one) => {
    const usual = usualLifeOf(one, lives);
    const [first, last] = [one.heats[0], one.heats.at(-1)];
    return [
      word(one.name),
      count(one.heats.length),
      usual ? figure(`${usual.heats}`, usual.heats) : NOTHING,
      word(first?.date ?? ''),
      word(last?.date ?? ''),
      word(last ? stepWords(last) : ''),
      word(remark(one, usual)),
    ];
  }),
  notes: lives.some((one) => usualLifeOf(one, lives))
    ? []
    : [
        'How many heats one lasts is not known: write `heats` in workshop.yaml, or `until` for those that were given up.',
      ],
});

const remark = ({ heats, crucible }: CrucibleLife, usual: ReturnType<typeof usualLifeOf>): string => {
  if (crucible?.until !== undefined) return `given up ${crucible.until}`;
  if (usual && heats.length > usual.heats) return 'past its usual life';
  return usual?.learntFrom !== undefined ? `as ${usual.learntFrom} given up before it did` : '';
};
