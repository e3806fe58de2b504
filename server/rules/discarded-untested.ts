/** A solution that metal was dissolved in, poured off with no test of what is left in it. */
import type { Segment } from '../engine/accounts/segments';
import type { Entry, Named } from '../engine/entry';
import { rule } from './rule';

export const discardedUntested = rule({
  code: 'discarded-untested',
  severity: 'warning',
  atOnce: false,
  title: 'a solution poured off untested',
  why: 'Gold and silver stay in a solution that looks spent: a drop too few of what throws them down, and the rest goes with the waste. Before it goes a drop of it is tested, with stannous chloride for gold, with salt for silver, and what the test showed is written, `none` too. What shows metal is kept. How such waste is made safe and given up, local rules say.',
  wrong:
    '2026-05-04\nreceive A 20.00 g\n  material silver\ndissolve D1\n  in A\n  add nitric-acid 80 mL\n  out D1L 400 mL solution\ndrop R1\n  in D1L\n  add copper 8.0 g\n  out R1w 19.90 g sponge\n  out R1L 400 mL solution\ndiscard R1L',
  right:
    '2026-05-04\nreceive A 20.00 g\n  material silver\ndissolve D1\n  in A\n  add nitric-acid 80 mL\n  out D1L 400 mL solution\ndrop R1\n  in D1L\n  add copper 8.0 g\n  out R1w 19.90 g sponge\n  out R1L 400 mL solution\nassay R1L by salt\n  Ag none\ndiscard R1L',
  source: 'common practice, no source',
  metal: function* ({ entry, accounts: { metals } }) {
    for (const lot of pouredOff(entry)) {
      const segment = metals.lineage.segmentAt(lot.name, entry);
      if (!segment || !heldMetal(segment) || metals.assays(segment).length > 0) continue;
      yield {
        place: lot.place,
        says: `${lot.name} is poured off with no test for metal. Test it, by stannous for gold, by salt for silver, and write what it showed: \`assay ${lot.name} by salt\`.`,
        related: [{ place: segment.start.place, says: `${lot.name} is made here` }],
      };
    }
  },
});

/** Thrown away by an entry of its own, or where it was made. */
const pouredOff = ({ verb, name, flows }: Entry): readonly Named[] => [
  ...(verb === 'discard' && name ? [name] : []),
  ...flows.flatMap(({ word, lot, none, said }) => (word === 'out' && said.discard && !none && lot ? [lot] : [])),
];

/** Rinsings and pickle are none of these. */
const WET: ReadonlySet<string> = new Set(['dissolve', 'part', 'drop', 'split', 'blend']);

const heldMetal = ({ start: { flow, entry } }: Segment): boolean => flow?.kind === 'solution' && WET.has(entry.verb);
