/** Less metal out of a heat than metal was charged, hidden behind flux and slag. */
import { metalMissing as missingIn } from '../engine/metal';
import { metalMissingWords } from '../reports/wording';
import { rule } from './rule';
import { slipFixes, slipsIn, slipWords } from './slip-words';
import { isFirstPart, isInDoubt, isUnread, metalPlace } from './steps';
import { lookFirst } from './suspects';

export const metalMissing = rule({
  code: 'metal-missing',
  severity: 'warning',
  atOnce: false,
  title: 'less metal out than metal in',
  why: 'What a button weighs less than the metal that was charged is in the slag, in the crucible, or gone, even where slag and button together make up the whole weight. Break the slag and look for prills, look into the crucible; melt the slag again. Or a weight is a slip.',
  wrong:
    '2026-05-04\nreceive A 80.00 g\n  material scrap\nmelt M1\n  in A 80.00 g\n  add borax-glass 20 g\n  out B 70.00 g button\n  out S 29.4 g slag',
  right:
    '2026-05-04\nreceive A 80.00 g\n  material scrap\nmelt M1\n  in A 80.00 g\n  add borax-glass 20 g\n  out B 79.70 g button\n  out S 20 g slag',
  source:
    'The usual loss of a melt of this material: see the table of usual losses; `limits` in the workshop file sets your own.',
  entry: function* (account, look) {
    const { step, entry } = account;
    if (!step || step.slag || step.verdict === 'gain' || !isFirstPart(account) || isUnread(account)) return;
    if (isInDoubt(account, look)) return;
    const loss = missingIn(step, look.workshop, look.book.make);
    if (!loss) return;
    const first = lookFirst(account, step);
    const slips = slipsIn(account, step, look);
    yield {
      place: slips[0]?.amount.place ?? first.place ?? metalPlace(step) ?? entry.name?.place ?? entry.head,
      says: `${metalMissingWords(entry, loss)}${slipWords(slips) || ' Prills in the slag?'}`,
      related: first.related,
      fixes: slipFixes(slips),
      unsure: loss.missing.guessed,
    };
  },
});
