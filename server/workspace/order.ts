/** The order of entries over all pages: by date, by time, then by place. */
import type { Entry } from '../engine/entry';
import type { JournalPage } from '../journal/page';
import type { Section } from '../syntax/tree';

type Pages = ReadonlyMap<string, JournalPage>;

const compareText = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

/** By date, time, file and place on the page. */
export const inOrder =
  (pages: Pages) =>
  (a: Entry, b: Entry): number =>
    compareText(a.date ?? '', b.date ?? '') ||
    compareText(a.time ?? '', b.time ?? '') ||
    compareText(a.anchor.file, b.anchor.file) ||
    indexOf(pages, a) - indexOf(pages, b);

/** As it stands on its page: without its corrections and further parts. */
export const writtenIn = (pages: Pages, entry: Entry): Entry =>
  pages.get(entry.anchor.file)?.bySection.get(entry.anchor as Section) ?? entry;

const indexOf = (pages: Pages, entry: Entry): number => pages.get(entry.anchor.file)?.order.get(entry) ?? 0;

export interface Finder {
  /** Every entry that speaks of a lot, in order. */
  readonly ofLot: (lot: string) => readonly Entry[];
  /** Every entry that bears a step's name, in order. */
  readonly ofStep: (name: string) => readonly Entry[];
  /** Every entry that speaks of a material. */
  readonly ofMaterial: (name: string) => readonly Entry[];
}

/** From here on, asking every page about every name costs more than one index of them all. */
const MANY = 300;

/** Finds entries by name over all pages: page by page for the few names of an edit, by one index for those of a whole journal. */
export const finderFor = (pages: Pages, names: number): Finder => {
  const compare = inOrder(pages);
  const sorted = (entries: Entry[]): Entry[] => (entries.length > 1 ? entries.sort(compare) : entries);
  if (names < MANY) {
    return {
      ofLot: (lot) => sorted(collect(pages, (page) => page.byLot.get(lot))),
      ofStep: (name) => sorted(collect(pages, (page) => page.byStep.get(name))),
      ofMaterial: (name) => collect(pages, (page) => page.byMaterial.get(name)),
    };
  }
  const lots = indexed(pages, (page) => page.byLot);
  const steps = indexed(pages, (page) => page.byStep);
  const materials = indexed(pages, (page) => page.byMaterial);
  for (const index of [lots, steps]) for (const entries of index.values()) sorted(entries);
  return {
    ofLot: (lot) => lots.get(lot) ?? NONE,
    ofStep: (name) => steps.get(name) ?? NONE,
    ofMaterial: (name) => materials.get(name) ?? NONE,
  };
};

const NONE: readonly Entry[] = [];

const collect = (pages: Pages, find: (page: JournalPage) => readonly Entry[] | undefined): Entry[] => {
  const found: Entry[] = [];
  for (const page of pages.values()) {
    const entries = find(page);
    if (entries) found.push(...entries);
  }
  return found;
};

const indexed = (
  pages: Pages,
  of: (page: JournalPage) => ReadonlyMap<string, readonly Entry[]>,
): Map<string, Entry[]> => {
  const index = new Map<string, Entry[]>();
  for (const page of pages.values()) {
    for (const [name, entries] of of(page)) {
      const list = index.get(name);
      if (list) list.push(...entries);
      else index.set(name, [...entries]);
    }
  }
  return index;
};
