/** The metal accounts of a workspace: worked out where asked for, and kept as long as the workspace is. */
import { type MetalBalance, metalBalances, type Shortfall, shortfallOf } from '../engine/accounts/balance';
import { type Places, placesOf, type Uncounted, uncountedIn } from '../engine/accounts/counted';
import { type UsedCupel, usedCupelsOf } from '../engine/accounts/cupels';
import { type Knowledge, sameKnowledge } from '../engine/accounts/known';
import { type Lineage, lineageOf } from '../engine/accounts/lineage';
import { type Memo, memo } from '../engine/accounts/memo';
import { type Metals, metalsOf, nothingSettled, type SettledMetals, stillSettled } from '../engine/accounts/metals';
import { type Ownership, ownersOf, SHOP } from '../engine/accounts/owners';
import {
  type Move,
  type Moved,
  movementsIn,
  movesOf,
  type PeriodAccount,
  type PeriodBook,
  periodAccount,
  type StepLost,
  stepLossesIn,
} from '../engine/accounts/period';
import { type Segment, segmentsOf } from '../engine/accounts/segments';
import { Settled } from '../engine/accounts/settled';
import { type Shares, sharesOf } from '../engine/accounts/shares';
import { type Holding, stockOver } from '../engine/accounts/stock';
import type { Account, LotStory, Step } from '../engine/book';
import type { Entry, Flow } from '../engine/entry';
import type { Section } from '../syntax/tree';
import { dayBefore } from '../text/calendar';
import { isSameList } from '../text/lists';
import { inOrder } from './order';
import { isOfCustomer, type Sales, SELLING, salesOf } from './selling/sales';
import { touchedFiles, type Workspace } from './workspace';

export interface Accounts {
  readonly metals: Metals;
  readonly owners: (segment: Segment) => Ownership;
  /** Owners by name; a party whose role is `own` is the shop. */
  readonly namesOf: (ownership: Ownership) => readonly string[];
  /** Whose how much of a pooled lot is. */
  readonly shares: (segment: Segment) => Shares | undefined;
  /** What the shop itself is called among owners. */
  readonly shop: string;
  readonly balances: (step: Step) => readonly MetalBalance[];
  /** More fine metal charged than all its products weigh. */
  readonly shortfall: (step: Step) => Shortfall | undefined;
  /** The metal account from the beginning of one day to the end of another; without them of the whole record. */
  readonly period: (metal: string, from?: string, to?: string) => PeriodAccount;
  /** What the lines of the account of the whole record are the sums of. */
  readonly movements: (metal: string) => Iterable<Moved>;
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

interface Made {
  readonly version: number;
  readonly from: TakenOver | undefined;
  readonly accounts: Accounts;
  readonly settled: SettledMetals;
  readonly owners: Settled<Segment, Ownership>;
  readonly sales: Sales;
}

/** The version that another took over from, and what of that no longer holds. */
interface TakenOver {
  readonly version: number;
  /** Lots of which something else may be known. */
  readonly but: ReadonlySet<string>;
  /** It ends on another day. */
  readonly dated: boolean;
  /** Something else is said of selling. */
  readonly sold: boolean;
}

const kept = memo<Workspace, Made>();

/** What a workspace that nobody has asked yet may take over: from which one, and the lots that were touched since. */
interface Inherited {
  readonly from: Made;
  readonly lots: ReadonlySet<string>;
}

const inherited = memo<Workspace, Inherited>();

/** Past so many touched lots it is cheaper to begin anew. */
const MOST_INHERITED = 2000;

/** Lets a workspace that an edit made take over from the one before what the edit did not touch. */
export const inheritAccounts = (before: Workspace, after: Workspace): void => {
  if (before === after || before.workshop !== after.workshop || !before.whole || !after.whole) return;
  const made = kept.get(before);
  const earlier = made ? { from: made, lots: new Set<string>() } : inherited.get(before);
  if (!earlier) return;
  const lots = new Set([...earlier.lots, ...touchedLots(before, after, isWeighedAlike)]);
  if (lots.size <= MOST_INHERITED) inherited.set(after, { from: earlier.from, lots });
};

export const accountsOf = (workspace: Workspace): Accounts => madeOf(workspace).accounts;

const madeOf = (workspace: Workspace): Made => kept.get(workspace) ?? make(workspace);

let versions = 0;

const make = (workspace: Workspace): Made => {
  const { book, workshop } = workspace;
  const lineage = lineageOf(book, workshop);
  const { settled, owners: settledOwners, from } = takenOver(workspace, lineage);
  const metals = metalsOf(book, workshop, lineage, settled);
  const owners = ownersOf(lineage, workshop, settledOwners);
  let lastDate: string | undefined;
  let places: Places | undefined;
  let cupels: readonly UsedCupel[] | undefined;
  let moves: readonly Move[] | undefined;
  let onHand: Accounts['stock'] | undefined;
  let steps: readonly Dated[] | undefined;
  const stepsOn = (): readonly Dated[] => {
    steps ??= datedSteps(workspace);
    return steps;
  };
  const stories = (): LotStory[] => [...book.lotNames()].flatMap((name) => book.lot(name) ?? []);
  const accounts: Accounts = {
    metals,
    owners,
    namesOf: ({ owners: names }) => [
      ...new Set([...names].map((name) => (workshop.parties.get(name)?.role === 'own' ? SHOP : name))),
    ],
    shop: SHOP,
    shares: sharesOf(lineage, metals, owners, (name) => (workshop.parties.get(name)?.role === 'own' ? SHOP : name)),
    shortfall: (step) => shortfallOf(lineage.passage(step), metals, workshop.limits.coverage),
    balances: (step) => metalBalances(metals.lineage.passage(step), metals, workshop.limits.coverage),
    period: (metal, from, to) => {
      const before = from === undefined ? undefined : dayBefore(from);
      return periodAccount(periodBook(from, to), metal, from, before, to);
    },
    movements: (metal) => movementsIn(periodBook(), metal, undefined, undefined),
    stepLosses: (metal) => stepLossesIn(periodBook(), metal),
    restsOf: (account) => [
      ...restsOf(account, metals, owners),
      ...(account.entry.verb === 'sample' ? [accounts.lastDate] : []),
      ...(SELLING.has(account.entry.verb) ? ofSelling(account, salesOf(workspace)) : []),
      ...accounts.uncounted(account).flatMap(({ segment, at }) => [segment, at]),
    ],
    get lastDate() {
      lastDate ??= lastDateOf(workspace);
      return lastDate;
    },
    cupels: (step) => {
      const { parts } = book.account(writtenIn(workspace, step.entry));
      return usedCupelsOf(lineage.passage(step), parts, metals, workshop);
    },
    allCupels: () => {
      cupels ??= stepsOn().flatMap(({ step }) => accounts.cupels(step));
      return cupels;
    },
    stock: (date) => {
      onHand ??= stockOver(stories(), metals, owners);
      return onHand(date);
    },
    uncounted: ({ entry, parts }) => {
      if (entry.verb !== 'count') return [];
      places ??= placesOf(book);
      return uncountedIn(parts, places, lineage, asWritten(workspace));
    },
  };
  const periodBook = (from = '', to?: string): PeriodBook => {
    moves ??= movesOf(stories());
    const passages = stepsOn()
      .filter(({ date }) => date >= from && (to === undefined || date <= to))
      .map(({ step }) => lineage.passage(step));
    return { ...accounts, moves, passages };
  };
  /** What is said of a sale hangs on prices, what else is said of its lots, the last day, and the lots or the lot that it settles. */
  const ofSelling = ({ entry }: Account, sales: Sales): readonly unknown[] => {
    const rests: unknown[] = [sales.quotes, accounts.lastDate, ...sales.around(entry)];
    for (const lot of entry.name ? [...sales.lotsSettled(entry.name.name), entry.name.name] : []) {
      const story = book.lot(lot);
      rests.push(story);
      for (const segment of story ? segmentsOf(story).all : []) rests.push(...restsOn(segment, metals, owners));
    }
    if (isOfCustomer(workspace, entry)) rests.push({});
    return rests;
  };
  const made: Made = {
    version: ++versions,
    from: from && {
      version: from.before.version,
      but: from.but,
      dated: from.before.accounts.lastDate !== accounts.lastDate,
      sold: from.before.sales !== salesOf(workspace),
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
  readonly from: { readonly before: Made; readonly but: ReadonlySet<string> } | undefined;
} => {
  const from = inherited.get(workspace);
  if (!from) return { settled: nothingSettled(), owners: new Settled(), from: undefined };
  const { settled, forth, any } = stillSettled(from.from.settled, segmentsIn(workspace, from.lots), lineage);
  const but = new Set([...any].map(({ lot }) => lot));
  return { settled, owners: from.from.owners.without(forth), from: { before: from.from, but } };
};

/** The order of entries, also of those that a later one corrects. */
const asWritten = (workspace: Workspace): ((a: Entry, b: Entry) => number) => {
  const compare = inOrder(workspace.pages);
  return (a, b) => compare(writtenIn(workspace, a), writtenIn(workspace, b));
};

/** As it stands on its page: without its corrections and further parts. */
const writtenIn = ({ pages }: Workspace, entry: Entry): Entry =>
  pages.get(entry.anchor.file)?.bySection.get(entry.anchor as Section) ?? entry;

const lastDateOf = ({ pages }: Workspace): string => {
  let last = '';
  for (const { lastDate } of pages.values()) if (lastDate > last) last = lastDate;
  return last;
};

interface Dated {
  readonly date: string;
  readonly step: Step;
}

/** All steps by the day of their first entry, each once, in the order of the pages. */
const datedSteps = ({ pages, book }: Workspace): readonly Dated[] => {
  const steps = new Map<Step, Dated>();
  for (const page of pages.values()) {
    for (const entry of page.entries) {
      const step = entry.prefix ? undefined : book.step(entry);
      if (step && !steps.has(step)) steps.set(step, { date: entry.date ?? '', step });
    }
  }
  return [...steps.values()];
};

const restsOf = (
  { lots, step }: Account,
  metals: Metals,
  owners: (segment: Segment) => Ownership,
): readonly unknown[] => {
  const rests: unknown[] = [];
  const rest = (segment: Segment): void => {
    rests.push(...restsOn(segment, metals, owners));
  };
  for (const story of lots.values()) for (const segment of segmentsOf(story).all) rest(segment);
  const flows = step ? [...step.inputs, ...step.outputs] : [];
  for (const { flow } of flows) {
    const segment = flow.lot && lots.has(flow.lot.name) ? undefined : metals.lineage.segment(flow);
    if (segment) rest(segment);
  }
  return rests;
};

/** What a lot holds by its own assays hides what it holds by the rest of its history, and an assay or a sale is held against just that. */
const restsOn = (segment: Segment, metals: Metals, owners: (segment: Segment) => Ownership): readonly unknown[] => [
  metals.before(segment),
  metals.after(segment),
  metals.own(segment),
  owners(segment),
  ...(metals.own(segment).size > 0
    ? [steady(keptCarried, segment, metals.carried(segment)), steady(keptInferred, segment, metals.inferred(segment))]
    : []),
];

const keptCarried = memo<Segment, Knowledge>();
const keptInferred = memo<Segment, Knowledge>();

/** The same object as long as it says the same. */
const steady = (kept: Memo<Segment, Knowledge>, segment: Segment, now: Knowledge): Knowledge => {
  const known = kept.get(segment);
  if (known && sameKnowledge(known, now)) return known;
  kept.set(segment, now);
  return now;
};

interface KeptResult<Value> {
  /** Of the journal in which it was last found to hold. */
  version: number;
  readonly rests: readonly unknown[];
  readonly value: Value;
}

/** Results of one kind for accounts, each with all that it rested on beside what it is kept with. */
export type KeptByMetals<Value> = Memo<object, KeptResult<Value>>;

/** What was made for an account, or made anew where something else is known of its lots than then. */
export const keptByMetals = <Value>(
  kept: KeptByMetals<Value>,
  workspace: Workspace,
  account: Account,
  make: () => Value,
): Value => keptWith(kept, account, workspace, account, make);

/** The same of what does not look at what a step is held against. */
export const keptByWeights = <Value>(
  kept: KeptByMetals<Value>,
  workspace: Workspace,
  account: Account,
  make: () => Value,
): Value => keptWith(kept, account.weighed, workspace, account, make);

const keptWith = <Value>(
  kept: KeptByMetals<Value>,
  key: object,
  workspace: Workspace,
  account: Account,
  make: () => Value,
): Value => {
  const { accounts, version, from } = madeOf(workspace);
  const known = kept.get(key);
  if (known?.version === version) return known.value;
  if (known && known.version === from?.version && !isAbout(account, from, workspace)) {
    known.version = version;
    return known.value;
  }
  const rests = accounts.restsOf(account);
  if (known && isSameList(known.rests, rests)) {
    known.version = version;
    return known.value;
  }
  const value = make();
  kept.set(key, { version, rests, value });
  return value;
};

/**
 * Whether an account may rest on something that is not as it was. What is said of a sample hangs on the last day of the record too, what is said
 * of a stock-take on all lots there are, and what is said of a sale on prices, other sales, and lots that it does not name.
 */
const isAbout = ({ entry, lots, step }: Account, { but, dated, sold }: TakenOver, workspace: Workspace): boolean => {
  const { verb, name } = entry;
  if (verb === 'count' || (verb === 'sample' && dated)) return true;
  if (SELLING.has(verb) && (dated || sold)) return true;
  if (but.size === 0) return false;
  if (isOfCustomer(workspace, entry)) return true;
  const sales = salesOf(workspace);
  for (const lot of lots.keys()) if (but.has(lot)) return true;
  if (name && SELLING.has(verb) && [...sales.lotsSettled(name.name), name.name].some((lot) => but.has(lot)))
    return true;
  const isOf = ({ flow: { lot } }: { readonly flow: Flow }): boolean => lot !== undefined && but.has(lot.name);
  return step !== undefined && (step.inputs.some(isOf) || step.outputs.some(isOf));
};

/** Segments of these lots, as they are now. */
export const segmentsIn = ({ book }: Workspace, lots: ReadonlySet<string>): Segment[] =>
  [...lots].flatMap((lot) => {
    const story = book.lot(lot);
    return story ? segmentsOf(story).all : [];
  });

/** Lots of the entries whose accounts an edit made anew or took away, but for those alike. */
export const touchedLots = (
  before: Workspace,
  after: Workspace,
  isAlike: (one: Account, other: Account) => boolean,
): ReadonlySet<string> => {
  const lots = new Set<string>();
  for (const file of touchedFiles(before, after)) {
    const [old, made] = [before.state.accounts.get(file), after.state.accounts.get(file)];
    for (const [entry, account] of made ?? []) {
      const was = old?.get(entry);
      if (was === account || (was && isAlike(was, account))) continue;
      addLots(lots, account);
      if (was) addLots(lots, was);
    }
    for (const [entry, account] of old ?? []) if (!made?.has(entry)) addLots(lots, account);
  }
  return lots;
};

/** Metals go by what was weighed: that a step is held against another loss than before changes nothing in them. */
export const isWeighedAlike = (one: Account, other: Account): boolean => one.weighed === other.weighed;

const addLots = (lots: Set<string>, account: Account): void => {
  for (const lot of account.lots.keys()) lots.add(lot);
};
