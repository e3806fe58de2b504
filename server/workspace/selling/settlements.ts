/** A settlement of the journal, held against all that the journal knows of it. */
import { shareOf } from '../../engine/accounts/assays';
import type { Entry } from '../../engine/entry';
import { type DealWords, termsOn, wordsOf } from '../../engine/selling/deal';
import { type Checked, checkSettlement } from '../../engine/selling/settlement';
import type { SettlementCase, Share } from '../../engine/selling/stated';
import { weighAmount } from '../../engine/weigh';
import type { Terms } from '../../engine/workshop';
import type { Decimal } from '../../quantity/decimal';
import type { Measured } from '../../quantity/measured';
import { dayNumber } from '../../text/calendar';
import { accountsOf } from '../accounts';
import type { Workspace } from '../workspace';
import { agreedPrices, priceDayIn } from './agreed-prices';
import { headOf } from './consigned';
import { type GivenBack, givenBackOf } from './given-back';
import { asDecimal, assaysBy, gramsOf, type LotKnown, ownOf, type ShareKnown, sharesOf, uOf } from './known';
import { type Market, settledCurrencyOf } from './money';
import { type OfferMade, offerSum, offersMade, termsByOffer } from './offered';
import { type Sale, salesOf } from './sales';
import { type Consignment, consignmentOf, firstOthersOf, othersOf } from './shipments';

export interface Settlement {
  readonly name: string;
  readonly sale: Sale;
  readonly party: string | undefined;
  readonly consignment: Consignment;
  readonly lots: readonly LotKnown[];
  /** Whose they are besides the shop. */
  readonly owners: readonly string[];
  /** Metal of the shop's own is beside it. */
  readonly isShared: boolean;
  /** What was shipped, all lots together. */
  readonly grams: Measured | undefined;
  /** What we know ourselves, of all lots together. */
  readonly own: ReadonlyMap<string, ShareKnown>;
  /** What they found themselves: the assay that they sent, or that of their sheet where it is not what settled between two. */
  readonly theirs: ReadonlyMap<string, Decimal>;
  readonly received: Measured | undefined;
  readonly melted: Measured | undefined;
  readonly terms: Terms | undefined;
  /** No terms are on file: they are what the party offered for the lot before it went. */
  readonly byOffer: boolean;
  /** What they offered for the lots before these went, one of each lot; none where one of them was not offered for. */
  readonly offers: readonly OfferMade[];
  readonly words: DealWords;
  /** Metal that comes back in place of money. */
  readonly back: readonly GivenBack[];
  readonly currency: string;
  /** Prices of the agreed day. */
  readonly market: Market;
  readonly shippedOn: string | undefined;
  readonly settledOn: string;
  readonly paidOn: string | undefined;
  /** From shipment to settlement or, where that is written, to the money; none where that is earlier. */
  readonly daysTaken: number | undefined;
  readonly checked: Checked;
}

const byWorkspace = new WeakMap<Workspace, Map<Entry, Settlement | undefined>>();

/** Undefined for an entry that is none, for a customer's bill, and for one that names nothing that is known, or that has no weight, assay or deal to reckon with. */
export const settlementOf = (workspace: Workspace, entry: Entry): Settlement | undefined => {
  const known = byWorkspace.get(workspace) ?? new Map<Entry, Settlement | undefined>();
  byWorkspace.set(workspace, known);
  if (known.has(entry)) return known.get(entry);
  const sale = salesOf(workspace).of(entry);
  const made = sale && entry.verb === 'settle' ? settle(workspace, sale) : undefined;
  known.set(entry, made);
  return made;
};

/** As it stood at the end of a day: what was written later is left out. */
export const settledUntil = (workspace: Workspace, { entry }: Sale, until: string): Settlement | undefined => {
  const sale = salesOf(workspace).of(entry);
  const parts = sale?.parts.filter(({ date }) => (date ?? '') <= until);
  if (!sale || !parts || parts.length === 0 || entry.verb !== 'settle') return undefined;
  return parts.length === sale.parts.length ? settlementOf(workspace, entry) : settle(workspace, { ...sale, parts });
};

/** All of a journal, in order. */
export const settlementsIn = (workspace: Workspace): readonly Settlement[] =>
  salesOf(workspace).settles.flatMap(({ entry }) => settlementOf(workspace, entry) ?? []);

const settle = (workspace: Workspace, sale: Sale): Settlement | undefined => {
  const head = headOf(sale);
  const { name, date } = head;
  const consignment = name && consignmentOf(workspace, name.name);
  if (!name || date === undefined || !consignment || consignment.lots.length === 0) return undefined;
  const { workshop } = workspace;
  const { metals } = accountsOf(workspace);
  const sales = salesOf(workspace);
  const words = wordsOf(sale.parts);
  const { ship, lots } = consignment;
  const shippedOn = ship && headOf(ship).date;
  const party = head.party?.name ?? (ship && headOf(ship).party?.name);
  // Of a customer's own metal: it is their bill.
  const isTheirs = consignment.lots.some((lot) => {
    const owners = firstOthersOf(workspace, lot);
    return party === undefined ? owners.length > 0 : owners.includes(party);
  });
  if (isTheirs) return undefined;
  const onFile = termsOn(party === undefined ? undefined : workshop.parties.get(party), shippedOn ?? date);
  const offers = offersMade(workspace, { lots, party, until: shippedOn ?? date });
  const terms = onFile ?? termsByOffer(offers);
  const currency = settledCurrencyOf(words, terms, workshop, sales, date);
  if (currency === undefined) return undefined;
  const priceDay = priceDayIn(terms?.priceDay, shippedOn, date, words.paid);
  const agreed = agreedPrices(sales, ship, terms, priceDay, currency);
  const { market } = agreed;
  const weigh = (of: DealWords['received']): Measured | undefined =>
    of && weighAmount(of.value, of.detail.said, workshop, `${of.detail.word} by ${party ?? 'the buyer'}`).mass;
  const grams = gramsOf(lots);
  const own = sharesOf(lots, ownOf(metals, party));
  const [received, melted] = [weigh(words.received), weigh(words.melted)];
  const exchanged = new Map(exact(assaysBy(metals, lots, { party })));
  const umpire = new Map(exact(assaysBy(metals, lots, 'umpire')));
  const of: SettlementCase = {
    currency,
    terms,
    words,
    ours: { grams, shares: new Map([...own].map(([metal, one]) => [metal, asShare(one)])) },
    received,
    melted,
    theirU: new Map([...words.assay].map(([metal, { amount }]) => [metal, theirSpread(metal, amount)])),
    exchanged,
    late: lateOf(workspace, lots, { terms, party, shippedOn, settledOn: date }),
    umpire,
    prices: new Map(
      [...new Set([...words.prices.keys(), ...words.pays.keys(), ...(terms?.pays.keys() ?? [])])].map((metal) => [
        metal,
        agreed.of(metal),
      ]),
    ),
    convert: market.convert,
    coverage: workshop.limits.coverage,
  };
  const offered = offerSum(offers, { of, metals, onFile });
  const checked = checkSettlement({ ...of, offered });
  if (!checked) return undefined;
  const end = words.paid ?? date;
  return {
    name: name.name,
    sale,
    party,
    consignment,
    lots,
    owners: [...new Set(lots.flatMap((lot) => othersOf(workspace, lot)))],
    isShared: lots.some(({ segment }) => {
      const names = accountsOf(workspace).namesOf(accountsOf(workspace).ownedOn(segment));
      return names.length === 0 || names.includes(accountsOf(workspace).shop);
    }),
    grams,
    own,
    theirs: theirAssay(words, terms, exchanged, umpire),
    received,
    melted,
    terms,
    byOffer: terms !== undefined && !onFile,
    offers,
    words,
    back: givenBackOf(workspace, words),
    currency,
    market,
    shippedOn,
    settledOn: date,
    paidOn: words.paid,
    daysTaken: shippedOn === undefined || end < shippedOn ? undefined : dayNumber(end) - dayNumber(shippedOn),
    checked,
  };
};

interface ExchangeOfAssays {
  readonly terms: Terms | undefined;
  readonly party: string | undefined;
  readonly shippedOn: string | undefined;
  readonly settledOn: string;
}

/**
 * By the days on which assays are written: the first of our own, the first of theirs, which is at the latest their sheet. Neither where both are late,
 * or where nothing was agreed.
 */
const lateOf = (
  workspace: Workspace,
  lots: readonly LotKnown[],
  { terms, party, shippedOn, settledOn }: ExchangeOfAssays,
): SettlementCase['late'] => {
  const days = terms?.assay === 'exchange' ? terms.exchangeDays : undefined;
  if (days === undefined || shippedOn === undefined) return undefined;
  const assays = lots.flatMap(({ segment }) => accountsOf(workspace).metals.assays(segment));
  const firstDay = (isOne: (entry: Entry) => boolean): string | undefined =>
    assays
      .filter((entry) => !entry.said.umpire && isOne(entry))
      .flatMap(({ date }) => date ?? [])
      .sort()[0];
  const isTheirs = (entry: Entry): boolean => party !== undefined && entry.party?.name === party;
  const isLate = (day: string | undefined): boolean =>
    day !== undefined && dayNumber(day) - dayNumber(shippedOn) > days;
  const ours = isLate(firstDay((entry) => !isTheirs(entry)));
  const theirs = isLate(firstDay(isTheirs) ?? settledOn);
  return ours === theirs ? undefined : ours ? 'ours' : 'theirs';
};

const theirAssay = (
  { assay }: DealWords,
  terms: Terms | undefined,
  exchanged: SettlementCase['exchanged'],
  umpire: SettlementCase['umpire'],
): ReadonlyMap<string, Decimal> => {
  const sheet = [...assay].filter(([metal]) => terms?.assay !== 'exchange' && !umpire.has(metal));
  return new Map([...sheet.map(([metal, { share }]) => [metal, share] as const), ...exchanged]);
};

const asShare = (of: ShareKnown): Share => ({ value: asDecimal(of.share.value), u: uOf(of) });

const exact = (of: ReadonlyMap<string, number>): readonly (readonly [string, Decimal])[] =>
  [...of].map(([metal, value]) => [metal, asDecimal(value)]);

/** Of an assay whose method is not written, in thousandths: by fire without proofs, gold 1 and silver 2. */
const FIRE = { gold: 0.001, other: 0.002 };

const theirSpread = (metal: string, amount: Parameters<typeof shareOf>[0]): number => {
  const [one] = shareOf(amount);
  if (!one) return 0;
  return one.stated ? one.u : Math.hypot(one.u, metal === 'Au' ? FIRE.gold : FIRE.other);
};
