/** All that what is said of an entry rests on beside its own account. */
import type { Uncounted } from '../engine/accounts/counted';
import { type Knowledge, sameKnowledge } from '../engine/accounts/known';
import { type Memo, memo } from '../engine/accounts/memo';
import type { Metals } from '../engine/accounts/metals';
import type { Ownership } from '../engine/accounts/owners';
import { type Segment, segmentsOf } from '../engine/accounts/segments';
import type { Account } from '../engine/book';
import { isOfCustomer, SELLING, salesOf } from './selling/sales';
import type { Workspace } from './workspace';

/** Of the accounts of a workspace, what an entry may rest on. */
interface Accounts {
  readonly metals: Metals;
  readonly owners: (segment: Segment) => Ownership;
  readonly ownedOn: (segment: Segment) => Ownership;
  readonly lastDate: string;
  readonly uncounted: (count: Account) => readonly Uncounted[];
}

/** The same objects as long as nothing of it has changed. */
export const restsOf = (workspace: Workspace, account: Account, accounts: Accounts): readonly unknown[] => [
  ...ofLots(account, accounts),
  ...(account.entry.verb === 'sample' ? [accounts.lastDate] : []),
  ...(SELLING.has(account.entry.verb) ? ofSelling(workspace, account, accounts) : []),
  ...accounts.uncounted(account).flatMap(({ segment, at }) => [segment, at]),
];

/** What is said of a sale hangs on prices, what else is said of its lots, the last day, and the lots or the lot that it settles. */
const ofSelling = (workspace: Workspace, { entry }: Account, accounts: Accounts): readonly unknown[] => {
  const sales = salesOf(workspace);
  const rests: unknown[] = [sales.quotes, accounts.lastDate, ...sales.around(entry)];
  const name = entry.name?.name;
  for (const lot of name === undefined ? [] : [...sales.lotsSettled(name), ...sales.lotsReturned(name), name]) {
    const story = workspace.book.lot(lot);
    rests.push(story);
    for (const segment of story ? segmentsOf(story).all : []) rests.push(...restsOn(segment, accounts));
  }
  if (isOfCustomer(workspace, entry)) rests.push({});
  return rests;
};

const ofLots = ({ lots, step }: Account, accounts: Accounts): readonly unknown[] => {
  const rests: unknown[] = [];
  const rest = (segment: Segment): void => {
    rests.push(...restsOn(segment, accounts));
  };
  for (const story of lots.values()) for (const segment of segmentsOf(story).all) rest(segment);
  const flows = step ? [...step.inputs, ...step.outputs] : [];
  for (const { flow } of flows) {
    const segment = flow.lot && lots.has(flow.lot.name) ? undefined : accounts.metals.lineage.segment(flow);
    if (segment) rest(segment);
  }
  return rests;
};

/** What a lot holds by its own assays hides what it holds by the rest of its history, and an assay or a sale is held against just that. */
const restsOn = (segment: Segment, { metals, owners, ownedOn }: Accounts): readonly unknown[] => [
  metals.before(segment),
  metals.after(segment),
  metals.own(segment),
  owners(segment),
  ownedOn(segment),
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
