/** Pages whose findings and hints an edit may have changed through what is known of lots. */
import type { Uncounted } from '../engine/accounts/counted';
import { sameKnowledge } from '../engine/accounts/known';
import type { Lineage } from '../engine/accounts/lineage';
import type { Segment } from '../engine/accounts/segments';
import type { Entry } from '../engine/entry';
import type { JournalPage } from '../journal/page';
import { isSameList } from '../text/lists';
import { type Accounts, accountsOf } from './accounts';
import { historyIn } from './histories';
import { boughtAlike } from './selling/purchases';
import { isOfCustomer, type Sales, salesOf, sellingOn } from './selling/sales';
import { isWeighedAlike, segmentsIn, touchedLots } from './touched-lots';
import type { Workspace } from './workspace';

/**
 * Pages on which something else is known of a metal than before, beyond those that `touchedFiles` names: followed from the lots that an edit
 * touched, up and down their history, as long as it makes a difference. And those of the histories that were touched, of which any reading
 * may now be suspect.
 */
export const touchedByMetals = (before: Workspace, after: Workspace): readonly string[] => {
  if (!before.whole || !after.whole) return [];
  const [was, now] = [accountsOf(before), accountsOf(after)];
  const files = new Set<string>();
  const seen = new Set<Segment>();
  const queue = [...segmentsIn(after, touchedLots(before, after, isWeighedAlike))];
  for (const lot of touchedLots(before, after, () => false)) {
    for (const workspace of [before, after])
      for (const { events } of historyIn(workspace, lot)?.stories ?? [])
        for (const { entry } of events) files.add(entry.anchor.file);
  }
  const [bought, buys] = [was.purchases.bySegment, now.purchases.bySegment];
  if (!boughtAlike(bought, buys))
    for (const segment of [...bought.keys(), ...buys.keys()])
      for (const { entry } of segment.events) files.add(entry.anchor.file);
  for (let segment = queue.pop(); segment; segment = queue.pop()) {
    if (seen.has(segment)) continue;
    seen.add(segment);
    const sameStory = before.book.lot(segment.lot) === segment.story;
    if (sameStory && isKnownAlike(segment, was, now)) continue;
    for (const { entry } of segment.events) files.add(entry.anchor.file);
    queue.push(...neighbours(segment, now.metals.lineage));
  }
  const dated = was.lastDate !== now.lastDate;
  const isSold = soldOtherwise(salesOf(before), salesOf(after));
  const names = settledNames(seen, salesOf(after));
  for (const [file, page] of after.pages) {
    if (files.has(file)) continue;
    const { planned, sampled, sells, counts } = farReaching(page);
    if (planned || sellingOn(page).some((entry) => isOfCustomer(after, entry)) || (dated && (sampled || sells)))
      files.add(file);
    else if (sells && (names.some((name) => page.byStep.has(name)) || (isSold && sellingOn(page).some(isSold))))
      files.add(file);
    else if (counts.some((entry) => isCountedOtherwise(entry, before, after))) files.add(file);
  }
  return [...files];
};

/** Entries that rest on more than the lots they speak of, and what they hang on. */
interface FarReaching {
  /** A plan rests on lots that other plans make: it is asked again whenever anything changes. */
  readonly planned: boolean;
  /** On the last day of the record. */
  readonly sampled: boolean;
  /** On prices, terms and other sales, and on the lots of a shipment that it only names. */
  readonly sells: boolean;
  /** On all lots that there are. */
  readonly counts: readonly Entry[];
}

const reaching = new WeakMap<JournalPage, FarReaching>();

const farReaching = (page: JournalPage): FarReaching => {
  const known = reaching.get(page);
  if (known) return known;
  const { entries } = page;
  const made: FarReaching = {
    planned: entries.some(({ prefix }) => prefix === 'plan'),
    sampled: entries.some(({ verb }) => verb === 'sample'),
    sells: sellingOn(page).length > 0,
    counts: entries.filter(({ verb }) => verb === 'count'),
  };
  reaching.set(page, made);
  return made;
};

/** Which entries of selling rest on other prices or sales than before; undefined where none does. */
const soldOtherwise = (was: Sales, now: Sales): ((entry: Entry) => boolean) | undefined => {
  if (was === now) return undefined;
  if (was.quotes !== now.quotes) return () => true;
  return (entry) => !isSameList(was.around(entry), now.around(entry));
};

/** By what names these are settled: of the shipment that they left in, or came back for, or their own. */
const settledNames = (seen: ReadonlySet<Segment>, { returnedFor }: Sales): readonly string[] =>
  [...seen].flatMap(({ lot, events }) => [
    lot,
    returnedFor(lot) ?? lot,
    ...events.flatMap(({ kind, entry }) => (kind === 'shipped' && entry.name ? [entry.name.name] : [])),
  ]);

const isCountedOtherwise = (entry: Entry, before: Workspace, after: Workspace): boolean => {
  const [was, now] = [uncountedAt(entry, before), uncountedAt(entry, after)];
  return was.length !== now.length || was.some((one, at) => !isSame(one, now[at]!));
};

const uncountedAt = (entry: Entry, workspace: Workspace): readonly Uncounted[] =>
  accountsOf(workspace).uncounted(workspace.book.account(entry));

const isSame = (a: Uncounted, b: Uncounted): boolean => a.segment.lot === b.segment.lot && a.at === b.at;

const isKnownAlike = (segment: Segment, was: Accounts, now: Accounts): boolean =>
  was.metals.before(segment) === now.metals.before(segment) &&
  was.metals.after(segment) === now.metals.after(segment) &&
  was.metals.own(segment) === now.metals.own(segment) &&
  was.owners(segment) === now.owners(segment) &&
  was.ownedOn(segment) === now.ownedOn(segment) &&
  isHeldAgainstAlike(segment, was, now);

/** What the rest of its history tells of a lot that has assays of its own. */
const isHeldAgainstAlike = (segment: Segment, { metals: was }: Accounts, { metals: now }: Accounts): boolean =>
  now.own(segment).size === 0 ||
  (sameKnowledge(was.carried(segment), now.carried(segment)) &&
    sameKnowledge(was.inferred(segment), now.inferred(segment)));

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
