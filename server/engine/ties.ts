/**
 * Entries of one time that stand on several pages have no order of their own: the names of the pages give one. Whether another would tell
 * something else of a lot.
 */
import { type Measured, uncertainty } from '../quantity/measured';
import type { Book, LotEvent, LotStory } from './book';
import type { Entry } from './entry';
import { lotStory } from './lot';
import type { Workshop } from './workshop';

/** What a story is told with. */
interface Known {
  readonly workshop: Workshop;
  readonly book: Book;
}

/** Of one day and time, on two pages. */
export const isTied = (a: Entry, b: Entry): boolean =>
  a.date !== undefined && a.date === b.date && a.time === b.time && a.anchor.file !== b.anchor.file;

/** Two entries, and how the story would be told if what stands on the page of the second came first. */
export interface Tie {
  readonly before: Entry;
  readonly after: Entry;
  readonly other: LotStory;
}

/** Where only the names of two pages put the entries of a story in order. */
export function* tiesOf(story: LotStory, known: Known): Generator<Tie> {
  const entries = entriesOf(story);
  let start = 0;
  for (let middle = 1; middle < entries.length; middle++) {
    const [before, after] = [entries[middle - 1]!, entries[middle]!];
    if (isBeside(before, after)) continue;
    const first = start;
    start = middle;
    if (!isTied(before, after)) continue;
    let end = middle + 1;
    while (end < entries.length && isBeside(after, entries[end]!)) end++;
    const turned = [...entries.slice(middle, end), ...entries.slice(first, middle)];
    yield { before, after, other: retold(story, entries.toSpliced(first, end - first, ...turned), known) };
  }
}

/** Of one time and page. */
const isBeside = (a: Entry, b: Entry): boolean =>
  a.date === b.date && a.time === b.time && a.anchor.file === b.anchor.file;

/** The entries that speak of a lot, each once. */
export const entriesOf = ({ events }: LotStory): readonly Entry[] => [...new Set(events.map(({ entry }) => entry))];

/** The story of the same entries in another order. */
export const retold = ({ name }: LotStory, entries: readonly Entry[], { workshop, book }: Known): LotStory =>
  lotStory(
    name,
    entries,
    workshop,
    (entry, flow) => {
      const solved = book.step(entry)?.solved;
      return solved?.flow === flow ? solved.mass : undefined;
    },
    {
      leftOf: (entry, lot) => book.lot(lot)?.events.find((event) => event.entry === entry)?.before,
    },
  );

/** The first thing that two stories of the same entries tell otherwise. */
export type Otherwise =
  | (Weights & { readonly of: 'left'; readonly unit: 'g' | 'mL' })
  | (Weights & { readonly of: 'taken'; readonly entry: Entry })
  | { readonly of: 'assay'; readonly entry: Entry }
  | { readonly of: 'owner' | 'place' };

interface Weights {
  readonly now: Measured | undefined;
  readonly other: Measured | undefined;
}

export const otherwise = (now: LotStory, other: LotStory): Otherwise | undefined => {
  const [here, there] = [now.events.at(-1), other.events.at(-1)];
  if (!isSame(now.left, other.left)) return { of: 'left', unit: 'g', now: now.left, other: other.left };
  if (!isSame(here?.volumeAfter, there?.volumeAfter))
    return { of: 'left', unit: 'mL', now: here?.volumeAfter, other: there?.volumeAfter };
  const theirs = byEntry(other);
  for (const [entry, events] of byEntry(now)) {
    for (const [at, event] of events.entries()) {
      const same = theirs.get(entry)?.[at];
      if (event.weight.ground === 'carried' && !isSame(event.weight.mass, same?.weight.mass))
        return { of: 'taken', entry, now: event.weight.mass, other: same?.weight.mass };
      if (event.kind === 'assayed' && same && beginningsBefore(now, event) !== beginningsBefore(other, same))
        return { of: 'assay', entry };
    }
  }
  if (now.owner?.name !== other.owner?.name) return { of: 'owner' };
  return placeOf(now) === placeOf(other) ? undefined : { of: 'place' };
};

const isSame = (a: Measured | undefined, b: Measured | undefined): boolean =>
  a === b ||
  (a !== undefined &&
    b !== undefined &&
    a.value.equals(b.value) &&
    Math.abs(uncertainty(a) - uncertainty(b)) <= 1e-9 * uncertainty(a));

const byEntry = ({ events }: LotStory): ReadonlyMap<Entry, readonly LotEvent[]> => {
  const groups = new Map<Entry, LotEvent[]>();
  for (const event of events) {
    const list = groups.get(event.entry);
    if (list) list.push(event);
    else groups.set(event.entry, [event]);
  }
  return groups;
};

/** What an assay speaks of lasts from one of these to the next. */
const beginningsBefore = ({ events, births }: LotStory, event: LotEvent): number =>
  events.slice(0, events.indexOf(event)).filter((one) => one.kind === 'continued' || births.includes(one)).length;

const placeOf = ({ events }: LotStory): string | undefined => {
  const last = events.findLast(({ flow, entry }) => flow?.said.at ?? entry.said.at);
  return (last?.flow?.said.at ?? last?.entry.said.at)?.name;
};
