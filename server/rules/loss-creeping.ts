/** Steps of one kind lose more than they did, each by so little that none is told. */
import { type CusumSettings, risesIn, type Shift } from '../engine/longview/creep';
import { chartSettings } from '../engine/longview/series';
import { median } from '../engine/statistics/robust';
import { balanceRow } from '../engine/usual';
import { decimal } from '../quantity/decimal';
import { showDigits } from '../quantity/show';
import { stepWords } from '../reports/words';
import { rule } from './rule';

export const lossCreeping = rule({
  code: 'loss-creeping',
  severity: 'warning',
  atOnce: false,
  title: 'a loss that creeps up',
  why: 'Each step loses no more than such a step usually does, but one after the other they lose more than those before. Something has changed: the crucible, the flux, the draught, a hand, a scale. Look for what is new since the step that is named. `fineweight history --part limits` shows the whole series. Told once for one lasting change.',
  wrong: page(0.04),
  right: page(0),
  workshop: 'limits: { cusum limit: 3 }\n',
  source:
    "Running sum (CUSUM) of each loss's rank among all before it, slack 0.5 and limit 6 deviations: an honest series is told of once in some 2 600 steps of its kind (Page's integral equation; simulation with fixed seeds in the tests). `cusum slack` and `cusum limit` under `limits` in the workshop file set others. Sequential ranks: Parent 1965, McDonald 1990, from memory.",
  lookBack: function* ({ view, look }) {
    const { cusum } = chartSettings(look.workshop.limits);
    for (const steps of view.losses()) {
      const shares = steps.map(({ loss }) => loss.share);
      for (const { from, began, told } of keptRises(steps, shares, cusum)) {
        const { entry } = steps[told]!;
        const place = entry.name?.place ?? entry.head;
        const first = steps[began]!.entry;
        const [now, before] = [middle(shares.slice(began, told + 1)), middle(shares.slice(from, began))];
        // Ranks rise by less than a scale can tell, where one weight after another is off by the same.
        if (now === before) continue;
        const many = balanceRow(entry.verb)?.many ?? 'steps';
        yield {
          place,
          says: `Since ${stepWords(first)} on ${first.date ?? 'no day'} ${many} of this kind lose more than before: ${now} of what goes in, earlier ${before}. Together that is hardly chance. Look for what has changed.`,
          related: first === entry ? [] : [{ place: first.name?.place ?? first.head, says: 'it began about here' }],
          // It rests on many steps: what else is wrong in the last of them explains none of the others.
          causes: [],
        };
      }
    }
  },
});

const kept = new WeakMap<object, { readonly of: string; readonly rises: readonly Shift[] }>();

/** A list of losses is the same object until an edit changes it. */
const keptRises = (list: object, shares: readonly number[], { slack, limit }: CusumSettings): readonly Shift[] => {
  const of = `${slack} ${limit}`;
  const known = kept.get(list);
  if (known?.of === of) return known.rises;
  const rises = risesIn(shares, { slack, limit });
  kept.set(list, { of, rises });
  return rises;
};

/** `0.30 %`; where more comes out than goes in, `2.2 % taken up`. */
const middle = (shares: readonly number[]): string => {
  const percent = 100 * median(shares);
  return `${showDigits(decimal(Math.abs(percent)), 2)} %${percent < 0 ? ' taken up' : ''}`;
};

/** Casts of silver, of which the last ones lose so many grams more. */
function page(more: number): string {
  const lost = [0.01, 0.05, 0.02, 0.04, 0.01, 0.05, 0.03, 0.02, 0.04, 0.03];
  const worse = [0.03, 0.04, 0.02, 0.04, 0.03, 0.04];
  const all = [...lost, ...worse.map((grams) => grams + more)];
  const casts = all.map(
    (grams, at) =>
      `receive A${at} 20.00 g, material silver\ncast C${at}, in A${at}, out B${at} ${(20 - grams).toFixed(2)} g bar`,
  );
  return `2026-05-04\n${casts.join('\n')}`;
}
