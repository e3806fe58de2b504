/** Silver that nobody pays for, and nobody speaks of. */
import { roundMoney, showMoney } from '../quantity/money';
import { lineSays } from '../reports/selling/lines';
import { offerOf, unpaidIn } from '../workspace/selling/offers';
import { settlementOf } from '../workspace/selling/settlements';
import { rule } from './rule';
import { EXAMPLE, EXAMPLE_TERMS, exampleWith } from './settled';

/** Silver worth less than this share of what is paid is no matter to speak of. */
const LEAST_SHARE = 0.01;

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
    if (worth?.by === 'common practice') return;
    const payout = settlement?.checked.payout ?? worth?.payout;
    const market = settlement?.market ?? worth?.market;
    if (!payout || !market || settlement?.terms?.pays.has('Ag')) return;
    const silver = unpaidIn(payout, market).find(({ metal }) => metal === 'Ag');
    if (!silver || silver.value.amount.toNumber() < LEAST_SHARE * payout.total.amount.toNumber()) return;
    yield {
      place: entry.name?.place ?? entry.head,
      says: `Nothing is paid for ${silver.fineGrams.toFixed(2)} g of silver, worth ${showMoney(roundMoney(silver.value))} at its full price. Ask what they pay for it, or write \`pays Ag 0 %\`.`,
    };
  },
});
