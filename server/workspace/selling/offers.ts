/** What a lot, or a shipment, would bring on its day: by an offer, by the terms on file, or by what buyers commonly pay. */
import { fromMeasured, type Inexact, NOTHING, spread, times } from '../../engine/accounts/inexact';
import type { Entry } from '../../engine/entry';
import {
  commonDeal,
  type Deal,
  type DealWords,
  dealOf,
  speaksOfPay,
  termsOn,
  wordsOf,
} from '../../engine/selling/deal';
import { type Consigned, type Payout, payoutOf } from '../../engine/selling/payout';
import { isPriced, quotesBy } from '../../engine/selling/prices';
import { type Below, belowTerms } from '../../engine/selling/shortfall';
import { spreadOf, withCommonShare } from '../../engine/selling/worth';
import type { Terms } from '../../engine/workshop';
import type { Decimal } from '../../quantity/decimal';
import type { Measured } from '../../quantity/measured';
import type { Money } from '../../quantity/money';
import { accountsOf } from '../accounts';
import type { Workspace } from '../workspace';
import { headOf } from './consigned';
import { asDecimal, bestOf, gramsOf, type LotKnown, type ShareKnown, sharesOf } from './known';
import { currencyOf, type Market, marketOn, pricesBy } from './money';
import { type Sale, salesOf } from './sales';
import { isOf, lotAt, lotsShipped } from './shipments';

/** By whose word the payout is reckoned. */
export type By = 'offer' | 'terms' | 'common practice';

/** A lot, or several sent together, with what a party would pay for them. */
export interface Worth {
  readonly party: string | undefined;
  readonly lots: readonly LotKnown[];
  readonly grams: Measured;
  readonly shares: ReadonlyMap<string, ShareKnown>;
  readonly fineGrams: ReadonlyMap<string, Inexact>;
  readonly by: By;
  readonly terms: Terms | undefined;
  readonly deal: Deal;
  readonly words: DealWords | undefined;
  readonly market: Market;
  readonly lot: Consigned;
  /** Worked through line by line, by the deal. */
  readonly payout: Payout;
  /** The sum that an offer names for the whole: what it pays is this, whatever its lines come to. */
  readonly lump: Money | undefined;
  readonly paid: Money;
  /** What its lines come to, with its error. */
  readonly lines: Inexact;
  /** What is paid, with its error: none of a sum that is named. */
  readonly total: Inexact;
  /** Rests on a guess of weight or metal. */
  readonly guessed: boolean;
  /** The value of all gold and silver at the full price; none where a metal has no price. */
  readonly full: Money | undefined;
  /** What is paid of it, 0 to 1. */
  readonly share: number | undefined;
}

/** What a worth is reckoned from. */
interface Question {
  readonly lots: readonly LotKnown[];
  readonly party: string | undefined;
  readonly date: string;
  readonly words?: DealWords | undefined;
  readonly currency?: string;
}

/** Undefined where the lots are not weighed, nothing is known of their metals, or no currency is. */
export const worthOf = (workspace: Workspace, { lots, party, date, words, currency }: Question): Worth | undefined => {
  const { workshop } = workspace;
  const sales = salesOf(workspace);
  const grams = gramsOf(lots);
  const shares = sharesOf(lots, bestOf(accountsOf(workspace).metals));
  const terms = termsOn(party === undefined ? undefined : workshop.parties.get(party), date);
  const money = currency ?? currencyOf(words, terms, workshop, sales, date);
  if (!grams?.value.greaterThan(0) || shares.size === 0 || money === undefined) return undefined;
  const agreed = dealOf(words, terms);
  const lump = words?.total?.value.currency === money ? words.total.value : undefined;
  const says = words !== undefined && speaksOfPay(words) && (agreed !== undefined || lump !== undefined);
  const by: By = says ? 'offer' : terms ? 'terms' : 'common practice';
  const deal = agreed ?? commonDeal();
  const market = marketOn({ quotes: quotesBy(sales.quotes, date, terms?.fixing) }, date, money);
  const lot: Consigned = {
    grams: grams.value,
    receivedGrams: grams.value,
    shares: new Map([...shares].map(([metal, { share }]) => [metal, asDecimal(share.value)])),
  };
  const payout = payoutOf(lot, deal, { currency: money, priceFor: pricesBy(market, words), convert: market.convert });
  const weight = fromMeasured(grams);
  const fineGrams = new Map([...shares].map(([metal, { share }]) => [metal, times(weight, share)]));
  const plain = spreadOf(payout, fineGrams);
  const gold = payout.metals.find(({ metal }) => metal === 'Au')?.value.amount.toNumber() ?? 0;
  const full = fullValue(fineGrams, market);
  const paid = lump ?? payout.total;
  const reckoned = by === 'common practice' ? withCommonShare(plain, gold) : plain;
  return {
    party,
    lots,
    grams,
    shares,
    fineGrams,
    by,
    terms,
    deal,
    words,
    market,
    lot,
    payout,
    lump,
    paid,
    lines: reckoned,
    total: lump ? { ...NOTHING, value: lump.amount.toNumber() } : reckoned,
    guessed: grams.guessed || [...shares.values()].some(({ ground }) => ground === 'guessed'),
    full,
    share: full?.amount.greaterThan(0) ? paid.amount.div(full.amount).toNumber() : undefined,
  };
};

/** Gold and silver at the full price of the day. */
const fullValue = (fineGrams: ReadonlyMap<string, Inexact>, market: Market): Money | undefined => {
  let amount = asDecimal(0);
  for (const metal of ['Au', 'Ag']) {
    const fine = fineGrams.get(metal);
    if (!fine?.value) continue;
    const price = market.priceFor(metal);
    if (!price) return undefined;
    amount = amount.plus(asDecimal(fine.value).times(price.amount).div(price.perGrams));
  }
  return { amount, currency: market.currency };
};

export interface Offer {
  readonly sale: Sale;
  readonly lot: LotKnown;
  readonly date: string;
  readonly worth: Worth;
  /** What the terms on file would bring for the same lot on the same day, where there are any and the offer says otherwise. */
  readonly byTerms: Worth | undefined;
  /** Where it is below them: by how much, and by which of its words. */
  readonly below: Below | undefined;
}

/** Undefined for an entry that is no offer, or of which there is nothing to reckon with. */
export const offerOf = (workspace: Workspace, entry: Entry): Offer | undefined => {
  const sale = entry.verb === 'offer' ? salesOf(workspace).of(entry) : undefined;
  const head = sale && headOf(sale);
  const lot = head?.name && lotAt(workspace, head.name.name, head);
  if (!sale || !lot || head.date === undefined) return undefined;
  const { date } = head;
  const party = head.party?.name;
  const words = wordsOf(sale.parts);
  const worth = worthOf(workspace, { lots: [lot], party, date, words });
  if (!worth) return undefined;
  const { currency } = worth.market;
  const byTerms =
    worth.by === 'offer' && worth.terms ? worthOf(workspace, { lots: [lot], party, date, currency }) : undefined;
  return { sale, lot, date, worth, byTerms, below: byTerms && belowOf(worth, byTerms) };
};

/** Of a lot whose metal is guessed a sum that is named for the whole tells nothing. */
export const belowOf = (
  { lot, words, terms, market, guessed }: Pick<Worth, 'lot' | 'words' | 'terms' | 'market' | 'guessed'>,
  byTerms: Worth,
): Below | undefined => {
  if (!words || !terms || (guessed && words.total)) return undefined;
  const { currency, priceFor, convert } = market;
  const isOfDay = (metal: string): boolean => {
    const price = market.find(metal);
    return isPriced(price) && price.ageDays === 0;
  };
  return belowTerms({ lot, words, terms, currency, priceFor, isOfDay, convert, u: spread(byTerms.total) });
};

/** What a shipment would bring on the day that it left, by the terms on file; what goes back to its owner brings nothing. */
export const shipmentWorth = (workspace: Workspace, entry: Entry): Worth | undefined => {
  const sale = entry.verb === 'ship' ? salesOf(workspace).of(entry) : undefined;
  const { date, party } = sale ? headOf(sale) : {};
  if (!sale || date === undefined || !party) return undefined;
  const lots = lotsShipped(workspace, sale).filter((lot) => !isOf(workspace, lot, party.name));
  return lots.length > 0 ? worthOf(workspace, { lots, party: party.name, date }) : undefined;
};

/** Metals that are there and that a payout leaves out, at their full price. */
export const unpaidIn = (
  { unpaid }: Pick<Payout, 'unpaid'>,
  market: Market,
): readonly { readonly metal: string; readonly fineGrams: Decimal; readonly value: Money }[] =>
  unpaid.flatMap(({ metal, fineGrams }) => {
    const price = market.priceFor(metal);
    return price
      ? [
          {
            metal,
            fineGrams,
            value: { amount: fineGrams.times(price.amount).div(price.perGrams), currency: price.currency },
          },
        ]
      : [];
  });

/** What is offered or shipped to a party, and the least that it takes; none where it takes any lot. */
export const minimumFor = (
  workspace: Workspace,
  entry: Entry,
): { readonly grams: Measured; readonly minimumGrams: Decimal; readonly party: string } | undefined => {
  const sale = salesOf(workspace).of(entry);
  const head = sale && headOf(sale);
  if (!sale || !head?.party || head.date === undefined) return undefined;
  const party = head.party.name;
  const minimumGrams = termsOn(workspace.workshop.parties.get(party), head.date)?.minimumGrams;
  const offered = entry.verb === 'offer' && head.name ? lotAt(workspace, head.name.name, head) : undefined;
  const all = entry.verb === 'ship' ? lotsShipped(workspace, sale) : offered ? [offered] : [];
  const lots = all.filter((lot) => !isOf(workspace, lot, party));
  const grams = gramsOf(lots);
  return minimumGrams && grams && { grams, minimumGrams, party };
};
