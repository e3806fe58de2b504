/** A price that stands apart from those before and after it. */
import { outliers, unitSlips } from '../engine/selling/quote-slips';
import { swapsOf } from '../engine/selling/total-slip';
import { type Decimal, decimalsOf } from '../quantity/decimal';
import { salesOf } from '../workspace/selling/sales';
import { rule } from './rule';

const PAGE = `2026-05-04
quote Au 2480.00 USD/ozt
2026-05-05
quote Au PRICE USD/ozt
2026-05-06
quote Au 2495.00 USD/ozt
`;

export const priceApart = rule({
  code: 'price-apart',
  severity: 'hint',
  atOnce: false,
  title: 'a price far from those before and after it',
  why: 'Quotes of a few days lie close together. One that is far from the one before it and from the one after it, while these agree, is more likely a slip of the pen than the market: all that is reckoned at it is out by as much. Look at where it came from; accept it where the market did move so.',
  wrong: PAGE.replace('PRICE', '2840.00'),
  right: PAGE.replace('PRICE', '2488.00'),
  source:
    'more than 3 % of gold, 6 % of other metals, from quotes at most `price age` days away (common practice, no source)',
  metal: function* ({ workspace, account: { entry }, look }) {
    if (entry.verb !== 'quote') return;
    const { of, quotes } = salesOf(workspace);
    const counted = of(entry)?.parts[0];
    const quote = quotes.find((one) => one.entry === counted);
    const outlier = quote && outliers(quotes, look.workshop.limits.priceDays).get(quote);
    if (!quote || !outlier || !entry.money?.per || unitSlips(quotes).has(quote)) return;
    const { place, digits, currency, per } = entry.money;
    const { before, after, off, agrees } = outlier;
    const swapped = swapsOf(digits.text).filter(agrees);
    const [meant] = swapped.length === 1 ? swapped : [];
    const written = meant && figureOf(meant, digits.text);
    const percent = (Math.abs(off) * 100).toFixed(Math.abs(off) < 0.1 ? 1 : 0);
    yield {
      place,
      says: `${quote.of} at ${digits.text} ${currency}/${per.symbol} is ${percent} % ${off > 0 ? 'above' : 'below'} what it was on ${before.date} and on ${after.date}. ${written ? `Two of its digits may be exchanged, for ${written}: look` : 'Look'} at where it came from.`,
      related: [
        { place: before.entry.money!.place, says: 'the price before it' },
        { place: after.entry.money!.place, says: 'the price after it' },
      ],
      ...(written
        ? {
            fixes: [
              {
                title: `Write ${written} ${currency}/${per.symbol}`,
                edits: [{ at: place, text: `${written} ${currency}/${per.symbol}` }],
                safe: false,
                preferred: true,
              },
            ],
          }
        : {}),
    };
  },
});

/** With as many digits after the point as were typed. */
const figureOf = (amount: Decimal, typed: string): string => amount.toFixed(decimalsOf(typed));
