/** The stock list: every lot on hand with its weight, fine metal, place and owner, as rows; and what they come to. */
import { type Inexact, sum } from '../engine/accounts/inexact';
import { SHOP } from '../engine/accounts/owners';
import type { Fine, Holding } from '../engine/accounts/stock';
import type { Measured } from '../quantity/measured';
import type { Place } from '../text/place';
import { type Accounts, accountsOf } from '../workspace/accounts';
import type { Workspace } from '../workspace/workspace';

export interface StockRow {
  readonly lot: string;
  /** Product kind or material, as the record has it last. */
  readonly kind: string | undefined;
  readonly amount: Measured | undefined;
  readonly unit: 'gram' | 'millilitre';
  /** Gold, silver and what else is known, the most precious first. */
  readonly fine: readonly Fine[];
  readonly at: string | undefined;
  readonly with: string | undefined;
  /** The day on which it came to be what it is. */
  readonly since: string | undefined;
  readonly place: Place;
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
  const byOwner = new Map<string, Holding[]>();
  const accounts = accountsOf(workspace);
  for (const holding of accounts.stock(date)) {
    const name = ownerName(accounts, holding);
    const all = byOwner.get(name);
    if (all) all.push(holding);
    else byOwner.set(name, [holding]);
  }
  const names = [...byOwner.keys()].filter((name) => owner === undefined || name === owner).sort(shopFirst);
  return { date, owners: names.map((name) => ofOwner(name, byOwner.get(name)!)) };
};

const shopFirst = (a: string, b: string): number => {
  if (a === SHOP || b === SHOP) return a === b ? 0 : a === SHOP ? -1 : 1;
  return a < b ? -1 : 1;
};

const ownerName = ({ namesOf }: Accounts, { ownership }: Holding): string => {
  const names = namesOf(ownership);
  return names.length === 0 ? SHOP : [...names].sort(shopFirst).join(' + ');
};

const ofOwner = (owner: string, holdings: readonly Holding[]): StockOfOwner => ({
  owner,
  rows: holdings.map(rowOf),
  totals: COUNTED.map((metal) => totalOf(holdings, metal)),
});

const rowOf = ({ lot, amount, unit, fine, at, with: party, segment }: Holding): StockRow => ({
  lot,
  kind: segment.start.flow?.kind ?? segment.story.make?.kind ?? segment.story.make?.material,
  amount,
  unit,
  fine,
  at: at?.name,
  with: party?.name,
  since: segment.start.entry.date,
  place: segment.start.place,
});

const totalOf = (holdings: readonly Holding[], metal: string): StockTotal => {
  const known = holdings.flatMap(({ fine }) => fine.find((one) => one.metal === metal && one.grams) ?? []);
  const of = (guessed: boolean): Inexact =>
    sum(known.filter(({ known: { ground } }) => (ground === 'guessed') === guessed).map(({ grams }) => grams!));
  return { metal, sure: of(false), guessed: of(true), unknown: holdings.length - known.length };
};
