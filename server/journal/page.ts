/** One file's meaning: its entries under their days, and the names that they use. */
import { ownTimeOf } from '../engine/clock';
import type { Entry } from '../engine/entry';
import type { Page, Section } from '../syntax/tree';
import { indexedBy } from '../text/lists';
import { editedFrom, type Index, indexAfter } from './indexed';
import { lotsOf, materialsOf } from './names';
import { readEntry } from './read';

export interface JournalPage {
  readonly file: string;
  readonly page: Page;
  readonly entries: readonly Entry[];
  readonly order: ReadonlyMap<Entry, number>;
  /** Entries that speak of a lot, in page order. */
  readonly byLot: Index;
  /** Entries that bear a step's name: `melt M57` and its `more`, `plan`, `void`. */
  readonly byStep: Index;
  /** Entries that speak of a material. */
  readonly byMaterial: Index;
  /** Names inside merge conflicts and entries whose verb is not known. */
  readonly mentions: readonly ReadonlySet<string>[];
  readonly bySection: ReadonlyMap<Section, Entry>;
  /** The first and the last day that an entry stands under; empty where none is written. */
  readonly firstDate: string;
  readonly lastDate: string;
}

/** Reads a page; an entry whose section, day and time are those of `before` is the same object, any other is what `asRead` makes of it. */
export const readPage = (
  page: Page,
  before?: JournalPage,
  asRead: (entry: Entry) => Entry = (entry) => entry,
): JournalPage => {
  let date: string | undefined;
  let time: string | undefined;
  const entries: Entry[] = [];
  const bySection = new Map<Section, Entry>();
  for (const section of page.sections) {
    if (section.kind === 'day') {
      date = section.date;
      time = undefined;
    }
    if (section.kind !== 'entry') continue;
    const entry = keptEntry(before?.bySection.get(section), date, time) ?? asRead(readEntry(section, date, time));
    time = lastTime(entry) ?? time;
    entries.push(entry);
    bySection.set(section, entry);
  }
  const order = new Map(entries.map((entry, index) => [entry, index]));
  const edited = before && editedFrom(before.order, entries, order);
  const index = (was: Index | undefined, namesOf: (entry: Entry) => Iterable<string>): Index =>
    was && edited ? indexAfter(was, edited, namesOf) : indexedBy(entries, namesOf);
  return {
    file: page.file,
    page,
    entries,
    order,
    byLot: index(before?.byLot, lotsOf),
    byStep: index(before?.byStep, ({ name }) => (name ? [name.name] : [])),
    byMaterial: index(before?.byMaterial, materialsOf),
    mentions: page.sections.map(({ mentions }) => mentions).filter(({ size }) => size > 0),
    bySection,
    firstDate: entries.reduce((first, { date = '' }) => (date < first ? date : first), entries[0]?.date ?? ''),
    lastDate: entries.reduce((last, { date = '' }) => (date > last ? date : last), ''),
  };
};

/**
 * The time that the next entry without one takes over: the latest of this entry's own day. Not the last written: a time that goes back by a
 * slip must not put what follows before what it follows.
 */
const lastTime = (entry: Entry): string | undefined =>
  entry.clocks.reduce<string | undefined>(
    (latest, { date, time }) => (time !== undefined && date === entry.date && time > (latest ?? '') ? time : latest),
    entry.time,
  );

const keptEntry = (entry: Entry | undefined, date: string | undefined, time: string | undefined): Entry | undefined => {
  if (entry?.date !== date) return undefined;
  const ownTime = entry && ownTimeOf(entry.clocks, date);
  return entry && (ownTime !== undefined || entry.time === time) ? entry : undefined;
};
