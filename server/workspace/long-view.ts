/** The record looked back on: its steps in order, what each scale and crucible has been through. Worked out once for a workspace. */

import type { LotStory, Step } from '../engine/book';
import type { Entry } from '../engine/entry';
import type { Loss } from '../engine/learnt';
import { type CrucibleLife, crucibleLives } from '../engine/longview/crucibles';
import { type Done, doneOf } from '../engine/longview/done';
import { type ByScale, differencesByScale } from '../engine/longview/drift';
import { type Comparison, comparisons, type Settled } from '../engine/longview/pairs';
import type { Workshop } from '../engine/workshop';
import type { JournalPage } from '../journal/page';
import { accountsOf } from './accounts';
import type { Member } from './history';
import { inOrder } from './order';
import { originalOf } from './parts';
import { ShardedMap } from './sharded';
import type { Workspace } from './workspace';

export interface LongView {
  /** Every step, in the order of the record; but for samples, which are no work on a lot. */
  readonly done: () => readonly Done[];
  /** Losses of the steps that the journal learns of each other, by kind, as they are kept for that. */
  readonly losses: () => readonly (readonly KindLoss[])[];
  readonly crucibles: () => readonly CrucibleLife[];
  readonly comparisons: () => readonly Comparison[];
  readonly scales: () => ByScale;
}

/** What a step of a kind lost, by its first entry. */
export interface KindLoss {
  readonly entry: Entry;
  readonly loss: Loss;
}

const kept = new WeakMap<Workspace, LongView>();

export const longViewOf = (workspace: Workspace): LongView => {
  const known = kept.get(workspace);
  if (known) return known;
  const { book, workshop } = workspace;
  const compare = inOrder(workspace.pages);
  const made: LongView = {
    done: once(() => {
      const { metals } = accountsOf(workspace);
      return stepsInOrder(workspace, compare)
        .filter(({ entry }) => entry.verb !== 'sample')
        .map((step) => doneOf(step, metals, book.make, workshop));
    }),
    losses: once(() => [...workspace.state.histories.values()].map(lossesOf)),
    crucibles: once(() => crucibleLives(heatsInOrder(workspace, compare), workshop.crucibles)),
    comparisons: once(() =>
      comparisons(book, accountsOf(workspace).metals, workshop, settlements(workspace), ['Au', 'Ag']),
    ),
    scales: once(() => scalesOf(workspace, compare)),
  };
  kept.set(workspace, made);
  return made;
};

const once = <Value>(make: () => Value): (() => Value) => {
  let value: { readonly made: Value } | undefined;
  return () => {
    value ??= { made: make() };
    return value.made;
  };
};

/** An edit changes one kind or two: the lists of all others are the same as before. */
const keptLosses = new WeakMap<object, readonly KindLoss[]>();

const lossesOf = (members: readonly Member[]): readonly KindLoss[] => {
  const known = keptLosses.get(members);
  if (known) return known;
  const made = members.filter((one): one is Member & KindLoss => one.loss !== undefined);
  keptLosses.set(members, made);
  return made;
};

/** Heats in a crucible, each by its first entry as it counts: the crucible may be what was corrected. */
const heatsInOrder = ({ pages, book }: Workspace, compare: (a: Entry, b: Entry) => number): readonly Entry[] =>
  [...pages.values()]
    .flatMap(inCrucibles)
    .sort(compare)
    .flatMap((entry) => book.step(entry)?.entry ?? []);

const keptHeats = new WeakMap<JournalPage, readonly Entry[]>();

const inCrucibles = (page: JournalPage): readonly Entry[] => {
  const known = keptHeats.get(page);
  if (known) return known;
  const made = page.entries.filter(({ prefix, gear }) => !prefix && gear.some(({ word }) => word === 'crucible'));
  keptHeats.set(page, made);
  return made;
};

/** Each step once, by its first entry. */
const stepsInOrder = ({ pages, book }: Workspace, compare: (a: Entry, b: Entry) => number): readonly Step[] => {
  const first = new Map<Step, Entry>();
  for (const page of pages.values()) {
    for (const entry of page.entries) {
      const step = entry.prefix ? undefined : book.step(entry);
      if (step && !first.has(step)) first.set(step, entry);
    }
  }
  return [...first].sort(([, a], [, b]) => compare(a, b)).map(([step]) => step);
};

/** What the last version of a shop's journal gave: the next has most of its stories. */
const lastScales = new WeakMap<Workshop, { readonly stories: ShardedMap<LotStory>; readonly byScale: ByScale }>();

const scalesOf = ({ state, workshop }: Workspace, compare: (a: Entry, b: Entry) => number): ByScale => {
  const { stories } = state;
  const last = lastScales.get(workshop) ?? { stories: ShardedMap.empty<LotStory>(), byScale: new Map() };
  const retold = { gone: last.stories.but(stories), come: stories.but(last.stories) };
  // A corrected entry stands where it was written.
  const asWritten = (a: Entry, b: Entry): number => compare(originalOf(a), originalOf(b));
  const byScale = differencesByScale(last.byScale, retold, asWritten);
  lastScales.set(workshop, { stories, byScale });
  return byScale;
};

/** Settlements by the one lot that their shipment held; of several lots nobody knows whose the result is. */
const settlements = ({ pages }: Workspace): ReadonlyMap<string, readonly Settled[]> => {
  const entries = [...pages.values()].flatMap((page) =>
    page.entries.filter(({ prefix, broken }) => !prefix && !broken),
  );
  const shipped = new Map<string, { readonly lot: string; readonly to: string }>();
  for (const { verb, name, party, flows } of entries) {
    const [only, ...others] = verb === 'ship' ? flows.flatMap(({ lot }) => lot?.name ?? []) : [];
    if (name && party && only !== undefined && others.length === 0)
      shipped.set(name.name, { lot: only, to: party.name });
  }
  const byLot = new Map<string, Settled[]>();
  for (const entry of entries) {
    const shipment = entry.verb === 'settle' && entry.name ? shipped.get(entry.name.name) : undefined;
    if (shipment) byLot.set(shipment.lot, [...(byLot.get(shipment.lot) ?? []), { entry, by: shipment.to }]);
  }
  return byLot;
};
