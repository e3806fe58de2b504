/** The metal accounts of a workspace: worked out where asked for, and kept as long as the workspace is. */
import { type MetalBalance, metalBalances } from '../engine/accounts/balance';
import type { Lineage } from '../engine/accounts/lineage';
import { type Metals, metalsOf } from '../engine/accounts/metals';
import { type Ownership, ownersOf, SHOP } from '../engine/accounts/owners';
import { type PeriodAccount, periodAccount } from '../engine/accounts/period';
import { type Segment, segmentsOf } from '../engine/accounts/segments';
import { type Holding, stockOf } from '../engine/accounts/stock';
import type { Account, Step } from '../engine/book';
import { dayBefore } from '../text/calendar';
import { touchedFiles, type Workspace } from './workspace';

export interface Accounts {
  readonly metals: Metals;
  readonly owners: (segment: Segment) => Ownership;
  /** Owners by name; a party whose role is `own` is the shop. */
  readonly namesOf: (ownership: Ownership) => readonly string[];
  /** What the shop itself is called among owners. */
  readonly shop: string;
  readonly balances: (step: Step) => readonly MetalBalance[];
  /** The metal account from the beginning of one day to the end of another; without them of the whole record. */
  readonly period: (metal: string, from?: string, to?: string) => PeriodAccount;
  /** What is known of the lots that an entry speaks of: the same objects as long as nothing of it has changed. */
  readonly restsOf: (account: Account) => readonly unknown[];
  /** What is on hand at the end of a day; without a date at the end of the record. */
  readonly stock: (date?: string) => readonly Holding[];
}

const kept = new WeakMap<Workspace, Accounts>();

export const accountsOf = (workspace: Workspace): Accounts => {
  const known = kept.get(workspace);
  if (known) return known;
  const { book, workshop } = workspace;
  const metals = metalsOf(book, workshop);
  const owners = ownersOf(metals.lineage, workshop);
  const accounts: Accounts = {
    metals,
    owners,
    namesOf: ({ owners: names }) => [
      ...new Set([...names].map((name) => (workshop.parties.get(name)?.role === 'own' ? SHOP : name))),
    ],
    shop: SHOP,
    balances: (step) => metalBalances(metals.lineage.passage(step), metals, workshop.limits.coverage),
    period: (metal, from, to) => {
      const passages = stepsIn(workspace, from, to).map(metals.lineage.passage);
      const before = from === undefined ? undefined : dayBefore(from);
      return periodAccount({ book, metals, stock: accounts.stock, passages }, metal, from, before, to);
    },
    restsOf: (account) => restsOf(account, metals, owners),
    stock: (date) => stockOf(book, metals, owners, date),
  };
  kept.set(workspace, accounts);
  return accounts;
};

/** Steps by the day of their first entry, each once. */
const stepsIn = ({ pages, book }: Workspace, from: string | undefined, to: string | undefined): readonly Step[] => {
  const steps = new Set<Step>();
  for (const page of pages.values()) {
    for (const entry of page.entries) {
      const { date = '' } = entry;
      const step =
        entry.prefix || date < (from ?? '') || (to !== undefined && date > to) ? undefined : book.step(entry);
      if (step) steps.add(step);
    }
  }
  return [...steps];
};

const restsOf = (
  { lots, step }: Account,
  metals: Metals,
  owners: (segment: Segment) => Ownership,
): readonly unknown[] => {
  const rests: unknown[] = [];
  const rest = (segment: Segment): void => {
    rests.push(metals.before(segment), metals.after(segment), metals.own(segment), owners(segment));
  };
  for (const story of lots.values()) for (const segment of segmentsOf(story).all) rest(segment);
  const flows = step ? [...step.inputs, ...step.outputs] : [];
  for (const { flow } of flows) {
    const segment = flow.lot && lots.has(flow.lot.name) ? undefined : metals.lineage.segment(flow);
    if (segment) rest(segment);
  }
  return rests;
};

/**
 * Pages on which something else is known of a metal than before, beyond those that `touchedFiles` names: followed from the lots that an edit
 * touched, up and down their history, as long as it makes a difference.
 */
export const touchedByMetals = (before: Workspace, after: Workspace): readonly string[] => {
  if (!before.whole || !after.whole) return [];
  const [was, now] = [accountsOf(before), accountsOf(after)];
  const files = new Set<string>();
  const seen = new Set<Segment>();
  const queue = seeds(before, after);
  for (let segment = queue.pop(); segment; segment = queue.pop()) {
    if (seen.has(segment)) continue;
    seen.add(segment);
    const sameStory = before.book.lot(segment.lot) === segment.story;
    if (sameStory && isKnownAlike(segment, was, now)) continue;
    for (const { entry } of segment.events) files.add(entry.anchor.file);
    queue.push(...neighbours(segment, now.metals.lineage));
  }
  return [...files];
};

const isKnownAlike = (segment: Segment, was: Accounts, now: Accounts): boolean =>
  was.metals.before(segment) === now.metals.before(segment) &&
  was.metals.after(segment) === now.metals.after(segment) &&
  was.metals.own(segment) === now.metals.own(segment) &&
  was.owners(segment) === now.owners(segment);

/** Lots of the entries whose accounts an edit made anew or took away. */
const seeds = (before: Workspace, after: Workspace): Segment[] => {
  const found: Segment[] = [];
  for (const file of touchedFiles(before, after)) {
    const [old, made] = [before.state.accounts.get(file), after.state.accounts.get(file)];
    const lots = new Set<string>();
    for (const [entry, account] of made ?? [])
      if (old?.get(entry) !== account) for (const lot of account.lots.keys()) lots.add(lot);
    for (const [entry, account] of old ?? [])
      if (made?.get(entry) !== account) for (const lot of account.lots.keys()) lots.add(lot);
    for (const lot of lots) {
      const story = after.book.lot(lot);
      if (story) found.push(...segmentsOf(story).all);
    }
  }
  return found;
};

const neighbours = (segment: Segment, lineage: Lineage): readonly Segment[] => {
  const { was, passage } = lineage.origin(segment);
  const renamed = lineage.renamedTo(segment);
  const sampled = segment.events.flatMap(({ kind, flow }) => (kind === 'sampled' && flow ? [flow] : []));
  const passages = [...(passage ? [passage] : []), ...lineage.uses(segment).map((use) => use.passage)];
  const flows = passages.flatMap(({ inputs, outputs }) => [...inputs, ...outputs].map(({ flow }) => flow));
  return [
    ...(was ? [was] : []),
    ...(renamed ? [renamed] : []),
    ...[...flows, ...sampled].flatMap((flow) => lineage.segment(flow) ?? []),
  ];
};
