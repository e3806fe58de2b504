/** Silver that nobody pays for, and nobody speaks of. */
import { roundMoney, showMoney } from '../quantity/money';
import { lineSays } from '../reports/selling/lines';
import { offerOf, unpaidIn, type Worth } from '../workspace/selling/offers';
import { settlementOf } from '../workspace/selling/settlements';
import { LEAST_UNPAID, unpaidSilverOf } from '../workspace/selling/unpaid';
import { rule } from './rule';
import { EXAMPLE, EXAMPLE_TERMS, exampleWith } from './settled';

export const silverUnpaid = rule({
  code: 'silver-unpaid',
  severity: 'warning',
  atOnce: false,
  title: 'silver left unpaid',
  why: 'Some buyers pay for the gold alone. The silver is then a charge like any other, and in a lot with much silver the largest. Ask for its price, or write `pays Ag 0 %` where that was agreed.',
  wrong: exampleWith('\n  pays Ag 90 %, price Ag 29.50 USD/ozt', '', '4274.59'),
  right: EXAMPLE,
  workshop: EXAMPLE_TERMS,
  source:
    'told from 1 % of what is paid (common practice, no source); one published settlement paid 98 % of the gold and nothing of the silver',
  metal: function* ({ workspace, account: { entry } }) {
    const settlement = settlementOf(workspace, entry);
    const line = settlement?.checked.lines.find(({ subject }) => subject === 'unpaid');
    if (settlement && line) {
      yield { place: entry.name?.place ?? entry.head, says: lineSays(settlement, line) };
      return;
    }
    const worth = offerOf(workspace, entry)?.worth;
    const silver = settlement ? unpaidSilverOf(settlement) : worth && unpaidOffered(worth);
    if (!silver) return;
    yield {
      place: entry.name?.place ?? entry.head,
      says: `Nothing is paid for ${silver.fineGrams.toFixed(2)} g of silver, worth ${showMoney(roundMoney(silver.value))} at its full price. Ask what they pay for it, or write \`pays Ag 0 %\`.`,
    };
  },
});

const unpaidOffered = ({ by, payout, market }: Worth) => {
  const silver = by === 'common practice' ? undefined : unpaidIn(payout, market).find(({ metal }) => metal === 'Ag');
  return silver && silver.value.amount.toNumber() >= LEAST_UNPAID * payout.total.amount.toNumber() ? silver : undefined;
};
