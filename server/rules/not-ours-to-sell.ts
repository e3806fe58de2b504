/** Metal of a customer that the shop sells, or sends to a buyer. */
import { listWords } from '../reports/words';
import { accountsOf } from '../workspace/accounts';
import { headOf } from '../workspace/selling/consigned';
import { type Sale, salesOf } from '../workspace/selling/sales';
import { lotAt, lotsShipped, othersOf } from '../workspace/selling/shipments';
import type { Workspace } from '../workspace/workspace';
import { rule } from './rule';

export const notOursToSell = rule({
  code: 'not-ours-to-sell',
  severity: 'warning',
  atOnce: false,
  title: "a customer's metal that is sold",
  why: 'Metal from a customer stays the customer’s unless it was `bought`. Selling it, or sending it to a refiner, is selling what is not the shop’s: what is paid for it is theirs, and is not counted among the shop’s sales. Write `bought` where it came in, or ship it to its owner; where you sell on their behalf, accept this with that reason.',
  wrong:
    '2026-05-04\nreceive A 20.00 g, owner high-fell\nassay A by xrf\n  Au 56.5 %\nsell A to moor-refiner for 900.00 USD',
  right: '2026-05-04\nreceive A 20.00 g, owner high-fell\nassay A by xrf\n  Au 56.5 %\nship V1 to high-fell\n  in A',
  metal: function* ({ workspace, account: { entry } }) {
    const accounts = accountsOf(workspace);
    const sale = salesOf(workspace).of(entry);
    if (!sale || (entry.verb !== 'sell' && entry.verb !== 'ship')) return;
    const head = headOf(sale);
    const party = head.party?.name;
    if (entry.verb === 'ship' && !isToBuyer(workspace, sale)) return;
    const sold = entry.verb === 'sell' && head.name ? lotAt(workspace, head.name.name, head) : undefined;
    for (const lot of sold ? [sold] : lotsShipped(workspace, sale)) {
      const owners = othersOf(workspace, lot);
      // A sample goes to be assayed.
      if (owners.length === 0 || owners.includes(party ?? '') || lot.segment.start.entry.verb === 'sample') continue;
      // Of a pool the shop's own part is its to sell.
      const names = accounts.namesOf(accounts.ownedOn(lot.segment));
      const whose = `${lot.lot} is ${names.includes(accounts.shop) ? 'in part ' : ''}of ${listWords(owners)}, and`;
      const what = names.includes(accounts.shop) ? 'that part was not bought' : 'was not bought';
      const flow = sale.parts.flatMap(({ flows }) => flows).find((one) => one.lot?.name === lot.lot);
      yield {
        place: flow?.lot?.place ?? head.name!.place,
        says:
          entry.verb === 'sell'
            ? `${whose} ${what}. Write \`bought\` where it came in, or give it back.`
            : `${whose} ${what}: what ${party ?? 'the buyer'} pays for it is theirs. Write \`bought\` where it came in, or accept this with your reason.`,
      };
    }
  },
});

/** A refiner, or somebody of whom nothing is on file and who settled it. */
const isToBuyer = (workspace: Workspace, sale: Sale): boolean => {
  const { name, party } = headOf(sale);
  const role = party && workspace.workshop.parties.get(party.name)?.role;
  if (role !== undefined) return role === 'refiner';
  return salesOf(workspace).settles.some(({ entry }) => entry.name?.name === name?.name);
};
