/** A price that is too old for what is reckoned with it. */
import { isPriced } from '../engine/selling/prices';
import { dayWords } from '../reports/selling/words';
import { offerOf } from '../workspace/selling/offers';
import { rule } from './rule';
import { EXAMPLE_TERMS } from './settled';

export const priceOld = rule({
  code: 'price-old',
  severity: 'hint',
  atOnce: false,
  title: 'an offer reckoned at an old price',
  why: 'A price holds until the next is written, but a market does not wait: an offer is judged by the price of its day. Write a `quote` of that day. `price age` under `limits` in the workshop file says after how many days a price is old.',
  wrong:
    '2026-05-04\nquote Au 2480.00 USD/ozt\nquote Ag 29.00 USD/ozt\nreceive A 60.00 g\nassay A by fire\n  Au 91.6 %, Ag 6 %\n2026-05-25\noffer A from quay-refiner',
  right:
    '2026-05-04\nreceive A 60.00 g\nassay A by fire\n  Au 91.6 %, Ag 6 %\n2026-05-25\nquote Au 2480.00 USD/ozt\nquote Ag 29.00 USD/ozt\noffer A from quay-refiner',
  workshop: EXAMPLE_TERMS,
  source: 'a week (common practice, no source)',
  metal: function* ({ workspace, account: { entry }, look }) {
    const worth = offerOf(workspace, entry)?.worth;
    if (!worth) return;
    const old = worth.payout.metals.flatMap(({ metal }) => {
      const price = worth.words?.prices.has(metal) ? undefined : worth.market.find(metal);
      return price && isPriced(price) && price.ageDays > look.workshop.limits.priceDays ? [price] : [];
    });
    const oldest = old.sort((a, b) => b.ageDays - a.ageDays)[0];
    if (!oldest) return;
    const { quote, rate } = oldest;
    const of = rate && rate.date < quote.date ? rate : quote;
    yield {
      place: entry.name?.place ?? entry.head,
      says: `The price of ${of.of} is of ${of.date}, ${dayWords(oldest.ageDays)} old. Write a \`quote\` of the day of the offer.`,
      related: [{ place: of.entry.head, says: 'the last quote' }],
    };
  },
});
