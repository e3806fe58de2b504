/** Metal that was shipped, and of which no account came back in the agreed days. */
import { termsOn, wordsOf } from '../engine/selling/deal';
import { metalDueBack } from '../reports/selling/settled';
import { dayWords } from '../reports/selling/words';
import { listWords } from '../reports/words';
import { dayNumber } from '../text/calendar';
import { billOf } from '../workspace/selling/bills';
import { openLots } from '../workspace/selling/consigned';
import { givenBackOf } from '../workspace/selling/given-back';
import { type Sale, type Sales, salesOf } from '../workspace/selling/sales';
import { isOf, lotsShipped } from '../workspace/selling/shipments';
import type { Workspace } from '../workspace/workspace';
import { rule } from './rule';
import { EXAMPLE, EXAMPLE_SHIPMENT, EXAMPLE_TERMS } from './settled';

export const notSettled = rule({
  code: 'not-settled',
  severity: 'warning',
  atOnce: false,
  title: 'shipped, and not settled in the agreed days',
  why: 'The terms say in how many days a lot is settled; they count from the shipment to the last day that the journal has. Ask for the settlement, and write it as `settle NAME` when it comes. So is metal that comes back in place of money and is not weighed in: `returned LOT` names the lot that it came as. Money that has not come after as many days is told at the settlement: write `paid DATE`, in a `more settle` on the day it came.',
  wrong: `${EXAMPLE_SHIPMENT}2026-05-30\nnote rain`,
  right: EXAMPLE,
  workshop: EXAMPLE_TERMS,
  metal: function* ({ workspace, account: { entry }, accounts, look }) {
    const sales = salesOf(workspace);
    const sale = sales.of(entry);
    if (!sale || entry.date === undefined) return;
    const waited = dayNumber(accounts.lastDate) - dayNumber(entry.date);
    const party = partyOf(workspace, sale, sales);
    const days = termsOn(party === undefined ? undefined : look.workshop.parties.get(party), entry.date)?.days;
    if (days === undefined || waited <= days) return;
    const place = entry.name?.place ?? entry.head;
    const name = entry.name?.name;
    const open = entry.verb === 'ship' ? openLots(sales, sale) : [];
    if (open.length > 0 && isOwing(workspace, sale, party, open))
      yield {
        place,
        says: `${open.length < sales.lotsSettled(name ?? '').length ? `${listWords(open)} of ${name}` : name} left ${dayWords(waited)} before the last day of the journal, ${accounts.lastDate}, and ${open.length > 1 && open.length < sales.lotsSettled(name ?? '').length ? 'are' : 'is'} not settled; ${party} settles within ${dayWords(days)}. Ask for the settlement.`,
      };
    if (entry.verb !== 'settle' || sales.settledBefore(entry)) return;
    const words = wordsOf(sale.parts);
    const given = givenBackOf(workspace, words);
    // What is missing of what was weighed in is told where that is.
    const back = metalDueBack(given.filter(({ weighedIn }) => !weighedIn));
    if (back.length > 0)
      yield {
        place,
        says: `${name} was settled ${dayWords(waited)} before the last day of the journal, ${accounts.lastDate}, and ${listWords(back)} that ${party} gives back is not weighed in. Ask for it; once it is here, write \`receive LOT from ${party}\`, and \`returned LOT\` in a \`more settle\`.`,
      };
    if (words.paid !== undefined || (words.returns.size > 0 && !words.total)) return;
    if (billOf(workspace, entry)?.payer === 'shop')
      yield {
        place,
        says: `${name} was billed ${dayWords(waited)} before the last day of the journal, ${accounts.lastDate}, and no payment to ${party} is written; ${dayWords(days)} are agreed. Pay it, or write \`paid DATE\`.`,
      };
    else
      yield {
        place,
        says: `${name} was settled ${dayWords(waited)} before the last day of the journal, ${accounts.lastDate}, and no payment is written; ${party} pays within ${dayWords(days)}. Ask for the money, or write \`paid DATE\`.`,
      };
  },
});

/** What goes back to its owner is settled by nobody. */
const isOwing = (workspace: Workspace, sale: Sale, party: string | undefined, open: readonly string[]): boolean =>
  lotsShipped(workspace, sale).some((lot) => open.includes(lot.lot) && !isOf(workspace, lot, party));

const partyOf = (workspace: Workspace, { entry }: Sale, sales: Sales): string | undefined =>
  entry.party?.name ??
  sales.ships.findLast((one) => one.entry.name?.name === entry.name?.name)?.entry.party?.name ??
  billOf(workspace, entry)?.toll.customer;
