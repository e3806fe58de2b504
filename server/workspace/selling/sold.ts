/** What was sold of hand for money: how much of the metal's worth was paid, and whether the terms on file would have brought more. */
import { type Inexact, scaled, sum } from '../../engine/accounts/inexact';
import type { Entry } from '../../engine/entry';
import { wordsOf } from '../../engine/selling/deal';
import { isPriced } from '../../engine/selling/prices';
import type { Below } from '../../engine/selling/shortfall';
import { perGram } from '../../engine/selling/stated';
import { addMoney, type Money, minorUnit, negateMoney } from '../../quantity/money';
import type { Workspace } from '../workspace';
import { headOf } from './consigned';
import type { LotKnown } from './known';
import { type OfferMade, offersMade } from './offered';
import { belowOf, offerOf, type Worth, worthOf } from './offers';
import { type Sale, salesOf } from './sales';
import { lotAt } from './shipments';

export interface Sold {
  readonly sale: Sale;
  readonly lot: LotKnown;
  readonly date: string;
  /** The money that was paid. */
  readonly paid: Money;
  /** What the metal was worth that day at the full price, with its error; none without a price. */
  readonly full: Inexact | undefined;
  /** What was paid of it, 0 to 1. */
  readonly share: number | undefined;
  readonly worth: Worth;
  /** Where the sum is below what the party's terms on file would bring; none where an offer says so already. */
  readonly below: Below | undefined;
  /** Where it is below the sum that the party offered for the lot. */
  readonly belowOffer: { readonly offer: OfferMade; readonly sum: Money; readonly short: Money } | undefined;
}

/** A sale of hand for money. */
export const soldOf = (workspace: Workspace, entry: Entry): Sold | undefined => {
  const sale = entry.verb === 'sell' ? salesOf(workspace).of(entry) : undefined;
  const head = sale && headOf(sale);
  const lot = head?.name && lotAt(workspace, head.name.name, head);
  if (!sale || !lot || !head?.money || head.money.per || head.date === undefined) return undefined;
  const paid = { amount: head.money.digits.value, currency: head.money.currency };
  const worth = worthOf(workspace, { lots: [lot], party: head.party?.name, date: head.date, currency: paid.currency });
  if (!worth) return undefined;
  const full = worth.full && fullSpread(worth);
  const share = full && full.value > 0 ? paid.amount.toNumber() / full.value : undefined;
  return {
    sale,
    lot,
    date: head.date,
    paid,
    full,
    share,
    worth,
    below: belowIn(workspace, sale, worth, paid),
    belowOffer: belowOfferIn(workspace, worth, head.date, paid),
  };
};

/** Of an offer of shares what they come to is told with the terms; a sum for the whole stands as it is. */
const belowOfferIn = (
  workspace: Workspace,
  { lots, party, market }: Worth,
  until: string,
  paid: Money,
): Sold['belowOffer'] => {
  const [offer] = offersMade(workspace, { lots, party, until });
  const total = offer?.words.pays.size === 0 ? offer.words.total : undefined;
  const sum = total && market.convert(total.value);
  const short = sum && addMoney(sum, negateMoney(paid));
  return offer && sum && short?.amount.greaterThan(minorUnit(paid.currency)) ? { offer, sum, short } : undefined;
};

const fullSpread = ({ full, fineGrams, market }: Worth): Inexact => {
  const terms = [...fineGrams].flatMap(([metal, fine]) => {
    const price = metal === 'Au' || metal === 'Ag' ? market.find(metal) : undefined;
    return price && isPriced(price) ? [scaled(fine, perGram(price).toNumber())] : [];
  });
  return { ...sum(terms), value: full!.amount.toNumber() };
};

/** A sum for the whole, as an offer may name one. */
const belowIn = (workspace: Workspace, sale: Sale, worth: Worth, paid: Money): Below | undefined => {
  const { name, money, party } = headOf(sale);
  if (!worth.terms || !money) return undefined;
  const isOffered = salesOf(workspace).offers.some(({ entry }) => {
    const head = entry.name?.name === name?.name && entry.party?.name === party?.name;
    return head && offerOf(workspace, entry)?.below !== undefined;
  });
  const said = { word: 'for', names: [], amounts: [], money, reading: undefined, date: undefined, said: {} };
  const words = { ...wordsOf([]), total: { value: paid, detail: { ...said, place: money.place } } };
  return isOffered ? undefined : belowOf({ ...worth, words }, worth);
};
