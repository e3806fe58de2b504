/** More came out of a step than went in. */
import { gainWords } from '../reports/wording';
import { rule } from './rule';
import { slipFixes, slipsIn, slipWords } from './slip-words';
import { blamedElsewhere, isFirstPart, isUnread } from './steps';
import { lookFirst } from './suspects';

export const moreOutThanIn = rule({
  code: 'more-out-than-in',
  severity: 'error',
  atOnce: false,
  title: 'more out than in',
  why: 'Metal does not grow. More out than in is a slip of the pen, something that went in unwritten, or metal of the heat before that hung in the crucible. It deserves the same care as a loss.',
  wrong: '2026-05-04\nreceive A 20.00 g\ncast C1\n  in A\n  out B 20.90 g bar',
  right: '2026-05-04\nreceive A 20.00 g\ncast C1\n  in A\n  out B 19.96 g bar',
  source: 'JCGM 100 (GUM) 5.1.2: sum of independent readings, k = 2',
  entry: function* (account, look) {
    const { step, entry } = account;
    if (step?.verdict !== 'gain' || !step.unaccounted || !isFirstPart(account) || isUnread(account)) return;
    if (blamedElsewhere(account, step, look)) return;
    const slips = slipsIn(account, step, look);
    const first = lookFirst(account, step);
    yield {
      place: slips[0]?.amount.place ?? first.place ?? entry.name?.place ?? entry.head,
      says: `${gainWords(step, step.unaccounted)}${slipWords(slips)}`,
      related: first.related,
      fixes: slipFixes(slips),
      unsure: step.unaccounted.guessed,
    };
  },
});
