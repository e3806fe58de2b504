/** Metal of ours that nobody has paid for yet, here or with a buyer: what it would bring as it is by the terms and prices of a day. */
import { fromMeasured, type Inexact, NOTHING, scaled, sum, times } from '../../engine/accounts/inexact';
import type { Holding } from '../../engine/accounts/stock';
import { isMetalKind, metalShare } from '../../engine/charge';
import { commonDeal, dealOf, termsOn } from '../../engine/selling/deal';
import { type Payout, payoutOf } from '../../engine/selling/payout';
import type { Buyer } from '../../engine/selling/route';
import { perGram } from '../../engine/selling/stated';
import { spreadOf, withCommonShare } from '../../engine/selling/worth';
import { findMaterial } from '../../engine/shelf';
import { type Decimal, ONE } from '../../quantity/decimal';
import type { Measured } from '../../quantity/measured';
import type { Money } from '../../quantity/money';
import type { Place } from '../../text/place';
import { accountsOf } from '../accounts';
import type { Workspace } from '../workspace';
import { agreedPrices } from './agreed-prices';
import { buyersOf } from './buyers';
import { headOf } from './consigned';
import { asDecimal, bestOf, gramsOf, type LotKnown, type ShareKnown, sharesOf } from './known';
import { currencyOf, marketOn } from './money';
import { type Sale, salesOf } from './sales';
import { lotsShipped } from './shipments';

/** Metal of ours that nobody has paid for yet. */
export interface Open {
  /** The shipment that it left in; of what is here the lot. */
  readonly name: string;
  readonly lots: readonly LotKnown[];
  readonly kind: string | undefined;
  /** With whom it is, and since when; none of what is here. */
  readonly shipped: { readonly party: string; readonly date: string } | undefined;
  readonly fineGrams: ReadonlyMap<string, Inexact>;
  readonly guessed: boolean;
  /** Gold and silver at the full price; none without a price. */
  readonly full: Inexact | undefined;
  readonly currency: string | undefined;
  /** As it is, from the buyer who pays most. */
  readonly best: Best | undefined;
  /** Why there is no such buyer: it must be worked first, what it holds is not known or has no price, nobody takes so little of it or charges leave nothing. */
  readonly unsold: 'feed' | 'not known' | 'no price' | 'no buyer' | undefined;
  /** The agreed price is that of a day that is past. */
  readonly fixed: boolean;
  readonly place: Place;
}

export interface Best {
  readonly buyer: Buyer;
  readonly payout: Payout;
  readonly total: Inexact;
}

const METALS = ['Au', 'Ag'] as const;

/** At the end of a day. */
export const openOn = (workspace: Workspace, date: string): readonly Open[] => {
  const accounts = accountsOf(workspace);
  const here = accounts
    .stock(date)
    .filter(({ ownership }) => accounts.namesOf(ownership).every((owner) => owner === accounts.shop))
    .flatMap((holding) => hereOpen(workspace, holding, date));
  return [...shippedOpen(workspace, date), ...here];
};

const hereOpen = (workspace: Workspace, holding: Holding, date: string): readonly Open[] => {
  const { lot, segment, amount, unit, with: by } = holding;
  const { make } = segment.story;
  const kind = segment.start.flow?.kind ?? make?.kind;
  if (!amount || unit !== 'gram' || !isMetalKind(kind) || kind === 'drillings' || by) return [];
  const known: LotKnown = { lot, segment, grams: amount };
  const one = openOf(workspace, [known], date);
  if (one.fineGrams.size === 0) return [];
  const isFeed = isOre(workspace, make?.material);
  const best = isFeed ? undefined : bestFor(buyersOf(workspace, known, date).buyers, one);
  const unsold = best ? undefined : isFeed ? 'feed' : one.full ? 'no buyer' : 'no price';
  const place = segment.start.place;
  return [{ ...one, name: lot, kind: kind ?? make?.material, shipped: undefined, best, unsold, fixed: false, place }];
};

/** Sand, slag, sweeps: nobody buys it as metal. */
const isOre = ({ workshop }: Workspace, name: string | undefined): boolean => {
  const material = name === undefined ? undefined : findMaterial(workshop, name);
  return material !== undefined && metalShare(material) < 0.5;
};

const shippedOpen = (workspace: Workspace, date: string): readonly Open[] => {
  const accounts = accountsOf(workspace);
  const { ships, settles } = salesOf(workspace);
  const settled = new Set(
    settles.flatMap((sale) => ((headOf(sale).date ?? '') <= date ? (headOf(sale).name?.name ?? []) : [])),
  );
  return ships.flatMap((sale: Sale): readonly Open[] => {
    const { name, party, date: left, head } = headOf(sale);
    if (!name || !party || left === undefined || left > date || settled.has(name.name)) return [];
    const role = workspace.workshop.parties.get(party.name)?.role;
    if (role !== undefined && role !== 'refiner') return [];
    const lots = lotsShipped(workspace, sale).filter(
      ({ lot, segment }) =>
        !settled.has(lot) && accounts.namesOf(accounts.ownedOn(segment)).every((owner) => owner === accounts.shop),
    );
    if (lots.length === 0) return [];
    const terms = termsOn(workspace.workshop.parties.get(party.name), left);
    const isOfShipping = terms?.priceDay === 'shipped';
    const priced = isOfShipping ? left : date;
    const one = openOf(workspace, lots, priced);
    const agreed =
      one.currency === undefined ? undefined : agreedPrices(salesOf(workspace), sale, terms, priced, one.currency);
    const market = agreed?.market;
    const deal = dealOf(undefined, terms);
    const paid = [...(deal ?? commonDeal()).pays.keys()].filter((metal) => one.fineGrams.has(metal));
    const fixed = paid.length > 0 && (isOfShipping || paid.every((metal) => agreed?.fixed.has(metal)));
    const buyer: Buyer | undefined = market
      ? {
          party: party.name,
          by: deal ? 'terms' : 'common practice',
          deal: deal ?? commonDeal(),
          currency: market.currency,
          priceFor: market.priceFor,
          convert: market.convert,
          minimumGrams: undefined,
          days: terms?.days,
        }
      : undefined;
    const best = buyer && bestFor([buyer], one);
    const shipped = { party: party.name, date: left };
    const isKnown = one.fineGrams.size > 0;
    const unsold = best ? undefined : one.full ? 'no buyer' : isKnown ? 'no price' : 'not known';
    return [{ ...one, name: name.name, kind: undefined, shipped, best, unsold, fixed, place: head }];
  });
};

type Known = Pick<Open, 'lots' | 'fineGrams' | 'guessed' | 'full' | 'currency'> & {
  readonly grams: Measured | undefined;
  readonly shares: ReadonlyMap<string, ShareKnown>;
};

const openOf = (workspace: Workspace, lots: readonly LotKnown[], date: string): Known => {
  const sales = salesOf(workspace);
  const grams = gramsOf(lots);
  const shares = sharesOf(lots, bestOf(accountsOf(workspace).metals));
  const weight = grams && fromMeasured(grams);
  const fineGrams = new Map(
    weight ? [...shares].map(([metal, { share }]) => [metal, times(weight, share)] as const) : [],
  );
  const currency = currencyOf(undefined, undefined, workspace.workshop, sales, date);
  const market = currency === undefined ? undefined : marketOn(sales, date, currency);
  const values = METALS.map((metal) => {
    const [fine, price] = [fineGrams.get(metal), market?.priceFor(metal)];
    return fine ? price && scaled(fine, perGram(price).toNumber()) : NOTHING;
  });
  const priced = values.flatMap((value) => value ?? []);
  const isPriced = priced.length === METALS.length && fineGrams.size > 0;
  const guessed = (grams?.guessed ?? false) || [...shares.values()].some(({ ground }) => ground === 'guessed');
  return { lots, grams, shares, fineGrams, currency, guessed, full: isPriced ? sum(priced) : undefined };
};

/** The buyer that pays most for it as it is, of those that take it. */
const bestFor = (buyers: readonly Buyer[], of: Known): Best | undefined =>
  buyers
    .flatMap((buyer): Best[] => {
      const payout = payoutBy(buyer, of);
      if (!payout || !of.grams || of.grams.value.lessThan(buyer.minimumGrams ?? 0)) return [];
      if (payout.unpriced.length > 0 || !payout.total.amount.greaterThan(0)) return [];
      if (buyer.lump) return [{ buyer, payout, total: { ...NOTHING, value: buyer.lump.amount.toNumber() } }];
      const plain = spreadOf(payout, of.fineGrams);
      const gold = payout.metals.find(({ metal }) => metal === 'Au')?.value.amount.toNumber() ?? 0;
      return [{ buyer, payout, total: buyer.by === 'common practice' ? withCommonShare(plain, gold) : plain }];
    })
    .sort((a, b) => b.payout.total.amount.comparedTo(a.payout.total.amount))[0];

/** By what a buyer pays; all prices times a factor, to see what a fall of them would do. */
const payoutBy = (
  { deal, lump, currency, priceFor, convert }: Buyer,
  { grams, shares }: Pick<Known, 'grams' | 'shares'>,
  factor: Decimal = ONE,
): Payout | undefined => {
  if (!grams) return undefined;
  const lot = {
    grams: grams.value,
    receivedGrams: grams.value,
    shares: new Map([...shares].map(([metal, { share }]) => [metal, asDecimal(share.value)])),
  };
  const payout = payoutOf(lot, deal, {
    currency,
    convert,
    priceFor: (metal) => {
      const price = priceFor(metal);
      return price && { ...price, amount: price.amount.times(factor) };
    },
  });
  return lump ? { ...payout, total: lump, unpriced: [], unconverted: [] } : payout;
};

/** What it would bring from the same buyer, were all prices so much of what they are; nothing changes where the price is agreed. */
export const atPrices = (workspace: Workspace, of: Open, factor: Decimal): Money | undefined => {
  if (!of.best) return undefined;
  if (of.fixed) return of.best.payout.total;
  const shares = sharesOf(of.lots, bestOf(accountsOf(workspace).metals));
  return payoutBy(of.best.buyer, { grams: gramsOf(of.lots), shares }, factor)?.total;
};
