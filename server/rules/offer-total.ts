/** The total of an offer that its own lines do not come to. */
import { spread } from '../engine/accounts/inexact';
import { isComplete } from '../engine/selling/payout';
import { FAR_PRICE } from '../engine/selling/prices';
import { isWrittenOut } from '../engine/selling/shortfall';
import { decimal } from '../quantity/decimal';
import { minorUnit, roundMoney, showMoney } from '../quantity/money';
import { offerOf } from '../workspace/selling/offers';
import { rule } from './rule';
import { EXAMPLE_SHIPMENT, EXAMPLE_TERMS } from './settled';

const before = EXAMPLE_SHIPMENT.replace('ship V1 to quay-refiner\n  in A 60.00 g\n', '');
const offer = `${before}offer A from quay-refiner
  pays Au 98 %, price Au 2480.00 USD/ozt
  pays Ag 90 %, price Ag 29.00 USD/ozt
  charge melting 45.00 USD
`;

export const offerTotal = rule({
  code: 'offer-total',
  severity: 'warning',
  atOnce: false,
  title: 'an offer whose total is not what its lines come to',
  why: 'Shares, prices and charges of an offer are worked through for the lot as it is weighed and assayed here. A total that lies farther off than that leaves open rests on another weight or assay, or on a charge that is not named: ask which, before the metal goes.',
  // 60.00 × 0.916 × 0.98 × 2480.00 / 31.1034768 = 4294.53; 60.00 × 0.06 × 0.90 × 29.00 / 31.1034768 = 3.02; less 45.00.
  wrong: `${offer}  total 4152.55 USD\n`,
  right: `${offer}  total 4252.55 USD\n`,
  workshop: EXAMPLE_TERMS,
  source:
    'beyond twice the standard uncertainty (GUM), a coin for each line, and 3 % of what has no price of the offer (common practice, no source)',
  metal: function* ({ workspace, account: { entry } }) {
    const worth = offerOf(workspace, entry)?.worth;
    const total = worth?.words?.total;
    if (!worth || !total || worth.by !== 'offer' || worth.guessed || !isComplete(worth.payout)) return;
    const { payout, words, market, terms, lump } = worth;
    const isWritten = isWrittenOut(words!, payout);
    // Where terms are on file, a total without prices is held against these.
    if (!lump || words!.pays.size === 0 || (terms && !isWritten)) return;
    const coins = minorUnit(market.currency).times(payout.metals.length + payout.charges.length);
    const moves = payout.metals
      .filter(({ metal }) => !words!.prices.has(metal))
      .map(({ value }) => value.amount.times(decimal(FAR_PRICE)));
    const allowed = [decimal(2 * spread(worth.lines)), ...moves].reduce((so, one) => so.plus(one), coins);
    const apart = payout.total.amount.minus(total.value.amount);
    if (apart.abs().lessThanOrEqualTo(allowed)) return;
    const size = showMoney(roundMoney({ amount: apart.abs(), currency: payout.currency }));
    yield {
      place: total.detail.place,
      says: `The lines of the offer come to ${showMoney(payout.total)} by our weight and assay${isWritten ? '' : ' and the price of the day'}, not to ${showMoney(total.value)}: ${size} ${apart.isNegative() ? 'more' : 'less'}. Ask by which weight, assay or charge.`,
    };
  },
});
