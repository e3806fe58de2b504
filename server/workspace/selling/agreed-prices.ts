/** At what price a settlement is reckoned: the one that was fixed for the shipment, else that of the agreed day and fixing. */
import { wordsOf } from '../../engine/selling/deal';
import { isPriced, type NoPrice, type Price, pricesWithin, type Quote, quotesBy } from '../../engine/selling/prices';
import type { PriceDay, SettlementCase } from '../../engine/selling/stated';
import type { Terms } from '../../engine/workshop';
import { type Market, marketOn } from './money';
import type { Sale, Sales } from './sales';

export interface AgreedPrices {
  readonly market: Market;
  readonly of: (metal: string) => NonNullable<ReturnType<SettlementCase['prices']['get']>>;
  /** Metals whose price was fixed for the shipment. */
  readonly fixed: ReadonlySet<string>;
}

/** `date` is the day that was agreed, or that on which what is not fixed is reckoned. */
export const agreedPrices = (
  { quotes }: Sales,
  ship: Sale | undefined,
  terms: Terms | undefined,
  date: string,
  currency: string,
): AgreedPrices => {
  const fixed = fixedWith(ship, date);
  const ofDay = quotesBy(quotes, date, terms?.fixing);
  const counted = [...ofDay.filter(({ of }) => !fixed.has(of)), ...fixed.values()];
  const market = marketOn({ quotes: counted }, date, currency);
  return {
    market,
    fixed: new Set(fixed.keys()),
    of: (metal) => {
      const price = market.find(metal);
      const all = fixed.has(metal) ? [] : pricesWithin(quotes, metal, date, currency);
      if (fixed.has(metal)) return { price, day: isPriced(price) ? 'agreed' : 'no rate', fixings: all };
      const day = priceDayOf(price, terms?.priceDay !== undefined);
      const strays = day === 'agreed' && terms?.fixing !== undefined && !isOf(price, terms.fixing);
      return { price, day: strays ? 'no fixing' : day, fixings: all, fixing: terms?.fixing };
    },
  };
};

const isOf = (price: Price | NoPrice, fixing: string): boolean => isPriced(price) && price.quote.fixing === fixing;

/** The last price of each metal that the shipment, or what goes on with it, says was fixed; it holds on whatever day. */
const fixedWith = (ship: Sale | undefined, date: string): ReadonlyMap<string, Quote> => {
  const found = (ship?.parts ?? []).flatMap((entry) =>
    [...wordsOf([entry]).prices].map(([of, { value, detail }]): [string, Quote] => [
      of,
      { ...value, of, date, fixing: detail.said.fixing?.name, entry },
    ]),
  );
  return new Map(found);
};

/** A price that was turned from another currency is of the agreed day where both its quote and its rate are. */
export const priceDayOf = (price: Price | NoPrice, isAgreed: boolean): PriceDay => {
  if (!isAgreed) return 'none agreed';
  if (!isPriced(price) || price.quoteAgeDays > 0) return 'no quote';
  return price.ageDays > 0 ? 'no rate' : 'agreed';
};

/** The day that the terms say, as far as it has come. */
export const priceDayIn = (
  which: Terms['priceDay'],
  shippedOn: string | undefined,
  settledOn: string,
  paidOn: string | undefined,
): string => (which === 'shipped' ? shippedOn : which === 'paid' ? paidOn : settledOn) ?? settledOn;
