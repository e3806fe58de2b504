/** The order of entries over all pages: by date, by time, then by place. */
import type { Entry } from '../engine/entry';
import type { JournalPage } from '../journal/page';
import type { Section } from '../syntax/tree';
import { filesIn, type Mentions } from './mentions';

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

/** Finds entries by name: of the pages that `mentions` has for it. */
export const finderFor = (pages: Pages, { lots, steps }: Mentions): Finder => {
  const compare = inOrder(pages);
  let materials: ReadonlyMap<string, readonly Entry[]> | undefined;
  const found = (
    files: readonly string[],
    on: (page: JournalPage) => readonly Entry[] | undefined,
  ): readonly Entry[] => {
    const entries = files.flatMap((file) => on(pages.get(file)!) ?? NONE);
    return entries.length > 1 ? entries.sort(compare) : entries;
  };
  return {
    ofLot: (lot) => found(filesIn(lots.get(lot)), ({ byLot }) => byLot.get(lot)),
    ofStep: (name) => found(filesIn(steps.get(name)), ({ byStep }) => byStep.get(name)),
    ofMaterial: (name) => {
      materials ??= materialsIn(pages);
      return materials.get(name) ?? NONE;
    },
  };
};

/** Of every page at once: a page that is read asks for as many names as it has lots. */
const materialsIn = (pages: Pages): ReadonlyMap<string, readonly Entry[]> => {
  const found = new Map<string, Entry[]>();
  for (const { byMaterial } of pages.values()) {
    for (const [name, entries] of byMaterial) {
      const known = found.get(name);
      if (known) known.push(...entries);
      else found.set(name, [...entries]);
    }
  }
  return found;
};

const NONE: readonly Entry[] = [];
