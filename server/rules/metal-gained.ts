/** More metal out of a heat than metal was charged. */
import { metalGain } from '../engine/metal';
import { metalGainedWords } from '../reports/wording';
import { rule } from './rule';
import { isFirstPart, isInDoubt, isUnread, metalPlace } from './steps';

export const metalGained = rule({
  code: 'metal-gained',
  severity: 'warning',
  atOnce: false,
  title: 'more metal out than metal in',
  why: 'A button weighs no more than the metal that was charged, a bead no more than the button, whatever flux and lead went round them. A heavier one has slag on it, lead left in it, metal of the heat before, or a slip in its weight. Clean it and weigh again; drive the bead again.',
  wrong:
    '2026-05-04\nreceive A 80.00 g\n  material scrap\nmelt M1\n  in A 80.00 g\n  add borax-glass 20 g\n  out B 83.00 g button\n  out S 16 g slag',
  right:
    '2026-05-04\nreceive A 80.00 g\n  material scrap\nmelt M1\n  in A 80.00 g\n  add borax-glass 20 g\n  out B 79.60 g button\n  out S 20 g slag',
  source: 'conservation of mass; JCGM 100 (GUM) 5.1.2 for the difference, k = 2',
  entry: function* (account, look) {
    const { step, entry } = account;
    if (!step || step.verdict === 'gain' || !isFirstPart(account) || isUnread(account)) return;
    // A hand-over in doubt is the nearer cause.
    if (isInDoubt(account, look)) return;
    const gain = metalGain(step, look.workshop, look.book.make);
    if (!gain) return;
    const left = entry.verb === 'cupel' ? 'Lead left in it' : 'Slag on it';
    yield {
      place: metalPlace(step) ?? entry.name?.place ?? entry.head,
      says: `${metalGainedWords(entry, gain)} ${left}, or a slip?`,
      unsure: gain.gained.guessed,
    };
  },
});
