/** More of a metal out of a step than went in, by assays and weights. */

import { metalWords, stepWords } from '../reports/words';
import { assaysBehind, exchangeIn, gramsWords, spreadGrams, tellingBalances } from './fine-words';
import { rule } from './rule';
import { metalPlace } from './steps';

export const fineGained = rule({
  code: 'fine-gained',
  severity: 'warning',
  atOnce: false,
  title: 'more fine metal out than in',
  why: 'No step makes gold or silver. Where the assays before and after say so, one of them is wrong, a sample was not like its metal, or metal of an earlier heat came along from the crucible. Assay again the side that is less sure.',
  wrong:
    '2026-05-04\nreceive A 100.00 g\nassay A by fire\n  Au 90.00 ±0.05 %\ncast T1\n  in A 100.00 g\n  out B 99.90 g bar\nassay B by fire\n  Au 91.50 ±0.05 %',
  right:
    '2026-05-04\nreceive A 100.00 g\nassay A by fire\n  Au 90.00 ±0.05 %\ncast T1\n  in A 100.00 g\n  out B 99.90 g bar\nassay B by fire\n  Au 89.95 ±0.05 %',
  source: 'conservation of mass; JCGM 100 (GUM) 5.1.2 for the difference, beyond k = 3; ILAC-G8 for the guard band',
  metal: function* (subject) {
    const { step, entry } = subject.account;
    const balances = tellingBalances(subject);
    const exchange = exchangeIn(balances, subject.look.workshop.limits.coverage);
    for (const balance of balances) {
      // Gold for silver is told as what is missing.
      if (balance.verdict !== 'gained' || balance === exchange?.gained) continue;
      const metal = metalWords(balance.metal);
      yield {
        place: metalPlace(step!) ?? entry.name?.place ?? entry.head,
        says: `${spreadGrams(balance.out)} of ${metal} came out of ${stepWords(entry)}, ${gramsWords(balance.unaccounted)} more than went in. Assay again, or look for metal of an earlier heat.`,
        related: assaysBehind(balance),
      };
    }
  },
});
