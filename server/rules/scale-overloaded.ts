/** More on a scale than it can carry. */
import { toBase } from '../quantity/units';
import { digitsIn } from './figures';
import { rule } from './rule';
import { weighingsOf } from './weighings';

export const scaleOverloaded = rule({
  code: 'scale-overloaded',
  severity: 'error',
  atOnce: true,
  ofPlans: true,
  title: 'more on a scale than it carries',
  why: 'Above its capacity a scale shows nothing, or nonsense. Either the figure, the unit or the scale is wrong.',
  wrong: '2026-05-04\nreceive A 803.40 g on bench',
  right: '2026-05-04\nreceive A 803.4 g on platform',
  workshop: 'scales:\n  bench: { division: 0.01 g, capacity: 600 g }\n  platform: 0.1 g\n',
  entry: function* ({ entry }, { workshop }) {
    for (const { amount, scale } of weighingsOf(entry)) {
      const declared = scale && workshop.scales.get(scale.name);
      if (!declared?.capacity) continue;
      const over = digitsIn(amount).find(
        ({ unit, value }) => unit?.kind === 'mass' && toBase(value, unit).gt(declared.capacity!),
      );
      if (!over) continue;
      yield {
        place: over.place,
        says: `${declared.name} carries ${declared.capacity} g at most; ${over.text} ${over.unit!.symbol} is more.`,
      };
    }
  },
});
