/**
 * What the shop buys of a customer's metal by a bill: a metal with a price on it. Found without asking whose a lot is at its end, which rests on
 * this.
 */

import type { Lineage } from '../../engine/accounts/lineage';
import type { Metals } from '../../engine/accounts/metals';
import { type Purchase, type Purchases, receivedOwner } from '../../engine/accounts/owners';
import { type Segment, segmentsOf } from '../../engine/accounts/segments';
import { type DealWords, termsOn, wordsOf } from '../../engine/selling/deal';
import type { Bands, Terms, Workshop } from '../../engine/workshop';
import { inOrder, writtenIn } from '../order';
import type { Workspace } from '../workspace';
import { lotsIn, settledWith } from './consigned';
import { cameFrom, cameOf, workedTogether } from './family';
import { type Sale, type Sales, salesOf } from './sales';

export interface PurchaseByBill extends Purchase {
  readonly sale: Sale;
  readonly metals: ReadonlySet<string>;
  /** The lots as they came in, and all that had come of them by then. */
  readonly received: readonly Segment[];
  readonly pieces: readonly Segment[];
}

export interface PurchasesByBill extends Purchases {
  readonly of: (segment: Segment) => readonly PurchaseByBill[];
  readonly all: readonly PurchaseByBill[];
  readonly bySegment: BillsBySegment;
}

type BillsBySegment = ReadonlyMap<Segment, readonly PurchaseByBill[]>;

export const purchasesIn = (workspace: Workspace, metals: Metals): PurchasesByBill => {
  const buys = buyingIn(salesOf(workspace), workspace.workshop);
  if (buys.length === 0) return NOTHING_BOUGHT;
  const compare = inOrder(workspace.pages);
  const isAfter: Purchases['isAfter'] = (entry, bill) => compare(writtenIn(workspace.pages, entry), bill) > 0;
  const bySegment = new Map<Segment, PurchaseByBill[]>();
  const all = buys.flatMap((sale) => purchaseBy(workspace, metals, sale, isAfter) ?? []);
  for (const one of all) {
    for (const segment of one.pieces) {
      const own = bySegment.get(segment);
      if (own) own.push(one);
      else bySegment.set(segment, [one]);
    }
  }
  return { all, bySegment, of: (segment) => bySegment.get(segment) ?? NONE, isAfter };
};

const NONE: readonly PurchaseByBill[] = [];

const NOTHING_BOUGHT: PurchasesByBill = { all: NONE, bySegment: new Map(), of: () => NONE, isAfter: () => false };

const buying = new WeakMap<Sales, readonly Sale[]>();

/** Settlements with a price that may be a customer's bill: those with a refiner, which are most, are not looked into at every edit. */
export const buyingIn = (sales: Sales, { parties }: Workshop): readonly Sale[] => {
  const known = buying.get(sales);
  if (known) return known;
  const made = sales.settles.filter((sale) => {
    if (!sale.parts.some(({ others }) => others.some(isPrice))) return false;
    const party = settledWith(sales, sale);
    const role = party === undefined ? undefined : parties.get(party)?.role;
    return role === undefined || role === 'customer';
  });
  buying.set(sales, made);
  return made;
};

const isPrice = ({ word }: { readonly word: string }): boolean => word === 'price';

const purchaseBy = (
  workspace: Workspace,
  metals: Metals,
  sale: Sale,
  isAfter: Purchases['isAfter'],
): PurchaseByBill | undefined => {
  const { workshop } = workspace;
  const { entry } = sale;
  const { lineage } = metals;
  const ownerOf = (segment: Segment): string | undefined => {
    const owner = segment.start.kind === 'received' ? receivedOwner(segment, workshop) : undefined;
    return owner !== undefined && workshop.parties.get(owner)?.role === 'own' ? undefined : owner;
  };
  const isThere = (segment: Segment): boolean => !isAfter(segment.start.entry, entry);
  const named = lotsNamed(workspace, lineage, sale);
  const owners = named.flatMap((segment) => cameFrom(lineage, segment)).flatMap((segment) => ownerOf(segment) ?? []);
  const party = settledWith(salesOf(workspace), sale);
  // Of a pool the one whose bill it is, or whose piece.
  const whose = [party, ...named.map((segment) => receivedOwner(segment, workshop))];
  const owner = whose.find((one) => one !== undefined && owners.includes(one)) ?? owners[0];
  if (owner === undefined || (party !== undefined && party !== owner)) return undefined;
  const isTheirs = (segment: Segment): boolean =>
    isThere(segment) && (segment.start.kind !== 'received' || ownerOf(segment) === owner);
  const received = workedTogether(lineage, named, isTheirs);
  const words = wordsOf(sale.parts);
  const bought = metalsBought(words, termsFor(workspace, owner, received), metalsIn(metals, received));
  if (bought.metals.size === 0) return undefined;
  const pieces = cameOf(lineage, received, isTheirs).filter(isTheirs);
  return { ...bought, owner, entry, sale, received, pieces };
};

const lotsNamed = (workspace: Workspace, lineage: Lineage, { entry: { name } }: Sale): readonly Segment[] => {
  const ship = salesOf(workspace).ships.findLast((one) => one.entry.name?.name === name?.name);
  if (ship) return lotsIn(lineage, ship).map(({ segment }) => segment);
  const story = name && workspace.book.lot(name.name);
  return story && story.births.length > 0 ? segmentsOf(story).all.slice(0, 1) : [];
};

/** The terms of an owner on the day that the first of these came in. */
export const termsFor = (
  { workshop }: Workspace,
  owner: string,
  received: readonly Segment[],
  otherwise = '',
): Terms | undefined =>
  termsOn(
    workshop.parties.get(owner),
    received.map(({ start }) => start.entry.date).find((date) => date !== undefined) ?? otherwise,
  );

const PRECIOUS = ['Au', 'Ag', 'Pt', 'Pd'] as const;

/** What is known to be in them. */
const metalsIn = (metals: Metals, received: readonly Segment[]): readonly string[] =>
  PRECIOUS.filter((metal) => received.some((one) => (metals.best(one).get(metal)?.share?.value ?? 0) > 0));

/**
 * The metals with a price on the bill; all that the lot holds where nothing is left of it that has to go back: a metal of which the bill, or else
 * the terms, give back nothing is not left.
 */
const metalsBought = (
  words: DealWords,
  terms: Terms | undefined,
  known: readonly string[],
): Pick<PurchaseByBill, 'metals' | 'whole'> => {
  const metals = new Set(words.prices.keys());
  const spoken = [...words.assay.keys(), ...words.pays.keys(), ...(terms?.pays.keys() ?? [])];
  const others = new Set([...known, ...spoken].filter((metal) => !metals.has(metal)));
  const goesBack = (metal: string): boolean => {
    const bands: Bands | undefined = words.pays.get(metal)?.value ?? terms?.pays.get(metal);
    return !bands || bands.some(({ share }) => share.greaterThan(0));
  };
  const whole = metals.size > 0 && ![...others].some(goesBack);
  return { metals: whole ? new Set([...metals, ...others]) : metals, whole };
};

/** What was bought of a lot by the end of a day, and without one by the end of the record. */
export const purchasedOf = (
  { of }: PurchasesByBill,
  segment: Segment,
  date: string | undefined,
): readonly PurchaseByBill[] => of(segment).filter(({ entry }) => date === undefined || (entry.date ?? '') <= date);

/** Whether the same was bought of the same lots. */
export const boughtAlike = (one: BillsBySegment, other: BillsBySegment): boolean =>
  one.size === other.size &&
  [...one].every(([segment, bills]) => {
    const others = other.get(segment);
    return (
      others?.length === bills.length &&
      bills.every(({ entry, owner, whole }, at) => {
        const that = others[at]!;
        return that.entry === entry && that.owner === owner && that.whole === whole;
      })
    );
  });
