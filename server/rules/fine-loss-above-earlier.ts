/** More of a metal lost in a step than earlier steps of its kind lost, though no more than practice allows. */

import { learntWords } from '../engine/learnt';
import { metalBeyond } from '../engine/longview/own-limits';
import { balanceRow } from '../engine/usual';
import { decimal } from '../quantity/decimal';
import { showDigits } from '../quantity/show';
import { metalWords, stepWords } from '../reports/words';
import { rule } from './rule';
import { metalPlace } from './steps';

export const fineLossAboveEarlier = rule({
  code: 'fine-loss-above-earlier',
  severity: 'warning',
  atOnce: false,
  title: 'more fine metal lost than in earlier steps',
  why: 'Of the metal charged less is in the product than this shop has been used to from such a step, by more than its weights and assays explain, though the usual losses of the trade would allow it. Look into slag and crucible, and assay again what the figure rests on. `fineweight check` looks for it, the editor does not.',
  wrong: page(99.7),
  right: page(99.84),
  source:
    'The middle and the deviation of the same loss in eight to thirty earlier steps of the kind, a limit that one more honest loss passes once in two hundred; beyond it by k standard uncertainties of its own weights and assays.',
  asksForMetals: true,
  lookBack: function* ({ view, look }) {
    const { coverage } = look.workshop.limits;
    for (const metal of ['Au', 'Ag']) {
      for (const { done, loss, lostGrams, learnt } of metalBeyond(view.done(), metal, coverage)) {
        const { step } = done;
        const { entry } = step;
        const place = metalPlace(step) ?? entry.name?.place ?? entry.head;
        yield {
          place,
          says: `${stepWords(entry)} lost ${showDigits(decimal(lostGrams), 2)} g of ${metalWords(metal)}, ${showDigits(decimal(100 * loss.share), 2)} % of what was charged; ${learntWords(learnt, balanceRow(entry.verb)?.many ?? 'steps')}. Look in slag and crucible, and assay again.`,
          causes: [place, entry.head],
        };
      }
    }
  },
});

/** Nine casts of assayed gold; the last bar holds so many parts in a hundred of what the charge did. */
function page(last: number): string {
  const kept = [99.9, 99.88, 99.91, 99.87, 99.9, 99.89, 99.88, 99.9, last];
  const casts = kept.map((percent, at) =>
    [
      `receive A${at} 100.00 g, material scrap`,
      `assay A${at} by fire, Au 90.00 ±0.01 %`,
      `cast C${at}, in A${at}, out B${at} 99.95 g bar`,
      `assay B${at} by fire, Au ${((90 * percent) / 99.95).toFixed(2)} ±0.01 %`,
    ].join('\n'),
  );
  return `2026-05-04\n${casts.join('\n')}`;
}
