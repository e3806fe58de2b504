/** A scale that reads more, or less, each time the same lot comes back to it. */
import { scaleDriftsIn } from '../reports/history/drifts';
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
    for (const { first, told, says } of scaleDriftsIn(view, look.workshop.limits)) {
      yield {
        place: told.place,
        says,
        related: [{ place: first.place, says: 'it began about here' }],
        // It rests on many lots: what else is wrong where the last of them was weighed explains none of the others.
        causes: [],
      };
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
