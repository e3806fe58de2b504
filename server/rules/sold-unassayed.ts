/** A lot that leaves the shop with nobody having assayed it. */
import type { Segment } from '../engine/accounts/segments';
import type { Accounts } from '../workspace/accounts';
import { headOf } from '../workspace/selling/consigned';
import { salesOf } from '../workspace/selling/sales';
import { rule } from './rule';

/** To whom it is of, as they brought it. */
const goesBack = (accounts: Accounts, segment: Segment, party: string | undefined): boolean =>
  accounts.namesOf(accounts.ownedOn(segment)).some((owner) => owner === party) ||
  segment.start.entry.party?.name === party;

export const soldUnassayed = rule({
  code: 'sold-unassayed',
  severity: 'hint',
  atOnce: false,
  title: 'sold or shipped with no assay',
  why: 'Without an assay of your own there is nothing to hold their settlement against, and a stamp or a claim is commonly above what the metal holds. Keep a sample and have it assayed, or weigh it in water at least.',
  wrong:
    '2026-05-04\nreceive A 20.00 g\n  stamp Au 14 k\ncast T1\n  in A 20.00 g\n  out B 19.98 g bar\nship V1 to moor-refiner\n  in B 19.98 g',
  right:
    '2026-05-04\nreceive A 20.00 g\n  stamp Au 14 k\ncast T1\n  in A 20.00 g\n  out B 19.98 g bar\nassay B by xrf\n  Au 56.5 %\nship V1 to moor-refiner\n  in B 19.98 g',
  metal: function* ({ workspace, entry, accounts, look }) {
    const sale = salesOf(workspace).of(entry);
    const party = sale && headOf(sale).party?.name;
    // Where it goes to be assayed.
    if (party !== undefined && look.workshop.parties.get(party)?.role === 'lab') return;
    const sold =
      entry.verb === 'sell'
        ? [entry.name]
        : entry.verb === 'ship'
          ? entry.flows.filter(({ word }) => word === 'in').map(({ lot }) => lot)
          : [];
    for (const lot of sold) {
      const segment = lot && accounts.metals.lineage.segmentAt(lot.name, entry);
      if (!lot || !segment) continue;
      const gold = accounts.metals.best(segment).get('Au');
      const silver = accounts.metals.best(segment).get('Ag');
      // Metal as it came in is passed on by a claim or a stamp; what was worked here should be known.
      const asItCame = segment.start.kind === 'received';
      const isKnown = [gold, silver].some((one) => one?.share && (asItCame || one.ground !== 'guessed'));
      if (isKnown || (asItCame && goesBack(accounts, segment, party))) continue;
      yield {
        place: lot.place,
        says: `${lot.name} leaves with no assay${gold ? ': its gold is a guess' : ''}. Keep a sample, or have it assayed before it goes.`,
      };
    }
  },
});
