/** The stock list: every lot on hand with its weight, fine metal, place and owner, as rows; and what they come to. */
import { isOnHand, type UsedCupel } from '../engine/accounts/cupels';
import { type Inexact, sum } from '../engine/accounts/inexact';
import { type Ownership, SHOP } from '../engine/accounts/owners';
import type { Fine, Holding } from '../engine/accounts/stock';
import type { Entry } from '../engine/entry';
import type { Measured } from '../quantity/measured';
import type { Place } from '../text/place';
import { type Accounts, accountsOf } from '../workspace/accounts';
import type { Workspace } from '../workspace/workspace';
import { isShown } from './fine';
import { type OwnerShare, ownerShares } from './shares';

export interface StockRow {
  readonly lot: string;
  /** Product kind or material, as the record has it last. */
  readonly kind: string | undefined;
  readonly amount: Measured | undefined;
  readonly unit: 'gram' | 'millilitre';
  /** Gold, silver and what else is known, the most precious first. */
  readonly fine: readonly Fine[];
  /** Of a pooled lot, of each owner; else none. */
  readonly shares: readonly OwnerShare[];
  readonly at: string | undefined;
  readonly with: string | undefined;
  /** The day on which it came to be what it is. */
  readonly since: string | undefined;
  readonly place: Place;
}

/** A used cupel, and the cupellation that it comes from. */
export interface CupelRow extends StockRow {
  readonly by: Entry;
}

export interface StockTotal {
  readonly metal: string;
  /** Of lots whose share rests on no guess. */
  readonly sure: Inexact;
  /** Of lots whose share is a guess. */
  readonly guessed: Inexact;
  /** Lots of which nothing is known for this metal. */
  readonly unknown: number;
}

export interface StockOfOwner {
  /** Who: the shop itself, a party, or several in a pool. */
  readonly owner: string;
  readonly rows: readonly StockRow[];
  /** Used cupels; `lot` is the cupel's name. What they hold is a guess. */
  readonly cupels: readonly CupelRow[];
  readonly totals: readonly StockTotal[];
}

export interface StockList {
  /** The end of this day; none for the end of the record. */
  readonly date: string | undefined;
  readonly owners: readonly StockOfOwner[];
}

/** Metals that a stock list counts. */
const COUNTED: readonly string[] = ['Au', 'Ag'];

/** The shop's own first, then each owner by name. `owner` asks for one alone. */
export const stockList = (workspace: Workspace, date?: string, owner?: string): StockList => {
  const accounts = accountsOf(workspace);
  const byOwner = new Map<string, { rows: StockRow[]; cupels: CupelRow[] }>();
  const heldBy = (name: string) => {
    const held = byOwner.get(name) ?? { rows: [], cupels: [] };
    byOwner.set(name, held);
    return held;
  };
  for (const holding of accounts.stock(date))
    heldBy(ownerName(accounts, holding.ownership)).rows.push(rowOf(accounts, holding));
  for (const cupel of accounts.allCupels()) {
    if (!isOnHand(cupel, date) || !cupel.fine.some(isShown)) continue;
    const segment = accounts.metals.lineage.segment(cupel.beside.flow);
    const name = segment ? ownerName(accounts, accounts.owners(segment)) : SHOP;
    heldBy(name).cupels.push(cupelRow(cupel));
  }
  const names = [...byOwner.keys()].filter((name) => owner === undefined || name === owner).sort(shopFirst);
  return { date, owners: names.map((name) => ofOwner(name, byOwner.get(name)!)) };
};

const shopFirst = (a: string, b: string): number => {
  if (a === SHOP || b === SHOP) return a === b ? 0 : a === SHOP ? -1 : 1;
  return a < b ? -1 : 1;
};

const ownerName = ({ namesOf }: Accounts, ownership: Ownership): string => {
  const names = namesOf(ownership);
  return names.length === 0 ? SHOP : [...names].sort(shopFirst).join(' + ');
};

const ofOwner = (owner: string, { rows, cupels }: Pick<StockOfOwner, 'rows' | 'cupels'>): StockOfOwner => ({
  owner,
  rows,
  cupels,
  totals: COUNTED.map((metal) => totalOf([...rows, ...cupels], metal)),
});

const rowOf = (accounts: Accounts, { lot, amount, unit, fine, at, with: party, segment }: Holding): StockRow => ({
  lot,
  kind: segment.start.flow?.kind ?? segment.story.make?.kind ?? segment.story.make?.material,
  amount,
  unit,
  fine,
  shares: ownerShares(accounts.shares(segment), fine),
  at: at?.name,
  with: party?.name,
  since: segment.start.entry.date,
  place: segment.start.place,
});

const cupelRow = ({ name, entry, weight, fine, at, place }: UsedCupel): CupelRow => ({
  lot: name,
  kind: 'used cupel',
  by: entry,
  amount: weight,
  unit: 'gram',
  fine,
  shares: [],
  at: at?.name,
  with: undefined,
  since: entry.date,
  place,
});

const totalOf = (rows: readonly StockRow[], metal: string): StockTotal => {
  const known = rows.flatMap(({ fine }) => fine.find((one) => one.metal === metal && one.grams) ?? []);
  const of = (guessed: boolean): Inexact =>
    sum(known.filter(({ known: { ground } }) => (ground === 'guessed') === guessed).map(({ grams }) => grams!));
  return { metal, sure: of(false), guessed: of(true), unknown: rows.length - known.length };
};
