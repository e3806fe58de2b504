/** The order of entries over all pages: by date, by time, then by place. */
import type { Entry } from '../engine/entry';
import type { JournalPage } from '../journal/page';

type Pages = ReadonlyMap<string, JournalPage>;

const compareText = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

export const inOrder =
  (pages: Pages) =>
  (a: Entry, b: Entry): number =>
    compareText(a.date ?? '', b.date ?? '') ||
    compareText(a.time ?? '', b.time ?? '') ||
    compareText(a.anchor.file, b.anchor.file) ||
    indexOf(pages, a) - indexOf(pages, b);

const indexOf = (pages: Pages, entry: Entry): number => pages.get(entry.anchor.file)?.order.get(entry) ?? 0;

/** Every entry that speaks of a lot, in order. */
export const entriesOfLot = (pages: Pages, lot: string): Entry[] => collect(pages, (page) => page.byLot.get(lot));

/** Every entry that bears a step's name, in order. */
export const entriesOfStep = (pages: Pages, name: string): Entry[] => collect(pages, (page) => page.byStep.get(name));

const collect = (pages: Pages, find: (page: JournalPage) => readonly Entry[] | undefined): Entry[] => {
  const found: Entry[] = [];
  for (const page of pages.values()) {
    const entries = find(page);
    if (entries) found.push(...entries);
  }
  return found.length > 1 ? found.sort(inOrder(pages)) : found;
};
