/** The stock list: every lot on hand with its weight, fine metal, place and owner, as rows; and what they come to. */

import { blockwise } from '../engine/accounts/blocks';
import { isOnHand, type UsedCupel } from '../engine/accounts/cupels';
import { certain, type Inexact, minus } from '../engine/accounts/inexact';
import { lentIn, partOfFine, withoutLent } from '../engine/accounts/lent';
import { memo } from '../engine/accounts/memo';
import { type Ownership, SHOP } from '../engine/accounts/owners';
import type { Shares } from '../engine/accounts/shares';
import { type Fine, type Holding, isGuessed } from '../engine/accounts/stock';
import type { Entry } from '../engine/entry';
import type { Measured } from '../quantity/measured';
import type { Place } from '../text/place';
import { type Accounts, accountsOf } from '../workspace/accounts';
import { LENT } from '../workspace/parties';
import { sharesHeld } from '../workspace/pools';
import type { Workspace } from '../workspace/workspace';
import { preciousIn } from './fine';
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
  /** What a pool is shared out by; none of what is no pool. */
  readonly pool: Shares | 'not known' | undefined;
  /** What of it was lent and is to come back: nobody's share, and in no owner's totals. */
  readonly lent: readonly Fine[];
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
  /** Of several in a pool, the one whose part alone is counted in the totals. */
  readonly partOf?: string;
  /** The rows and cupels as the totals count them. */
  readonly counted: readonly StockRow[];
  readonly totals: readonly StockTotal[];
}

export interface StockList {
  /** The end of this day; none for the end of the record. */
  readonly date: string | undefined;
  readonly owners: readonly StockOfOwner[];
}

/** Metals that a stock list counts. */
const COUNTED: readonly string[] = ['Au', 'Ag'];

/** The shop's own first, then each owner by name. `owner` asks for one, what stands in a pool with others among it. */
export const stockList = (workspace: Workspace, date?: string, owner?: string): StockList => {
  const accounts = accountsOf(workspace);
  const holdings = accounts.stock(date);
  const known = lists.get(holdings);
  const whole = known ?? wholeList(accounts, holdings, date);
  if (!known) lists.set(holdings, whole);
  if (owner === undefined) return whole;
  const theirs = whole.owners.filter((one) => isOf(one, owner)).map((one) => asPartOf(one, owner));
  return { ...whole, owners: [...theirs, ...lentAmong(theirs)] };
};

/** Of what stands in a pool with others, the totals of one are of their part of it. */
const asPartOf = (of: StockOfOwner, owner: string): StockOfOwner => {
  if (!of.counted.some(({ pool }) => pool)) return of;
  const counted = of.counted.map((row) => ({ ...row, fine: row.fine.map((one) => theirPart(row, one, owner)) }));
  return { ...of, partOf: owner, counted, totals: totaller()(counted) };
};

const theirPart = ({ pool }: StockRow, one: Fine, owner: string): Fine => {
  if (!pool) return one;
  const part = pool === 'not known' ? undefined : pool.ofMetal(one.metal)?.get(owner);
  if (part === undefined) return { ...one, grams: undefined, lowGrams: 0 };
  return partOfFine(one, certain(part));
};

/** Of one alone, or of several in a pool with them. */
const isOf = ({ owner }: StockOfOwner, name: string): boolean => owner.split(TOGETHER).includes(name);
const TOGETHER = ' + ';

/** Kept with what is on hand on that day. */
const lists = memo<readonly Holding[], StockList>();

const wholeList = (accounts: Accounts, holdings: readonly Holding[], date: string | undefined): StockList => {
  const byOwner = new Map<string, { rows: StockRow[]; cupels: CupelRow[] }>();
  const heldBy = (name: string) => {
    const held = byOwner.get(name) ?? { rows: [], cupels: [] };
    byOwner.set(name, held);
    return held;
  };
  for (const holding of holdings) {
    const { owner, row } = listed(accounts, holding);
    heldBy(owner).rows.push(row);
  }
  for (const cupel of accounts.allCupels()) {
    if (!isOnHand(cupel, date) || preciousIn(cupel.fine).length === 0) continue;
    const segment = accounts.metals.lineage.segment(cupel.beside.flow);
    const ownership = segment && accounts.ownedOn(segment);
    const pool = segment && ownership?.pooled ? (accounts.shares(segment) ?? 'not known') : undefined;
    const row = cupelRowOf(cupel);
    heldBy(ownership ? ownerName(accounts, ownership) : SHOP).cupels.push(pool ? { ...row, pool } : row);
  }
  const owners = [...byOwner.keys()].sort(shopFirst).map((name) => ofOwner(name, byOwner.get(name)!));
  return { date, owners: [...owners, ...lentAmong(owners)] };
};

/** What these totals leave out: it stands in the lots of their rows, and is told once more as a total of its own. */
const lentAmong = (owners: readonly StockOfOwner[]): readonly StockOfOwner[] => {
  const counted = owners.flatMap(({ rows }) =>
    rows.flatMap((row): readonly StockRow[] => (row.lent.length > 0 ? [{ ...row, fine: row.lent }] : [])),
  );
  if (counted.length === 0) return [];
  const totals = totaller()(counted).filter(({ sure, guessed }) => sure.value + guessed.value > 0);
  return [{ owner: LENT, rows: [], cupels: [], counted, totals: totals.map((one) => ({ ...one, unknown: 0 })) }];
};

interface Listed {
  readonly owner: string;
  readonly row: StockRow;
}

const rows = memo<Holding, Listed>();

/** A holding is the same object from day to day as long as nothing happens to its lot. */
const listed = (accounts: Accounts, holding: Holding): Listed => {
  const known = rows.get(holding);
  if (known) return known;
  const made = { owner: ownerName(accounts, holding.ownership), row: rowOf(accounts, holding) };
  rows.set(holding, made);
  return made;
};

const shopFirst = (a: string, b: string): number => {
  if (a === SHOP || b === SHOP) return a === b ? 0 : a === SHOP ? -1 : 1;
  return a < b ? -1 : 1;
};

const ownerName = ({ namesOf }: Accounts, ownership: Ownership): string => {
  const names = namesOf(ownership);
  return names.length === 0 ? SHOP : [...names].sort(shopFirst).join(TOGETHER);
};

const ofOwner = (owner: string, { rows, cupels }: Pick<StockOfOwner, 'rows' | 'cupels'>): StockOfOwner => ({
  owner,
  rows,
  cupels,
  ...counting([...rows.map(counts), ...cupels]),
});

const counts = (row: StockRow): StockRow => (row.lent.length > 0 ? { ...row, fine: notLent(row) } : row);

const notLent = ({ fine, lent }: StockRow): readonly Fine[] =>
  fine.map((one) => {
    const loan = lent.find(({ metal }) => metal === one.metal);
    return loan?.grams && one.grams ? { ...one, grams: minus(one.grams, loan.grams) } : one;
  });

const counting = (counted: readonly StockRow[]): Pick<StockOfOwner, 'counted' | 'totals'> => ({
  counted,
  totals: totalsOf(counted),
});

const rowOf = (accounts: Accounts, holding: Holding): StockRow => {
  const { lot, amount, unit, fine, at, with: party, segment, ownership } = holding;
  const [held, lent] = [sharesHeld(accounts, holding), accounts.lent(segment)];
  return {
    lot,
    kind: segment.start.flow?.kind ?? segment.story.make?.kind ?? segment.story.make?.material,
    amount,
    unit,
    fine,
    shares: ownerShares(held, withoutLent(fine, lent)),
    lent: lentIn(fine, lent),
    pool: ownership.pooled ? (held ?? 'not known') : undefined,
    at: at?.name,
    with: party?.name,
    since: segment.start.entry.date,
    place: segment.start.place,
  };
};

const cupelRows = memo<UsedCupel, CupelRow>();

const cupelRowOf = (cupel: UsedCupel): CupelRow => {
  const known = cupelRows.get(cupel) ?? cupelRow(cupel);
  cupelRows.set(cupel, known);
  return known;
};

const cupelRow = ({ name, entry, weight, fine, at, place }: UsedCupel): CupelRow => ({
  lot: name,
  kind: 'used cupel',
  by: entry,
  amount: weight,
  unit: 'gram',
  fine,
  shares: [],
  pool: undefined,
  lent: [],
  at: at?.name,
  with: undefined,
  since: entry.date,
  place,
});

const sinceOf = ({ since = '' }: StockRow): string => since;

/** Of a metal: what is sure, then what is guessed. */
const gramsOf = (metal: string) =>
  [false, true].map((guessed) => ({ fine }: StockRow): Inexact | undefined => {
    const one = fine.find((each) => each.metal === metal);
    return one && isGuessed(one) === guessed ? one.grams : undefined;
  });

/**
 * What some rows come to, of each metal that a stock list counts. One for each way of putting rows together: rows are the same objects from day
 * to day as long as nothing happens to their lots, and what was summed up of them is kept.
 */
export const totaller = (): ((rows: readonly StockRow[]) => readonly StockTotal[]) => {
  const sumUp = blockwise(sinceOf, COUNTED.flatMap(gramsOf));
  return (rows) => {
    const sums = sumUp(rows);
    return COUNTED.map((metal, at) => {
      const [sure, guessed] = [sums[2 * at]!, sums[2 * at + 1]!];
      return { metal, sure: sure.grams, guessed: guessed.grams, unknown: rows.length - sure.known - guessed.known };
    });
  };
};

const totalsOf = totaller();
