/** A reading that no other contradicts alone, but all of its history together. */
import { type HistoryReading, reconciledHistory } from '../engine/accounts/reconciled';
import { decimal } from '../quantity/decimal';
import { showDigits } from '../quantity/show';
import { figureWords, readingWords } from '../reports/reconcile';
import { isTwoLots } from './name-used-twice';
import { type Related, rule } from './rule';
import { saidElsewhere } from './said-elsewhere';

/** So many others are shown that pull hardest against it. */
const MOST_SHOWN = 3;

export const suspectReading = rule({
  code: 'suspect-reading',
  severity: 'warning',
  atOnce: false,
  title: 'a reading that its history does not bear out',
  why: 'Each weight and assay is held against all others that hang together with it by steps, divisions and fine metal. Here every pair agrees, but the whole does not, and it would if this one reading were another. Weigh or assay again what is said here, before what it is checked by. `fineweight reconcile` shows the whole history. The editor looks into histories of up to two hundred steps, on the pages that are open; `fineweight check` into all.',
  wrong:
    '2026-05-04\nreceive A 100.00 g\nassay A by fire at north-lab\n  Au 90.00 ±0.02 % standard\nassay A by fire at harbour-lab\n  Au 89.82 ±0.10 % standard\nassay A by fire at ridge-lab\n  Au 89.83 ±0.10 % standard\nassay A by fire at moor-lab\n  Au 89.82 ±0.10 % standard\nassay A by fire at fell-lab\n  Au 89.83 ±0.10 % standard',
  right:
    '2026-05-04\nreceive A 100.00 g\nassay A by fire at north-lab\n  Au 89.84 ±0.02 % standard\nassay A by fire at harbour-lab\n  Au 89.82 ±0.10 % standard\nassay A by fire at ridge-lab\n  Au 89.83 ±0.10 % standard\nassay A by fire at moor-lab\n  Au 89.82 ±0.10 % standard\nassay A by fire at fell-lab\n  Au 89.83 ±0.10 % standard',
  source:
    'measurement test with serial elimination, Sidak over all readings that are checked, 5 in 100 for a history: Narasimhan and Jordache 2000, Data Reconciliation and Gross Error Detection, as in published summaries',
  history: function* ({ history, accounts, look }) {
    // That is what does not fit.
    if (history.stories.some(isTwoLots)) return;
    const aside = saidElsewhere(history, accounts, look);
    const { readings, suspects, converged } = reconciledHistory(history, accounts.metals, look.workshop, aside);
    if (!converged) return;
    for (const { reading, score, instead, insteadU, alike } of suspects) {
      if (!reading || instead === undefined) continue;
      const given = figureWords(reading, instead, insteadU ?? reading.u);
      const times = showDigits(decimal(score / look.workshop.limits.coverage), 2);
      const again = reading.kind === 'mass' ? 'Weigh it again' : 'Assay it again';
      const others = alike.length > 0 ? ', or what is marked beside it' : '';
      yield {
        place: reading.place,
        says: `${readingWords(reading)}: ${figureWords(reading, reading.value, reading.u)} is written, but all that hangs together with it gives ${given}: ${times} times what their errors allow. ${again}${others}.`,
        related: [...alike.map((one) => related(one, 'fits as well as the wrong one')), ...against(reading, readings)],
        causes: [reading, ...alike].map(({ place }) => place),
      };
    }
  },
});

const related = (one: HistoryReading, says: string): Related => ({
  place: one.place,
  says: `${readingWords(one)} ${says}`,
});

/** What checks it most: readings of the same kind that moved hardest. */
const against = (suspect: HistoryReading, readings: readonly HistoryReading[]): readonly Related[] =>
  readings
    .filter((one) => one !== suspect && one.metal === suspect.metal && (one.score ?? 0) > 1)
    .sort((a, b) => b.score! - a.score!)
    .slice(0, MOST_SHOWN)
    .map((one) => related(one, `is ${figureWords(one, one.value, one.u)}`));
