/** A metal that is paid for and has no price. */
import { missingPrices } from '../workspace/selling/missing-prices';
import { rule } from './rule';
import { EXAMPLE_TERMS } from './settled';

export const priceMissing = rule({
  code: 'price-missing',
  severity: 'hint',
  atOnce: false,
  title: 'a sale without a price',
  why: 'What a lot brings hangs on the price of its day. It is written as `quote Au 2480.00 USD/ozt`, by the troy ounce, the gram or the kilogram, and holds until the next. Another currency needs its own rate, `quote EUR 1.08 USD`: none is ever assumed.',
  wrong:
    '2026-05-04\nreceive A 60.00 g\nassay A by fire\n  Au 91.6 %, Ag 0.2 %\noffer A from quay-refiner\n  pays Au 98 %, pays Ag 90 %\nquote Ag 29.00 USD/ozt',
  right:
    '2026-05-04\nreceive A 60.00 g\nassay A by fire\n  Au 91.6 %, Ag 0.2 %\noffer A from quay-refiner\n  pays Au 98 %, pays Ag 90 %\nquote Ag 29.00 USD/ozt\nquote Au 2480.00 USD/ozt',
  workshop: EXAMPLE_TERMS,
  metal: function* ({ workspace, account: { entry } }) {
    const missing = missingPrices(workspace, entry);
    const [first] = missing;
    if (!first) return;
    const metals = missing.map(({ metal }) => metal).join(' and ');
    yield {
      place: entry.name?.place ?? entry.head,
      says:
        first.missing === 'rate'
          ? `${metals} ${missing.length > 1 ? 'are' : 'is'} ${first.metal.startsWith('charge ') ? '' : 'quoted '}in ${first.quotedIn}, and no rate is written: \`quote ${first.quotedIn} … ${first.wanted}\` gives it.`
          : `No price of ${metals} is written by ${entry.date}: \`quote ${first.metal} … ${first.wanted ?? 'USD'}/ozt\` gives it.`,
    };
  },
});
