/** A price of metal by the wrong unit: by the troy ounce where it is one by the gram. */
import { unitSlips } from '../engine/selling/quote-slips';
import { salesOf } from '../workspace/selling/sales';
import { rule } from './rule';

export const priceUnit = rule({
  code: 'price-unit',
  severity: 'warning',
  atOnce: false,
  title: 'a price by the wrong unit',
  why: 'Metal is quoted by the troy ounce, the gram or the kilogram: 31.1 grams are an ounce. A price that is a thirtieth or a thousandth of the last one, and agrees with it by another unit, has the wrong unit behind it, or the last one had. All that is reckoned by it is out by as much.',
  wrong: '2026-05-04\nquote Au 2500.00 USD/ozt\n2026-05-06\nquote Au 80.50 USD/ozt',
  right: '2026-05-04\nquote Au 2500.00 USD/ozt\n2026-05-06\nquote Au 80.50 USD/g',
  metal: function* ({ workspace, account: { entry } }) {
    if (entry.verb !== 'quote') return;
    const { of, quotes } = salesOf(workspace);
    const counted = of(entry)?.parts[0];
    const quote = quotes.find((one) => one.entry === counted);
    const slip = quote && unitSlips(quotes).get(quote);
    if (!quote || !slip || !entry.money?.per) return;
    const { place, digits, currency, per } = entry.money;
    const { beside, unit } = slip;
    const last = beside.entry.money!;
    yield {
      place,
      says: `${quote.of} at ${digits.text} ${currency}/${per.symbol} after ${last.digits.text} ${last.currency}/${last.per!.symbol} on ${beside.date}: by the ${WORDS[unit]}, most likely. Write ${currency}/${unit}, or mend the other.`,
      related: [{ place: last.place, says: 'the price before it' }],
      fixes: [
        {
          title: `Write ${currency}/${unit}`,
          edits: [{ at: place, text: `${digits.text} ${currency}/${unit}` }],
          safe: false,
          preferred: true,
        },
      ],
    };
  },
});

const WORDS: Readonly<Record<string, string>> = { g: 'gram', kg: 'kilogram', ozt: 'troy ounce' };
