/** Sealed entries that the names of their pages put in another order than they were sealed in. */
import type { LotStory } from '../engine/book';
import type { Entry } from '../engine/entry';
import { entriesOf, isTied, type Otherwise, otherwise, retold } from '../engine/ties';
import { lotsOf } from '../journal/names';
import { inOrder } from '../workspace/order';
import type { Workspace } from '../workspace/workspace';
import type { Sealed } from './periods';

/** Two entries in the order that they were sealed in; the names of their pages put the second first. */
export interface Turned {
  readonly first: Sealed;
  readonly second: Sealed;
}

/** `sealed`: of one period, in the order of its seal. Rests on these and their pages alone. */
export const turnedIn = ({ pages }: Workspace, sealed: readonly Sealed[]): readonly Turned[] => {
  const compare = inOrder(pages);
  const found: Turned[] = [];
  let start = 0;
  for (let end = 1; end <= sealed.length; end++) {
    if (sealed[end]?.date === sealed[start]!.date) continue;
    const ofDay = sealed.slice(start, end).filter(({ entry }) => entry);
    start = end;
    if (ofDay.every(({ entry }, at) => at === 0 || compare(ofDay[at - 1]!.entry!, entry!) <= 0)) continue;
    for (const [at, second] of ofDay.entries()) {
      for (const first of ofDay.slice(0, at)) {
        if (isTied(first.entry!, second.entry!) && compare(first.entry!, second.entry!) > 0)
          found.push({ first, second });
      }
    }
  }
  return found;
};

/** What the order decides of a lot. */
export interface Decided extends Turned {
  readonly story: LotStory;
  readonly told: Otherwise;
}

interface Kept {
  readonly story: LotStory | undefined;
  readonly decided: Decided | undefined;
}

const kept = new WeakMap<readonly Turned[], Map<string, Kept>>();

/** Each lot of which the sealed order tells something else, at the first two of its entries; the same object as long as its story is. */
export const decidedBy = (workspace: Workspace, all: readonly Turned[]): readonly Decided[] => {
  const known = kept.get(all) ?? new Map<string, Kept>();
  kept.set(all, known);
  return [...byLot(all)].flatMap(([lot, turned]) => {
    const story = workspace.book.lot(lot);
    if (known.get(lot)?.story !== story)
      known.set(lot, { story, decided: story && decidedOf(workspace, story, turned) });
    return known.get(lot)?.decided ?? [];
  });
};

const byLot = (all: readonly Turned[]): ReadonlyMap<string, readonly Turned[]> => {
  const lots = new Map<string, Turned[]>();
  for (const one of all) {
    const others = lotsOf(one.second.entry!);
    for (const lot of lotsOf(one.first.entry!)) {
      if (others.has(lot)) lots.set(lot, [...(lots.get(lot) ?? []), one]);
    }
  }
  return lots;
};

const decidedOf = (workspace: Workspace, story: LotStory, turned: readonly Turned[]): Decided | undefined => {
  const told = otherwise(story, retold(story, inSealedOrder(entriesOf(story), turned), workspace));
  return told && { ...turned[0]!, story, told };
};

/** An entry that counts as corrected stands where the one does that was written. */
const inSealedOrder = (entries: readonly Entry[], turned: readonly Turned[]): readonly Entry[] => {
  const later = new Map<unknown, Set<unknown>>();
  for (const { first, second } of turned)
    later.set(first.section, (later.get(first.section) ?? new Set()).add(second.section));
  const made: Entry[] = [];
  for (const entry of entries) {
    const behind = later.get(entry.anchor);
    const at = behind ? made.findIndex(({ anchor }) => behind.has(anchor)) : -1;
    made.splice(at < 0 ? made.length : at, 0, entry);
  }
  return made;
};
