/** A settlement, or a sale of hand, for less than was offered. */
import { showMoney } from '../quantity/money';
import { LINES_TOLD } from '../workspace/selling/differences';
import { soldOf } from '../workspace/selling/sold';
import { rule } from './rule';
import { EXAMPLE_SHIPMENT, settledRule } from './settled';

const offered = EXAMPLE_SHIPMENT.replace('ship V1', 'offer A from quay-refiner\n  total 4250.00 USD\nship V1');
const page = (total: string): string => `${offered}2026-05-11\nsettle V1\n  total ${total} USD\n`;

const settled = settledRule(LINES_TOLD['settled-below-offer'], {
  code: 'settled-below-offer',
  severity: 'warning',
  atOnce: false,
  title: 'a settlement below what was offered',
  why: 'What the same party offered for the lots before they went is what they were sent for: a sum for each lot, or shares, by which their own figures are worked through. A settlement, or a sale of hand, that pays less is told with the place of the offer. What their other lines tell already is not told again. Where they found another weight or fineness than you did, ask for their weighing and assay.',
  wrong: page('4150.00'),
  right: page('4250.00'),
  workshop: 'parties:\n  quay-refiner: refiner\n',
});

export const settledBelowOffer = rule({
  ...settled,
  metal: function* (subject) {
    yield* settled.metal!(subject);
    const { workspace, account } = subject;
    const sold = soldOf(workspace, account.entry);
    if (!sold?.belowOffer) return;
    const { offer, sum, short } = sold.belowOffer;
    yield {
      place: account.entry.money!.place,
      says: `They pay ${showMoney(sold.paid)}; on ${offer.date} they offered ${showMoney(sum)} for ${sold.lot.lot}. That is ${showMoney(short)} less. Hold them to it, or ask what has changed.`,
      related: [{ place: offer.place, says: `${sold.lot.lot} was offered for here` }],
    };
  },
});
