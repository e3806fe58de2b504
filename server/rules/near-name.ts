/** A lot, or a shipment that is settled, whose name differs by a letter, or by capitals, from one that there is. */
import { strangerIn } from '../text/look-alike';
import { codePoint } from './hidden-character';
import { strangeLots, strangeSettled } from './lots';
import { writeName } from './names';
import { rule } from './rule';

export const nearName = rule({
  code: 'near-name',
  severity: 'error',
  atOnce: false,
  ofPlans: true,
  title: 'a name nearly that of a known lot or shipment',
  why: 'Names are compared exactly, capitals too. A slip in a name cuts the lot off from its history, and a settlement from its shipment.',
  wrong: '2026-05-04\nreceive TE-31 20.00 g\ncast C1\n  in TE-13 20.00 g\n  out B 19.99 g bar',
  right: '2026-05-04\nreceive TE-31 20.00 g\ncast C1\n  in TE-31 20.00 g\n  out B 19.99 g bar',
  entry: function* (account, look) {
    for (const { lot, near } of strangeLots(account, look)) {
      if (!near) continue;
      const born = look.book.lot(near)?.births[0];
      yield {
        place: lot.place,
        says: `Nothing makes ${lot.name}. ${asked(lot.name, near)}`,
        related: born ? [{ place: born.place, says: `${near} is made here` }] : [],
        fixes: [
          { title: `Write ${near}`, edits: [{ at: lot.place, text: writeName(near) }], safe: false, preferred: true },
        ],
      };
    }
  },
  metal: function* ({ workspace, account: { entry } }) {
    const { name, near } = strangeSettled(workspace, entry) ?? {};
    if (!name || !near) return;
    yield {
      place: name.place,
      says: `Nothing was shipped as ${name.name}. ${asked(name.name, near.name)}`,
      related: [{ place: near.place, says: `${near.name} is named here` }],
      fixes: [
        {
          title: `Write ${near.name}`,
          edits: [{ at: name.place, text: writeName(near.name) }],
          safe: false,
          preferred: true,
        },
      ],
    };
  },
});

/** Names that look the same differ in a letter that nobody sees: it is told which. */
const asked = (name: string, near: string): string => {
  const stranger = strangerIn(name, near);
  if (!stranger) return `Is ${near} meant?`;
  const { letter, like } = stranger;
  return `Is ${near} meant? Its ${like} is ${codePoint(like)}, and here stands ${codePoint(letter)}, which looks like it.`;
};
