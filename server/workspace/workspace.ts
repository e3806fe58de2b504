/**
 * One shop's journal as an immutable value: every `.melt` page below its root, and the workshop file. A change makes a new value; pages,
 * entries and results that it does not touch stay the same objects.
 */
import type { Book } from '../engine/book';
import type { Workshop } from '../engine/workshop';
import type { JournalPage } from '../journal/page';
import type { Place } from '../text/place';
import type { Span } from '../text/span';
import type { WorkshopDocument } from '../workshop/read';
import type { BookState } from './state';

export interface Workspace {
  /** The folder, or the lone file, that this journal is. */
  readonly root: string;
  readonly pages: ReadonlyMap<string, JournalPage>;
  readonly workshopFile: WorkshopDocument | undefined;
  readonly workshop: Workshop;
  readonly book: Book;
  /**
   * Photos and papers that entries name, by their paths from the root: the digest of each, null where there is no such file, or `UNREAD`. Of one that
   * is not here nothing is known. Where one is gone, what lies beside it is here too.
   */
  readonly proofs: ReadonlyMap<string, string | null>;
  /** What sealed entries said, line by line, by their marks: as far as an older text of the pages was at hand. */
  readonly remembered: ReadonlyMap<string, readonly string[]>;
  /** False while pages are still to come: what rests on the whole record cannot be told yet. */
  readonly whole: boolean;
  /** What the book is made of; for the next change to build on. */
  readonly state: BookState;
}

/** Where a place stands today: its file, and offsets in that file's text. */
export const locate = (workspace: Workspace, place: Place): Span & { readonly file: string } => {
  const { file } = place.anchor;
  const starts = workspace.pages.get(file)?.page.starts as ReadonlyMap<object, number> | undefined;
  const start = starts?.get(place.anchor) ?? 0;
  return { file, start: start + place.start, end: start + place.end };
};

/** Files whose text, or whose results, differ between two states of one journal; those that are gone included. */
export const touchedFiles = (before: Workspace, after: Workspace): readonly string[] => {
  const touched: string[] = [];
  for (const [file, page] of after.pages) {
    const same = before.pages.get(file) === page && before.state.accounts.get(file) === after.state.accounts.get(file);
    if (!same) touched.push(file);
  }
  for (const file of before.pages.keys()) if (!after.pages.has(file)) touched.push(file);
  if (before.workshopFile !== after.workshopFile) touched.push((after.workshopFile ?? before.workshopFile)!.file);
  return touched;
};
