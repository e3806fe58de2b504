/** A lot that nothing in the record makes. */
import { strangeLots } from './lots';
import { rule } from './rule';

export const unknownLot = rule({
  code: 'unknown-lot',
  severity: 'warning',
  atOnce: false,
  ofPlans: true,
  title: 'a lot that nothing makes',
  why: 'A lot comes in by `receive` or out of a step. One that does neither has no history, and nothing checks its weight.',
  wrong: '2026-05-04\ncast C1\n  in A 20.00 g\n  out B 19.99 g bar',
  right: '2026-05-04\nreceive A 20.00 g\ncast C1\n  in A 20.00 g\n  out B 19.99 g bar',
  entry: function* (account, look) {
    for (const { lot, near } of strangeLots(account, look)) {
      if (near) continue;
      yield { place: lot.place, says: `Nothing makes ${lot.name}: no \`receive\` and no \`out\` bears this name.` };
    }
  },
});
