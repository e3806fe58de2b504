/** A scale that reads more, or less, each time the same lot comes back to it. */
import { leaningsIn } from '../engine/longview/creep';
import { chartSettings } from '../engine/longview/series';
import { decimal } from '../quantity/decimal';
import { showDigits } from '../quantity/show';
import { stepWords } from '../reports/words';
import { rule } from './rule';

export const scaleDrifts = rule({
  code: 'scale-drifts',
  severity: 'warning',
  atOnce: false,
  title: 'a scale that drifts',
  why: 'A lot that is weighed twice on one scale, with nothing done to it between, weighs the same but for a digit now and then, as often up as down. Here each difference is within what weighing explains, but they go one way. Put a check weight on the scale and write `check-scale`. If it reads right, the metal itself gains or loses a little at each handling: moisture, dust, crumbs.',
  wrong: page([1, 1, -1, 1, 1, 1, 1, 1, 1, 1]),
  right: page([1, -1, -1, 1, 1, -1, 1, -1, 1, -1]),
  workshop: 'scales: { bench: 0.01 g }\nlimits: { cusum limit: 3 }\n',
  source:
    "Running sum (CUSUM) of the differences by sign and by rank of their size, slack 0.5 and limit 6 deviations: an honest scale is told of once in 1 300 lots that are weighed twice and differ (Page's integral equation; simulation with fixed seeds in the tests). `cusum slack` and `cusum limit` under `limits` in the workshop file set others. Signed sequential ranks: Lombard and Van Zyl 2018, from memory.",
  lookBack: function* ({ view, look }) {
    const { cusum } = chartSettings(look.workshop.limits);
    for (const [scale, all] of view.scales()) {
      const grams = all.map((one) => one.grams);
      for (const { began, told, side } of leaningsIn(grams, cusum)) {
        const differing = all.slice(began, told + 1).filter((one) => one.grams !== 0);
        const sign = side === 'up' ? 1 : -1;
        const same = differing.filter((one) => sign * one.grams > 0);
        const sum = differing.reduce((so, one) => so + one.grams, 0);
        const { to } = all[told]!.handover;
        const first = all[began]!.handover.to;
        yield {
          place: to.place,
          says: `${scale} reads ${side === 'up' ? 'more' : 'less'} each time: of ${differing.length} lots weighed on it twice that differ, since ${stepWords(first.entry)} on ${first.entry.date ?? 'no day'}, ${same.length} came out ${side === 'up' ? 'heavier' : 'lighter'} the second time, by ${showDigits(decimal(Math.abs(sum) / differing.length), 2)} g in the mean. Check it with a weight.`,
          related: [{ place: first.place, says: 'it began about here' }],
          // It rests on many lots: what else is wrong where the last of them was weighed explains none of the others.
          causes: [],
        };
      }
    }
  },
});

/** Lots weighed again, each so many hundredths of a gram away. */
function page(hundredths: readonly number[]): string {
  const lots = hundredths.map(
    (difference, at) =>
      `receive A${at} ${(20 + at).toFixed(2)} g on bench\nweigh A${at} ${(20 + at + difference / 100).toFixed(2)} g on bench`,
  );
  return `2026-05-04\n${lots.join('\n')}`;
}
