/** A lot whose name differs by a letter, or by capitals, from one that there is. */
import { strangeLots } from './lots';
import { writeName } from './names';
import { rule } from './rule';

export const nearName = rule({
  code: 'near-name',
  severity: 'error',
  atOnce: false,
  ofPlans: true,
  title: 'a name nearly that of a known lot',
  why: 'Names are compared exactly, capitals too. A slip in a name cuts the lot off from its history.',
  wrong: '2026-05-04\nreceive TE-31 20.00 g\ncast C1\n  in TE-13 20.00 g\n  out B 19.99 g bar',
  right: '2026-05-04\nreceive TE-31 20.00 g\ncast C1\n  in TE-31 20.00 g\n  out B 19.99 g bar',
  entry: function* (account, look) {
    for (const { lot, near } of strangeLots(account, look)) {
      if (!near) continue;
      const born = look.book.lot(near)?.births[0];
      yield {
        place: lot.place,
        says: `Nothing makes ${lot.name}. Is ${near} meant?`,
        related: born ? [{ place: born.place, says: `${near} is made here` }] : [],
        fixes: [
          { title: `Write ${near}`, edits: [{ at: lot.place, text: writeName(near) }], safe: false, preferred: true },
        ],
      };
    }
  },
});
