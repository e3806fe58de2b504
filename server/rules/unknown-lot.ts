/** A lot that nothing in the record makes. */
import { strangeLots, strangeSettled } from './lots';
import { rule } from './rule';

export const unknownLot = rule({
  code: 'unknown-lot',
  severity: 'warning',
  atOnce: false,
  ofPlans: true,
  title: 'a lot that nothing makes',
  why: 'A lot comes in by `receive` or out of a step. One that does neither has no history, and nothing checks its weight. What is settled was shipped under the name that `settle` bears, or is a lot.',
  wrong: '2026-05-04\ncast C1\n  in A 20.00 g\n  out B 19.99 g bar',
  right: '2026-05-04\nreceive A 20.00 g\ncast C1\n  in A 20.00 g\n  out B 19.99 g bar',
  entry: function* (account, look) {
    for (const { lot, near } of strangeLots(account, look)) {
      if (near) continue;
      yield { place: lot.place, says: `Nothing makes ${lot.name}: no \`receive\` and no \`out\` bears this name.` };
    }
  },
  metal: function* ({ workspace, account: { entry } }) {
    const { name, near } = strangeSettled(workspace, entry) ?? {};
    if (!name || near) return;
    yield {
      place: name.place,
      says: `Nothing was shipped as ${name.name}, and no lot bears this name. Write the \`ship\` that it settles.`,
    };
  },
});
