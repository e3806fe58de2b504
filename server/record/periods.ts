/** Which days, entries and seals stand in which sealed period. */
import type { Entry } from '../engine/entry';
import type { JournalPage } from '../journal/page';
import type { Section } from '../syntax/tree';
import { inOrder } from '../workspace/order';
import type { Workspace } from '../workspace/workspace';
import { canonicalLines, markOf } from './canonical';

/** A `seal` as it stands on its page. */
export interface SealEntry {
  readonly entry: Entry;
  readonly section: Section;
  /** The last day that it closes. */
  readonly upTo: string;
}

/** A thing that is sealed: an entry, or a day with a text. */
export interface Sealed {
  readonly section: Section;
  /** Empty above the first day of a page. */
  readonly date: string;
  readonly entry: Entry | undefined;
}

/** Of one page what falls into one period. */
export type Slice = readonly Sealed[];

export const isSeal = ({ verb, prefix, broken, ofDate }: Entry): boolean =>
  verb === 'seal' && prefix === undefined && !broken && ofDate !== undefined;

/** Every seal of the journal, by the day that it closes; of one day in the order of the record. */
export const sealsOf = ({ pages }: Workspace): readonly SealEntry[] => {
  const found = [...pages.values()].flatMap(sealsOn);
  const compare = inOrder(pages);
  return found.sort((a, b) => (a.upTo < b.upTo ? -1 : a.upTo > b.upTo ? 1 : compare(a.entry, b.entry)));
};

/** The last day that a seal with its digest closes; empty where none does. */
export const closedUpTo = (workspace: Workspace): string =>
  sealsOf(workspace).findLast(({ entry }) => entry.digest)?.upTo ?? '';

const NO_SEALS: readonly SealEntry[] = [];
const seals = new WeakMap<JournalPage, readonly SealEntry[]>();

const sealsOn = (page: JournalPage): readonly SealEntry[] => {
  const known = seals.get(page);
  if (known) return known;
  const found = page.entries.filter(isSeal).map(sealEntry);
  const made = found.length > 0 ? found : NO_SEALS;
  seals.set(page, made);
  return made;
};

const sealEntries = new WeakMap<Entry, SealEntry>();

/** The same object as long as its entry is. */
const sealEntry = (entry: Entry): SealEntry => {
  const made = sealEntries.get(entry) ?? { entry, section: entry.anchor as Section, upTo: entry.ofDate! };
  sealEntries.set(entry, made);
  return made;
};

/** What each page has in the period after one day and up to another; pages that have nothing are left out. */
export const slicesIn = ({ pages }: Workspace, after: string | undefined, upTo: string): readonly Slice[] =>
  [...pages.values()].map((page) => sliceOf(page, after, upTo)).filter((slice) => slice.length > 0);

const slices = new WeakMap<JournalPage, Map<string, Slice>>();
const NOTHING: Slice = [];

const sliceOf = (page: JournalPage, after: string | undefined, upTo: string): Slice => {
  const kept = slices.get(page) ?? new Map<string, Slice>();
  slices.set(page, kept);
  const key = `${after} ${upTo}`;
  const known = kept.get(key);
  if (known) return known;
  const found = sealableOn(page).filter(({ date }) => (after === undefined || date > after) && date <= upTo);
  const made = found.length > 0 ? found : NOTHING;
  kept.set(key, made);
  return made;
};

const sealable = new WeakMap<JournalPage, Slice>();
const things = new WeakMap<Section, Sealed>();

/** A plan is no record yet, and a seal is held by the seal after it. What stands under a date that there is not stands nowhere. */
const sealableOn = (page: JournalPage): Slice => {
  const known = sealable.get(page);
  if (known) return known;
  const made: Sealed[] = [];
  let date: string | undefined = '';
  for (const section of page.page.sections) {
    if (section.kind === 'day') {
      date = section.date;
      if (date !== undefined && hasText(section)) made.push(sealed(section, date, undefined));
    }
    const entry = page.bySection.get(section);
    if (date !== undefined && entry && entry.prefix !== 'plan' && !isSeal(entry))
      made.push(sealed(section, date, entry));
  }
  sealable.set(page, made);
  return made;
};

const dayTexts = new WeakMap<Section, boolean>();

const hasText = (section: Section): boolean => {
  const known = dayTexts.get(section);
  if (known !== undefined) return known;
  const has = canonicalLines(section).length > 0;
  dayTexts.set(section, has);
  return has;
};

/** The same object as long as it stands under the same day and at the same time. */
const sealed = (section: Section, date: string, entry: Entry | undefined): Sealed => {
  const known = things.get(section);
  if (known && known.date === date && known.entry === entry) return known;
  const made = { section, date, entry };
  things.set(section, made);
  return made;
};

/** Stands for a day where entries are above the first day of a page. */
export const UNDATED = 'undated';

/**
 * In the order of the record: by day, a day's texts first, then its entries by their times and places on their page. What stands on several pages
 * at one time has no order but that of the pages' names; where a seal has its marks, it is in the order that they have, whatever the pages are
 * called by now.
 */
export const inRecordOrder = (
  workspace: Workspace,
  all: readonly Slice[],
  marks: ReadonlyMap<string, readonly string[]> = new Map(),
): readonly Sealed[] => {
  const pages = all.flatMap((slice) =>
    [...byDay(slice)].map(([date, part]) => ({ date, part: inPageOrder(workspace, part) })),
  );
  pages.sort((a, b) => compareText(a.part[0]!.section.file, b.part[0]!.section.file));
  const days = new Map<string, (readonly Sealed[])[]>();
  for (const { date, part } of pages) days.set(date, [...(days.get(date) ?? []), part]);
  return [...days]
    .sort(([a], [b]) => compareText(a, b))
    .flatMap(([date, parts]) => (parts.length === 1 ? parts[0]! : joined(parts, marks.get(date || UNDATED) ?? [])));
};

const compareText = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

const byDay = (slice: Slice): ReadonlyMap<string, readonly Sealed[]> => {
  const days = new Map<string, Sealed[]>();
  for (const one of slice) {
    const list = days.get(one.date);
    if (list) list.push(one);
    else days.set(one.date, [one]);
  }
  return days;
};

/** When it comes in its day: a text before all entries, an entry without a time at that of the one above it. */
const timeOf = ({ entry }: Sealed): string => (entry ? `1 ${entry.time ?? ''}` : '0');

const inPageOrder = ({ pages }: Workspace, part: readonly Sealed[]): readonly Sealed[] => {
  const starts = pages.get(part[0]!.section.file)?.page.starts;
  const place = ({ section }: Sealed): number => starts?.get(section) ?? 0;
  return part.toSorted((a, b) => compareText(timeOf(a), timeOf(b)) || place(a) - place(b));
};

/** The parts of one day, each in its order, into one: of what stands first and earliest, what the marks have next. */
const joined = (parts: readonly (readonly Sealed[])[], marks: readonly string[]): readonly Sealed[] => {
  const waiting = parts.map((part) => [...part]);
  const left = [...marks];
  const made: Sealed[] = [];
  for (;;) {
    const heads = waiting.flatMap(([head]) => head ?? []);
    const first = heads.map(timeOf).sort()[0];
    if (first === undefined) return made;
    const next = nextOf(
      heads.filter((head) => timeOf(head) === first),
      left,
    );
    const at = left.indexOf(markOf(next.section));
    if (at >= 0) left.splice(0, at + 1);
    made.push(next);
    waiting.find(([head]) => head === next)!.shift();
  }
};

/** Else what the marks do not know, which may have come in the place of the next; else what they have soonest. */
const nextOf = (heads: readonly Sealed[], left: readonly string[]): Sealed => {
  if (heads.length === 1 || left.length === 0) return heads[0]!;
  const places = heads.map(({ section }) => left.indexOf(markOf(section)));
  const sooner = places.includes(0) ? 0 : Math.min(...places);
  return heads[places.indexOf(sooner)]!;
};
