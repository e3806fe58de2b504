/** A figure that its scale cannot have shown. */
import { type Decimal, decimalsOf, toPlain } from '../quantity/decimal';
import { toBase } from '../quantity/units';
import { digitsIn } from './figures';
import { rule } from './rule';
import { weighingsOf } from './weighings';

export const finerThanScale = rule({
  code: 'finer-than-scale',
  severity: 'warning',
  atOnce: false,
  title: 'a figure finer than its scale',
  why: 'A scale shows whole steps of its division. A figure between the steps was read on another scale, worked out, or miswritten.',
  wrong: '2026-05-04\nreceive A 20.013 g on bench',
  right: '2026-05-04\nreceive A 20.01 g on bench',
  workshop: 'scales:\n  bench: 0.01 g\n',
  entry: function* ({ entry }, { workshop }) {
    for (const { amount, scale } of weighingsOf(entry)) {
      const declared = scale && workshop.scales.get(scale.name);
      const division = declared?.division;
      if (!division || amount.guessed || amount.spread) continue;
      const finer = digitsIn(amount).find(
        ({ text, unit, value }) => unit?.symbol === 'g' && isBetweenSteps(text, toBase(value, unit), division),
      );
      if (!finer) continue;
      yield {
        place: finer.place,
        says: `${declared.name} shows steps of ${toPlain(division)} g; ${finer.text} g stands between them.`,
      };
    }
  },
});

const isBetweenSteps = (text: string, grams: Decimal, division: Decimal): boolean =>
  !grams.mod(division).isZero() || decimalsOf(text) > decimalsOf(toPlain(division));
