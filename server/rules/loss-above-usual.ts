/** A step lost more than such a step usually does. */

import { metalMissing } from '../engine/metal';
import { lossWords } from '../reports/wording';
import { rule } from './rule';
import { slipFixes, slipsIn, slipWords } from './slip-words';
import { blamedElsewhere, isFirstPart, isUnread } from './steps';
import { lookFirst } from './suspects';

export const lossAboveUsual = rule({
  code: 'loss-above-usual',
  severity: 'warning',
  atOnce: false,
  title: 'a loss above the usual',
  why: 'What is missing after gas, slag and what was seen to be lost is more than such a step usually loses. Look for prills, a skull in the crucible, slag not weighed, a spill; or for a slip of the pen.',
  wrong: '2026-05-04\nreceive A 20.00 g\ncast C1\n  in A\n  out B 19.06 g bar',
  right: '2026-05-04\nreceive A 20.00 g\ncast C1\n  in A\n  out B 19.96 g bar',
  source:
    'What `limits` in the workshop file says is usual; else what eight or more earlier steps of the same kind lost, their median and deviation; else the table of usual losses.',
  entry: function* (account, look) {
    const { step, entry } = account;
    if (step?.verdict !== 'high' || !step.unaccounted || !isFirstPart(account) || isUnread(account)) return;
    if (blamedElsewhere(account, step, look)) return;
    // What is missing of the metal alone is the nearer cause.
    if (!step.slag && metalMissing(step, look.workshop, look.book.make)) return;
    const slips = slipsIn(account, step, look);
    const first = lookFirst(account, step);
    yield {
      place: slips[0]?.amount.place ?? first.place ?? entry.name?.place ?? entry.head,
      says: `${lossWords(step, step.unaccounted)}${slipWords(slips)}`,
      related: first.related,
      fixes: slipFixes(slips),
      unsure: step.unaccounted.guessed,
    };
  },
});
