/** What a settlement states, as figures that can be reckoned with, and put right one by one. */
import { type Decimal, ONE } from '../../quantity/decimal';
import type { Measured } from '../../quantity/measured';
import type { Money } from '../../quantity/money';
import type { Place } from '../../text/place';
import type { Cut, Terms } from '../workshop';
import { type Deal, type DealWords, dealOf, type Rate } from './deal';
import { type Consigned, type Convert, type Payout, type PriceFor, payoutOf } from './payout';
import type { NoPrice, Price } from './prices';
import type { TotalSlip } from './total-slip';

/** A share of metal as somebody found it: a mass fraction and its standard uncertainty. */
export interface Share {
  readonly value: Decimal;
  readonly u: number;
}

export interface SettlementCase {
  readonly currency: string;
  readonly terms: Terms | undefined;
  readonly words: DealWords;
  /** What was shipped, as we weighed it, and what we know of it by assays of our own; a guess is not among them. */
  readonly ours: { readonly grams: Measured | undefined; readonly shares: ReadonlyMap<string, Share> };
  readonly received: Measured | undefined;
  readonly melted: Measured | undefined;
  /** Standard uncertainty of the assay in their settlement. */
  readonly theirU: ReadonlyMap<string, number>;
  /** Their assay as it was exchanged, where the journal has it, and an umpire's. */
  readonly exchanged: ReadonlyMap<string, Decimal>;
  /** Who told an assay after the agreed days, where the other did not. */
  readonly late: 'ours' | 'theirs' | undefined;
  readonly umpire: ReadonlyMap<string, Decimal>;
  /** The price of the agreed day, whether quote and rate are of that very day, all that was quoted on it, and which of these was agreed. */
  readonly prices: ReadonlyMap<
    string,
    {
      readonly price: Price | NoPrice;
      readonly day: PriceDay;
      readonly fixings?: readonly Price[];
      readonly fixing?: string | undefined;
    }
  >;
  readonly convert: Convert;
  readonly coverage: number;
  /** What was offered for the lots before they went. */
  readonly offered?: OfferedSum | undefined;
}

/** A sum, good to so much; or shares, by which their own figures are worked through. */
export type OfferedSum = { readonly sum: Money; readonly allowed: Decimal } | { readonly deal: Deal };

/** Whether a price is the agreed one: it is; its quote or its rate is of another day; it is another of that day; or no day is agreed. */
export type PriceDay = 'agreed' | 'no quote' | 'no rate' | 'no fixing' | 'none agreed';

export type Subject =
  | 'received'
  | 'melted'
  | 'assay'
  | 'pays'
  | 'less'
  | 'keeps'
  | 'charge'
  | 'credit'
  | 'price'
  | 'unpaid'
  | 'payable'
  | 'returns'
  | 'worth'
  | 'offer'
  | 'total';

export interface Line {
  readonly subject: Subject;
  /** A metal's symbol, or a charge's word. */
  readonly of: string | undefined;
  /** Grams, mass fractions, money, or money for a gram, by the subject; of what is taken off or kept in the unit below. */
  readonly ours: Decimal | undefined;
  readonly theirs: Decimal | undefined;
  /** Of what is taken off or kept, of which the one may be a share and the other a weight. */
  readonly cuts?: { readonly ours: Cut | undefined; readonly theirs: Cut } | undefined;
  /** Of a price: the unit that it is written for, and with how many digits after the point. */
  readonly per?: { readonly unit: string; readonly digits: number } | undefined;
  /** Of a price: the one that it was held against; and that of the day which it is instead. */
  readonly by?: Price | undefined;
  readonly instead?: Price | undefined;
  /** Of a weight: what it would be with two neighbouring digits exchanged, where that agrees. */
  readonly swapped?: Decimal | undefined;
  /** Of a total: what their own lines come to. `ours` is what they come to once each is put right. */
  readonly sum?: Decimal | undefined;
  /** How far apart they may lie. */
  readonly allowed: number | undefined;
  readonly verdict: 'agrees' | 'differs' | 'unchecked';
  /** Why it could not be checked, or by what it was judged. */
  readonly because: Because | undefined;
  /** What putting it right makes to the sum; above nought is owed to us. */
  readonly owed: Money | undefined;
  readonly place: Place | undefined;
  /** Of a total that differs: the one slip that makes it. */
  readonly slip?: TotalSlip | undefined;
}

export type Because =
  | 'not weighed'
  | 'more than went in'
  | 'no own assay'
  | 'own assay too coarse'
  | 'not exchanged'
  | 'no terms'
  | 'nothing agreed'
  | 'no price of that day'
  | 'no rate of that day'
  | 'no price of that fixing'
  | 'no day agreed'
  | 'no rate'
  | 'price not said'
  | 'no total'
  | 'another currency'
  | 'no lines'
  | 'reckoned with ours'
  | 'left out'
  | 'rounding'
  | 'splitting limit'
  | 'uncertainty'
  | 'mean of both'
  | 'we were late'
  | 'they were late'
  | 'umpire'
  | 'umpire wanted'
  | 'no mean of both'
  | 'not agreed'
  | 'other lines'
  | 'far from the price in force';

/** All that a payout is made of; what is put right is put in place of one of these. */
export interface Figures {
  readonly received: Decimal;
  readonly grams: Decimal;
  readonly shares: ReadonlyMap<string, Decimal>;
  readonly deal: Deal;
  readonly prices: ReadonlyMap<string, Money & { readonly perGrams: Decimal }>;
}

export type Mend = (figures: Figures) => Figures;

/** A line with what would put it right. */
export type Judged = Omit<Line, 'owed'> & { readonly mend?: Mend | undefined };

export const statedFigures = ({
  words,
  terms,
  ours,
  received,
  melted,
  prices,
  currency,
}: SettlementCase): Figures | undefined => {
  const deal = dealOf(words, terms);
  const grams = (melted ?? received ?? ours.grams)?.value;
  if (!deal || !grams) return undefined;
  const agreed = [...prices].flatMap(([metal, { price }]) =>
    'missing' in price || price.currency !== currency ? [] : [[metal, price] as const],
  );
  const stated = [...words.prices].map(([metal, { value }]) => [metal, value] as const);
  return {
    received: (received ?? ours.grams ?? melted)!.value,
    grams,
    shares:
      words.assay.size > 0
        ? new Map([...words.assay].map(([metal, { share }]) => [metal, share]))
        : sharesOf(ours.shares),
    deal,
    prices: new Map<string, Money & { readonly perGrams: Decimal }>([...agreed, ...stated]),
  };
};

const sharesOf = (shares: ReadonlyMap<string, Share>): ReadonlyMap<string, Decimal> =>
  new Map([...shares].map(([metal, { value }]) => [metal, value]));

/** In the currency of the settlement. */
export const priceIn = (
  { convert }: Pick<SettlementCase, 'convert'>,
  price: (Money & { readonly perGrams: Decimal }) | undefined,
): ReturnType<PriceFor> => {
  const money = price && convert(price);
  return money && { ...money, perGrams: price.perGrams };
};

/** In money; what comes back as metal is not in it. */
export const reckon = ({ currency, words, convert }: SettlementCase, of: Figures): Payout => {
  const lot: Consigned = { grams: of.grams, receivedGrams: of.received, shares: of.shares };
  const priceFor: PriceFor = (metal) => priceIn({ convert }, of.prices.get(metal));
  const credits = words.credits.flatMap(({ value }) => convert(value) ?? []);
  const isMoney = (metal: string): boolean => !words.returns.has(metal);
  const payout = payoutOf(lot, withPays(of.deal, isMoney), { currency, priceFor, convert, credits });
  return { ...payout, unpaid: payout.unpaid.filter(({ metal }) => isMoney(metal)) };
};

const withPays = (deal: Deal, test: (metal: string) => boolean): Deal => ({
  ...deal,
  pays: new Map([...deal.pays].filter(([metal]) => test(metal))),
});

/** Grams of these metals that are payable, by metal: what goes back of them where no money is paid. */
export const payableIn = (of: Figures, test: (metal: string) => boolean): ReadonlyMap<string, Decimal> => {
  const one: Money & { readonly perGrams: Decimal } = { amount: ONE, currency: '', perGrams: ONE };
  const { metals } = payoutOf(
    { grams: of.grams, receivedGrams: of.received, shares: of.shares },
    { ...withPays(of.deal, test), charges: new Map() },
    { currency: '', priceFor: () => one, convert: (money) => money },
  );
  return new Map(metals.map(({ metal, payableGrams }) => [metal, payableGrams]));
};

/** Money for a gram. */
export const perGram = ({ amount, perGrams }: Pick<Rate, 'amount' | 'perGrams'>): Decimal => amount.div(perGrams);
