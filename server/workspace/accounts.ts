/** The metal accounts of a workspace: worked out where asked for, and kept as long as the workspace is. */
import { type MetalBalance, metalBalances, type Shortfall, shortfallOf } from '../engine/accounts/balance';
import { type Places, placesOf, type Uncounted, uncountedIn } from '../engine/accounts/counted';
import { type UsedCupel, usedCupelsOf } from '../engine/accounts/cupels';
import { type Lent, lentOf, NOTHING_LENT } from '../engine/accounts/lent';
import { type Lineage, lineageOf } from '../engine/accounts/lineage';
import { memo } from '../engine/accounts/memo';
import { type Metals, metalsOf, nothingSettled, type SettledMetals, stillSettled } from '../engine/accounts/metals';
import { type Change, changesOf, DELIVERED, type Move, movesOf } from '../engine/accounts/moves';
import { afterPurchases, type Ownership, ownersOf, SHOP } from '../engine/accounts/owners';
import {
  type Moved,
  movementsIn,
  movesIn,
  type PeriodAccount,
  type PeriodBook,
  periodAccount,
  type StepLost,
  stepLossesIn,
} from '../engine/accounts/period';
import type { Segment } from '../engine/accounts/segments';
import { Settled } from '../engine/accounts/settled';
import { type Shares, sharesOf } from '../engine/accounts/shares';
import { type Holding, stockOver } from '../engine/accounts/stock';
import type { Account, FlowWeight, LotStory, Step } from '../engine/book';
import type { Entry } from '../engine/entry';
import { dayBefore } from '../text/calendar';
import { type Dated, datedSteps, lastDateOf, within } from './dated';
import { inOrder, writtenIn } from './order';
import { restsOf } from './rests';
import { boughtAlike, buyingIn, type PurchasesByBill, purchasedOf, purchasesIn } from './selling/purchases';
import { type Sales, salesOf } from './selling/sales';
import { isWeighedAlike, segmentsIn, touchedLots } from './touched-lots';
import type { Workspace } from './workspace';

export interface Accounts {
  readonly metals: Metals;
  /** Whose a lot is as it begins. */
  readonly owners: (segment: Segment) => Ownership;
  /** Whose it is at the end of a day, without one at the end of the record: a bill may buy it from its owner. */
  readonly ownedOn: (segment: Segment, date?: string) => Ownership;
  /** Whose it is as an entry finds it. */
  readonly ownedAt: (segment: Segment, entry: Entry) => Ownership;
  /** What bills have bought of customers. */
  readonly purchases: PurchasesByBill;
  /** Owners by name; a party whose role is `own` is the shop. */
  readonly namesOf: (ownership: Ownership) => readonly string[];
  /** Whose how much of a pooled lot is. */
  readonly shares: (segment: Segment) => Shares | undefined;
  /** The same by what was brought in, whatever a bill has bought of that. */
  readonly broughtIn: (segment: Segment) => Shares | undefined;
  /** What of a customer's lot was lent, and has to come back out of it. */
  readonly lent: (segment: Segment) => Lent;
  /** What the shop itself is called among owners. */
  readonly shop: string;
  readonly balances: (step: Step) => readonly MetalBalance[];
  /** More fine metal charged than all its products weigh. */
  readonly shortfall: (step: Step) => Shortfall | undefined;
  /** The metal account from the beginning of one day to the end of another; without them of the whole record. */
  readonly period: (metal: string, from?: string, to?: string) => PeriodAccount;
  /** What the lines of the account of the same days are the sums of. */
  readonly movements: (metal: string, from?: string, to?: string) => Iterable<Moved>;
  /** What was shipped or sold. */
  readonly delivered: (metal: string, from: string, to: string) => Iterable<Moved>;
  readonly stepLosses: (metal: string) => Iterable<StepLost>;
  /** What is known of the lots that an entry speaks of: the same objects as long as nothing of it has changed. */
  readonly restsOf: (account: Account) => readonly unknown[];
  /** The last day of the record, which stands for today; empty where no day is written. */
  readonly lastDate: string;
  /** Used cupels of a step, with what they are reckoned to hold. */
  readonly cupels: (step: Step) => readonly UsedCupel[];
  /** Of the whole record, those thrown away too. */
  readonly allCupels: () => readonly UsedCupel[];
  /** What is on hand at the end of a day; without a date at the end of the record. */
  readonly stock: (date?: string) => readonly Holding[];
  /** Lots that should be where a stock-take looked, and that it does not speak of. */
  readonly uncounted: (count: Account) => readonly Uncounted[];
}

export interface Made {
  readonly version: number;
  readonly from: TakenOver | undefined;
  readonly accounts: Accounts;
  readonly settled: SettledMetals;
  readonly owners: Settled<Segment, Ownership>;
  readonly sales: Sales;
}

/** The version that another took over from, and what of that no longer holds. */
export interface TakenOver {
  readonly version: number;
  /** Lots of which something else may be known. */
  readonly but: ReadonlySet<string>;
  /** It ends on another day. */
  readonly dated: boolean;
  /** Something else is said of selling. */
  readonly sold: boolean;
  /** Something else was bought of a customer by a bill. */
  readonly bought: boolean;
}

const kept = memo<Workspace, Made>();

/** What is passed on to the next version: nothing in it may hold the workspace, or each version would hold all that were before it. */
interface Passed extends Pick<Made, 'version' | 'settled' | 'owners' | 'sales'> {
  readonly lastDate: string;
  readonly bought: PurchasesByBill['bySegment'];
}

const passedOn = ({ version, settled, owners, sales, accounts }: Made): Passed => {
  const { lastDate, purchases } = accounts;
  return { version, settled, owners, sales, lastDate, bought: purchases.bySegment };
};

/** What a workspace that nobody has asked yet may take over, and the lots that were touched since. */
interface Inherited {
  readonly from: Passed;
  readonly lots: ReadonlySet<string>;
}

const inherited = memo<Workspace, Inherited>();

/** Past so many touched lots it is cheaper to begin anew. */
const MOST_INHERITED = 2000;

/** Lets a workspace that an edit made take over from the one before what the edit did not touch. */
export const inheritAccounts = (before: Workspace, after: Workspace): void => {
  if (before === after || before.workshop !== after.workshop || !before.whole || !after.whole) return;
  const made = kept.get(before);
  const earlier = made ? { from: passedOn(made), lots: new Set<string>() } : inherited.get(before);
  if (!earlier) return;
  const lots = new Set([...earlier.lots, ...touchedLots(before, after, isWeighedAlike)]);
  if (lots.size <= MOST_INHERITED) inherited.set(after, { from: earlier.from, lots });
};

export const accountsOf = (workspace: Workspace): Accounts => madeOf(workspace).accounts;

/** With what tells one version from another. */
export const madeOf = (workspace: Workspace): Made => kept.get(workspace) ?? make(workspace);

let versions = 0;

const make = (workspace: Workspace): Made => {
  const { book, workshop } = workspace;
  const lineage = lineageOf(book, workshop);
  const { settled, owners: settledOwners, from } = takenOver(workspace, lineage);
  const metals = metalsOf(book, workshop, lineage, settled);
  // Rests on the metals, and not on whose they are.
  const purchases = purchasesIn(workspace, metals);
  const owners = ownersOf(lineage, workshop, settledOwners, purchases);
  const ownedOn: Accounts['ownedOn'] = (segment, date) =>
    afterPurchases(owners(segment), purchasedOf(purchases, segment, date));
  const nameOf = (name: string): string => (workshop.parties.get(name)?.role === 'own' ? SHOP : name);
  let lastDate: string | undefined;
  let places: Places | undefined;
  let cupels: readonly UsedCupel[] | undefined;
  let moves: readonly Move[] | undefined;
  let changes: readonly Change[] | undefined;
  let onHand: Accounts['stock'] | undefined;
  let steps: readonly Dated[] | undefined;
  const stepsOn = (): readonly Dated[] => {
    steps ??= datedSteps(workspace);
    return steps;
  };
  let loans: Accounts['lent'] | undefined;
  const isLent = ({ flow }: FlowWeight): boolean => flow.said.lent !== undefined;
  /** Most journals lend nothing: then no history is walked for it. */
  const lent: Accounts['lent'] = (segment) => {
    if (owners(segment).owners.size === 0) return NOTHING_LENT;
    loans ??= stepsOn().some(({ step }) => step.added.some(isLent) || step.inputs.some(isLent))
      ? lentOf(lineage, metals, workshop)
      : () => NOTHING_LENT;
    return loans(segment);
  };
  const stories = (): LotStory[] => [...book.lotNames()].flatMap((name) => book.lot(name) ?? []);
  const allMoves = (): readonly Move[] => {
    moves ??= movesOf(stories());
    return moves;
  };
  const accounts: Accounts = {
    metals,
    owners,
    ownedOn,
    ownedAt: (segment, entry) =>
      afterPurchases(
        owners(segment),
        purchases.of(segment).filter((bill) => purchases.isAfter(entry, bill.entry)),
      ),
    purchases,
    namesOf: ({ owners: names }) => [...new Set([...names].map(nameOf))],
    shop: SHOP,
    lent,
    shares: sharesOf(lineage, metals, owners, nameOf, lent, purchases.of),
    broughtIn: sharesOf(lineage, metals, owners, nameOf, lent),
    shortfall: (step) => shortfallOf(lineage.passage(step), metals, workshop.limits.coverage),
    balances: (step) => metalBalances(metals.lineage.passage(step), metals, workshop.limits.coverage),
    period: (metal, from, to) => {
      const before = from === undefined ? undefined : dayBefore(from);
      return periodAccount(periodBook(from, to), metal, from, before, to);
    },
    movements: (metal, from, to) => movementsIn(periodBook(from, to), metal, from, to),
    delivered: (metal, from, to) => movesIn({ moves: allMoves(), metals }, metal, from, to, DELIVERED),
    stepLosses: (metal) => stepLossesIn(periodBook(), metal),
    restsOf: (account) => restsOf(workspace, account, accounts),
    get lastDate() {
      lastDate ??= lastDateOf(workspace);
      return lastDate;
    },
    cupels: (step) => {
      const { parts } = book.account(writtenIn(workspace.pages, step.entry));
      return usedCupelsOf(lineage.passage(step), parts, metals, workshop);
    },
    allCupels: () => {
      cupels ??= stepsOn().flatMap(({ step }) => accounts.cupels(step));
      return cupels;
    },
    stock: (date) => {
      onHand ??= stockOver(stories(), metals, ownedOn, purchases.all.length > 0);
      return onHand(date);
    },
    uncounted: ({ entry, parts }) => {
      if (entry.verb !== 'count') return [];
      places ??= placesOf(book);
      return uncountedIn(parts, places, lineage, asWritten(workspace));
    },
  };
  const periodBook = (from?: string, to?: string): PeriodBook => {
    changes ??= changesOf(stories());
    return {
      ...accounts,
      moves: allMoves(),
      changes,
      passages: within(stepsOn(), from, to).map(({ step }) => lineage.passage(step)),
    };
  };
  const made: Made = {
    version: ++versions,
    from: from && {
      version: from.before.version,
      but: from.but,
      dated: from.before.lastDate !== accounts.lastDate,
      sold: from.before.sales !== salesOf(workspace),
      bought: !boughtAlike(from.before.bought, purchases.bySegment),
    },
    accounts,
    settled,
    owners: settledOwners,
    sales: salesOf(workspace),
  };
  kept.set(workspace, made);
  return made;
};

const takenOver = (
  workspace: Workspace,
  lineage: Lineage,
): Pick<Made, 'settled' | 'owners'> & {
  readonly from: { readonly before: Passed; readonly but: ReadonlySet<string> } | undefined;
} => {
  const from = inherited.get(workspace);
  if (!from) return { settled: nothingSettled(), owners: new Settled(), from: undefined };
  const { settled, forth, any } = stillSettled(from.from.settled, segmentsIn(workspace, from.lots), lineage);
  const but = new Set([...any].map(({ lot }) => lot));
  // What a bill buys reaches lots that no edit touches.
  const isBought = [from.from.sales, salesOf(workspace)].some(
    (sales) => buyingIn(sales, workspace.workshop).length > 0,
  );
  const owners = isBought ? new Settled<Segment, Ownership>() : from.from.owners.without(forth);
  return { settled, owners, from: { before: from.from, but } };
};

/** The order of entries, also of those that a later one corrects. */
const asWritten = (workspace: Workspace): ((a: Entry, b: Entry) => number) => {
  const compare = inOrder(workspace.pages);
  return (a, b) => compare(writtenIn(workspace.pages, a), writtenIn(workspace.pages, b));
};
