/** A load so small that the scale can hardly tell it. */
import { decimal, toPlain } from '../quantity/decimal';
import { toBase } from '../quantity/units';
import { digitsIn } from './figures';
import { rule } from './rule';
import { weighingsOf } from './weighings';

/** Least load in divisions of the scale. */
const LEAST_DIVISIONS = 20;

export const scaleTooCoarse = rule({
  code: 'scale-too-coarse',
  severity: 'warning',
  atOnce: false,
  title: 'a scale too coarse for the load',
  why: 'Below twenty steps of its display a scale tells the weight to no better than some per cent. Weigh it on a finer scale, or together with more of its kind.',
  wrong: '2026-05-04\nreceive A 7 g on platform',
  right: '2026-05-04\nreceive A 7.03 g on bench',
  workshop: 'scales:\n  bench: 0.01 g\n  platform: 1 g\n',
  source:
    'OIML R 76-1, least load of a class II scale: 20 divisions. Trading scales for precious metal are held to 50 (a state weights-and-measures page quoting NIST Handbook 44).',
  entry: function* ({ entry }, { workshop }) {
    for (const { amount, said, scale } of weighingsOf(entry)) {
      const declared = scale && workshop.scales.get(scale.name);
      const division = declared?.division;
      // Two weighings that are subtracted say little of each other's size; a sum is judged by its goes.
      if (!division || said.before === amount || said.after === amount || amount.guessed) continue;
      const least = division.times(decimal(LEAST_DIVISIONS));
      const small = digitsIn(amount).find(({ unit, value }) => {
        const grams = unit?.kind === 'mass' ? toBase(value, unit) : undefined;
        return grams !== undefined && !grams.isZero() && grams.lt(least);
      });
      if (!small) continue;
      yield {
        place: small.place,
        says: `${declared.name} tells ${small.text} ${small.unit!.symbol} to half of ${toPlain(division)} g at best: too coarse below ${toPlain(least)} g.`,
      };
    }
  },
});
