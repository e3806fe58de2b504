/** Metal of a customer that the shop sells. */
import { listWords } from '../reports/words';
import { rule } from './rule';

export const notOursToSell = rule({
  code: 'not-ours-to-sell',
  severity: 'warning',
  atOnce: false,
  title: "a customer's metal that is sold",
  why: 'Metal from a customer stays the customer’s unless it was `bought`. Selling it is selling what is not the shop’s. Write `bought` where it came in, or ship it to its owner; where you sell on their behalf, accept this with that reason.',
  wrong:
    '2026-05-04\nreceive A 20.00 g, owner high-fell\nassay A by xrf\n  Au 56.5 %\nsell A to moor-refiner for 900.00 USD',
  right: '2026-05-04\nreceive A 20.00 g, owner high-fell\nassay A by xrf\n  Au 56.5 %\nship V1 to high-fell\n  in A',
  metal: function* ({ entry, accounts }) {
    const segment =
      entry.verb === 'sell' && entry.name ? accounts.metals.lineage.segmentAt(entry.name.name, entry) : undefined;
    const owners = segment ? accounts.namesOf(accounts.owners(segment)).filter((owner) => owner !== accounts.shop) : [];
    if (!entry.name || owners.length === 0 || owners.includes(entry.party?.name ?? '')) return;
    yield {
      place: entry.name.place,
      says: `${entry.name.name} is of ${listWords(owners)}, and was not bought. Write \`bought\` where it came in, or give it back.`,
    };
  },
});
