/**
 * A way to sell a lot: as it is, or after more work. What it brings is a payout less what the work costs, as a function of the figures that are not
 * quite known; so two ways can be compared with what they share: an error of the fineness moves both.
 */
import { type Decimal, decimal } from '../../quantity/decimal';
import { addMoney, type Money, money, negateMoney, roundMoney } from '../../quantity/money';
import type { Assumption } from '../bench/result';
import type { Bands } from '../workshop';
import type { Deal } from './deal';
import { type Convert, type Payout, type PriceFor, payoutOf } from './payout';

/** A figure that is not quite known. `even`: anywhere within √3 u of the best; else about it as errors are. */
export interface Factor {
  readonly name: string;
  readonly best: number;
  readonly u: number;
  readonly shape: 'normal' | 'even';
}

/** Values of the factors, by name. */
export type Given = ReadonlyMap<string, number>;

export const bestOf = (factors: Iterable<Factor>): Given => new Map([...factors].map(({ name, best }) => [name, best]));

/** The factor that all prices are multiplied by, of a route that has it. */
export const PRICE = 'price';

/** From `low` to `high`, any value as likely as another. */
export const evenly = (name: string, low: number, high: number): Factor => ({
  name,
  best: (low + high) / 2,
  u: (high - low) / Math.sqrt(12),
  shape: 'even',
});

/** A piece of metal as it would be sold. Grams, and mass fractions 0 to 1. */
export interface Piece {
  readonly grams: number;
  readonly gold: number;
  readonly silver: number;
}

export interface Cost {
  /** `lead`, `nitric-acid`, `labour`, `silver lost`. */
  readonly what: string;
  /** How much of it, in words: `152 g`, `2 h`. */
  readonly size: string;
  /** None where the shelf has no price of it. */
  readonly money: Money | undefined;
}

export interface Buyer {
  readonly party: string | undefined;
  readonly by: 'offer' | 'terms' | 'common practice';
  readonly deal: Deal;
  /** The sum that an offer names for the lot as it is. */
  readonly lump?: Money | undefined;
  readonly currency: string;
  readonly priceFor: PriceFor;
  readonly convert: Convert;
  readonly minimumGrams: number | undefined;
  readonly days: number | undefined;
}

/** What is left of a lot after the work, and what that takes. */
export interface Worked {
  /** The first is what the lot becomes; others, such as silver, are sold beside it where that brings anything. */
  readonly pieces: readonly Piece[];
  readonly costs: readonly Cost[];
  /** Share of the payout that is this lot's: less than 1 where others are melted with it. */
  readonly part: number;
}

export interface Route {
  readonly key: 'sell' | 'cupel' | 'part' | 'cupel and part' | 'melt together' | 'hold';
  readonly buyer: Buyer;
  readonly factors: readonly Factor[];
  readonly work: (given: Given) => Worked;
  /** Days of work and of waiting for the money. */
  readonly days: number;
  /** What a year of them costs, as a fraction of what is paid; none where the shop names no rate. */
  readonly interest?: Decimal | undefined;
  readonly assumed: readonly Assumption[];
}

export interface Outcome {
  readonly worked: Worked;
  readonly payouts: readonly Payout[];
  readonly paid: Money;
  /** Of the work, and of waiting for the money. */
  readonly costs: readonly Cost[];
  readonly cost: Money;
  readonly net: Money;
}

/** Shares and grams are never better known than a few digits; twelve keep what was typed. */
const exact = (value: number): Decimal => decimal(Number(Math.max(0, value).toPrecision(12)));

/** What a route brings where the factors have these values; `goldShare` stands in place of what the buyer pays of the gold. */
export const outcomeOf = (route: Route, given: Given, goldShare?: Decimal): Outcome => {
  const buyer = atPrice(route.buyer, given.get(PRICE));
  const { currency } = buyer;
  const worked = route.work(given);
  const deal = goldShare ? { ...buyer.deal, pays: new Map([...buyer.deal.pays, ['Au', flat(goldShare)]]) } : buyer.deal;
  const [first, ...rest] = worked.pieces;
  const main = first && pay(first, { ...buyer, deal });
  const others = rest
    .map((piece) => pay(piece, { ...buyer, deal: besideOf(deal) }))
    .filter(({ total }) => total.amount.greaterThan(0));
  const payouts = [...(main ? [main] : []), ...others];
  const whole = buyer.lump ?? addMoney(money(0, currency), ...payouts.map(({ total }) => total));
  const paid = worked.part === 1 ? whole : roundMoney({ ...whole, amount: whole.amount.times(exact(worked.part)) });
  const costs = [...worked.costs, ...waiting(route, paid)];
  const cost = addMoney(money(0, currency), ...costs.flatMap((one) => one.money ?? []));
  return { worked, payouts, paid, costs, cost, net: addMoney(paid, negateMoney(cost)) };
};

const atPrice = (buyer: Buyer, factor: number | undefined): Buyer =>
  factor === undefined
    ? buyer
    : {
        ...buyer,
        priceFor: (metal) => {
          const price = buyer.priceFor(metal);
          return price && { ...price, amount: price.amount.times(exact(factor)) };
        },
      };

/** What goes in the same shipment is charged by weight and value alone: what is charged for a shipment was charged with the first piece. */
const besideOf = (deal: Deal): Deal => ({
  ...deal,
  charges: new Map(
    [...deal.charges].flatMap(([word, { least: _, ...term }]) =>
      term.currency !== undefined && !term.per ? [] : [[word, term]],
    ),
  ),
});

const DAYS_OF_YEAR = 365;

/** Simple interest on what is paid, for the days until it is there. */
const waiting = ({ days, interest }: Route, paid: Money): readonly Cost[] => {
  if (!interest?.greaterThan(0) || days === 0 || !paid.amount.greaterThan(0)) return [];
  const cost = roundMoney({ ...paid, amount: paid.amount.times(interest).times(days).div(DAYS_OF_YEAR) });
  return [
    {
      what: 'waiting',
      size: `${days} ${days === 1 ? 'day' : 'days'} at ${interest.times(100).toString()} %`,
      money: cost,
    },
  ];
};

const flat = (share: Decimal): Bands => [{ from: decimal(0), share }];

const pay = ({ grams, gold, silver }: Piece, { deal, currency, priceFor, convert }: Buyer): Payout => {
  const weight = exact(grams);
  const shares = new Map([
    ['Au', exact(gold)],
    ['Ag', exact(silver)],
  ]);
  return payoutOf({ grams: weight, receivedGrams: weight, shares }, deal, { currency, priceFor, convert });
};

/** Whether the buyer takes the lot at all: it is not below the least weight, and its fineness is in a band that is paid. */
export const isTaken = (route: Route, { worked, payouts }: Outcome): boolean => {
  const [piece] = worked.pieces;
  const least = route.buyer.minimumGrams ?? 0;
  return (
    piece !== undefined &&
    piece.grams >= least &&
    (route.buyer.lump !== undefined || payouts.some(({ metals }) => metals.some(({ share }) => share.greaterThan(0))))
  );
};
