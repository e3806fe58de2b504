/** Of what was used, more afterwards than before. */
import type { Amount } from '../engine/entry';
import { grown } from '../engine/weigh';
import { showMass } from '../quantity/show';
import { type Fix, rule } from './rule';

export const afterAboveBefore = rule({
  code: 'after-above-before',
  severity: 'error',
  atOnce: true,
  title: 'more afterwards than before',
  why: 'Behind a line of a charge, `before` and `after` tell what was used of it, and what is used grows lighter. The two stand the wrong way round, or one is miswritten. What was filled into a vessel is written as `gross` and `tare`.',
  wrong: '2026-05-04\nreceive A 20.00 g\nmelt M1\n  in A\n  add borax-glass, before 388.2 g, after 412.3 g',
  right: '2026-05-04\nreceive A 20.00 g\nmelt M1\n  in A\n  add borax-glass, before 412.3 g, after 388.2 g',
  entry: function* ({ entry }, { workshop }) {
    for (const { said, amount } of entry.flows) {
      const pair = amount ? undefined : grown(said, workshop);
      if (!pair || !said.before || !said.after) continue;
      yield {
        place: said.after.place,
        says: `${showMass(pair.after)} after is more than ${showMass(pair.before)} before: nothing is used up so. Exchange the two, or write what was filled in as gross and tare.`,
        related: [{ place: said.before.place, says: 'before' }],
        fixes: exchange(said.before, said.after),
      };
    }
  },
});

const exchange = (one: Amount, other: Amount): Fix[] => {
  if (one.figure?.form !== 'reading' || other.figure?.form !== 'reading') return [];
  const [a, b] = [one.figure.digits, other.figure.digits];
  if (a.unit !== b.unit || !a.unit) return [];
  return [
    {
      title: 'Exchange the two',
      edits: [
        { at: a.place, text: `${b.text} ${a.unit.symbol}` },
        { at: b.place, text: `${a.text} ${a.unit.symbol}` },
      ],
      safe: false,
    },
  ];
};
