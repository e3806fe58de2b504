/** What a buyer offered for the lots of a shipment before these went: what their settlement is held against besides the terms. */
import { fromMeasured, spread, times } from '../../engine/accounts/inexact';
import type { Metals } from '../../engine/accounts/metals';
import { type DealWords, dealOf, termsOf, wordsOf } from '../../engine/selling/deal';
import { isComplete, payoutOf } from '../../engine/selling/payout';
import { type OfferedSum, priceIn, type SettlementCase } from '../../engine/selling/stated';
import { spreadOf } from '../../engine/selling/worth';
import type { Terms } from '../../engine/workshop';
import { decimal, ZERO } from '../../quantity/decimal';
import { addMoney, minorUnit, money } from '../../quantity/money';
import type { Place } from '../../text/place';
import type { Workspace } from '../workspace';
import { headOf } from './consigned';
import { asDecimal, type LotKnown, ownOf, sharesOf } from './known';
import { type Sale, salesOf } from './sales';
import { lotAt } from './shipments';

export interface OfferMade {
  readonly lot: LotKnown;
  readonly date: string;
  readonly words: DealWords;
  readonly sale: Sale;
  /** Its total, else its head. */
  readonly place: Place;
}

interface Asked {
  readonly lots: readonly LotKnown[];
  readonly party: string | undefined;
  /** The day on which the lots went. */
  readonly until: string;
}

/** The last of each lot by then; none at all where one of the lots was not offered for, or where only a part of it went. */
export const offersMade = (workspace: Workspace, { lots, party, until }: Asked): readonly OfferMade[] => {
  if (party === undefined) return [];
  const found = lots.map((lot): OfferMade | undefined => {
    const sale = salesOf(workspace).offers.findLast((one) => {
      const { name, party: by, date = '' } = headOf(one);
      return name?.name === lot.lot && by?.name === party && date <= until;
    });
    const head = sale && headOf(sale);
    if (!sale || head?.date === undefined) return undefined;
    const offered = lotAt(workspace, lot.lot, head)?.grams;
    if (offered && lot.grams?.value.lessThan(offered.value.times(decimal(WHOLE)))) return undefined;
    const words = wordsOf(sale.parts);
    return { lot, date: head.date, words, sale, place: words.total?.detail.place ?? head.head };
  });
  const made = found.filter((one) => one !== undefined);
  return made.length === lots.length ? made : [];
};

/** What weighing anew may take off a lot; of which less went, not all went that was offered for. */
const WHOLE = '0.99';

const isSum = ({ words: { pays, total } }: OfferMade): boolean => pays.size === 0 && total !== undefined;

/**
 * Shares as terms: whoever offers a share of a lot, and is then sent it, has agreed to that. Of several lots where all offers say the same, and none a
 * charge at once: whether that is taken once for all of them is not said.
 */
export const termsByOffer = (offers: readonly OfferMade[]): Terms | undefined => {
  const [first, ...others] = offers.map(({ words, sale }) => termsOf(words, headOf(sale)));
  if (!first || others.length === 0) return first;
  const isOnce = [...first.charges.values()].some(({ currency, per }) => currency !== undefined && !per);
  const said = (of: Terms | undefined): string =>
    JSON.stringify([of?.pays, of?.less, of?.keeps, of?.charges].map((map) => [...(map ?? [])].sort()));
  return !isOnce && others.every((one) => said(one) === said(first)) ? first : undefined;
};

interface Beside {
  readonly of: SettlementCase;
  readonly metals: Metals;
  readonly onFile: Terms | undefined;
}

/** What the offers come to together; none where that is told by the lines of a settlement, or cannot be reckoned. */
export const offerSum = (offers: readonly OfferMade[], { of, metals, onFile }: Beside): OfferedSum | undefined => {
  const [first] = offers;
  if (!first || of.words.returns.size > 0) return undefined;
  if (termsByOffer(offers)) return onFile ? { deal: dealOf(first.words, onFile)! } : undefined;
  let sum = money(0, of.currency);
  let allowed = ZERO;
  for (const one of offers) {
    const { words, lot } = one;
    const total = isSum(one) ? of.convert(words.total!.value) : undefined;
    if (total) {
      sum = addMoney(sum, total);
      allowed = allowed.plus(minorUnit(of.currency));
      continue;
    }
    const deal = words.pays.size > 0 ? dealOf(words, onFile) : undefined;
    const shares = sharesOf([lot], ownOf(metals, undefined));
    if (isSum(one) || !deal || !lot.grams || shares.size === 0) return undefined;
    const grams = lot.grams.value;
    const known = new Map([...shares].map(([metal, { share }]) => [metal, asDecimal(share.value)]));
    const payout = payoutOf({ grams, receivedGrams: grams, shares: known }, deal, {
      currency: of.currency,
      priceFor: (metal) => priceIn(of, words.prices.get(metal)?.value ?? of.words.prices.get(metal)?.value),
      convert: of.convert,
    });
    if (!isComplete(payout)) return undefined;
    const fine = new Map([...shares].map(([metal, { share }]) => [metal, times(fromMeasured(lot.grams!), share)]));
    sum = addMoney(sum, payout.total);
    allowed = allowed.plus(minorUnit(of.currency)).plus(decimal(of.coverage * spread(spreadOf(payout, fine))));
  }
  return { sum, allowed };
};
