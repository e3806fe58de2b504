/** A change of files makes a new workspace. Only what hangs on the change is read and computed again. */

import type { Entry } from '../engine/entry';
import { NO_WORKSHOP } from '../engine/workshop';
import { type JournalPage, readPage } from '../journal/page';
import { parsePage } from '../syntax/parse';
import { readWorkshop, type WorkshopDocument } from '../workshop/read';
import { inheritAccounts } from './accounts';
import { bookOf } from './compute';
import { EMPTY_STATE } from './state';
import type { Workspace } from './workspace';

export const WORKSHOP_FILE = 'workshop.yaml';

export const isWorkshopFile = (file: string): boolean => file.slice(file.lastIndexOf('/') + 1) === WORKSHOP_FILE;

export const emptyWorkspace = (root: string): Workspace => {
  const workshop = NO_WORKSHOP;
  const pages = new Map<string, JournalPage>();
  return {
    root,
    pages,
    workshopFile: undefined,
    workshop,
    whole: true,
    proofs: new Map(),
    remembered: new Map(),
    ...bookOf({ pages, workshop, state: EMPTY_STATE }, []),
  };
};

interface Reading {
  /** Changes an entry that is read anew. */
  readonly asRead?: (entry: Entry) => Entry;
  /** A version of the journal that may have read these texts already. */
  readonly like?: Workspace;
}

/**
 * Files with their new text; undefined for one that is gone. While more of them are to come `whole` may be false: then nothing is said that
 * rests on the whole record, such as what name an unknown one may have been meant for, until `withAllRead`.
 */
export const withTexts = (
  workspace: Workspace,
  changes: ReadonlyMap<string, string | undefined>,
  whole = true,
  { asRead, like }: Reading = {},
): Workspace => {
  const pages = new Map(workspace.pages);
  let workshopFile = workspace.workshopFile;
  const changed: { before: JournalPage | undefined; after: JournalPage | undefined }[] = [];
  for (const [file, text] of changes) {
    if (isWorkshopFile(file)) {
      workshopFile = text === undefined ? undefined : readWorkshopFile(file, text, workshopFile);
      continue;
    }
    const before = pages.get(file);
    if (text === before?.page.text) continue;
    const same = like?.pages.get(file);
    const read = (now: string): JournalPage =>
      same?.page.text === now ? same : readPage(parsePage(file, now, before?.page), before, asRead);
    const after = text === undefined ? undefined : read(text);
    if (after) pages.set(file, after);
    else pages.delete(file);
    changed.push({ before, after });
  }
  const workshop = workshopFile?.workshop ?? NO_WORKSHOP;
  const sameShop = workshop === workspace.workshop;
  const state = sameShop ? workspace.state : EMPTY_STATE;
  const touched = sameShop ? changed : [...pages.values()].map((after) => ({ before: undefined, after }));
  if (touched.length === 0 && sameShop) return { ...workspace, workshopFile, whole };
  const next = {
    ...workspace,
    pages,
    workshopFile,
    workshop,
    whole,
    ...bookOf({ pages, workshop, state }, touched, whole),
  };
  inheritAccounts(workspace, next);
  return next;
};

/** The workspace once all texts are there: a name that nothing bears is held against all that there are. */
export const withAllRead = (workspace: Workspace): Workspace => ({
  ...workspace,
  whole: true,
  ...bookOf(workspace, []),
});

/** The same journal with what is known of the files that it names. */
export const withProofs = (workspace: Workspace, proofs: Workspace['proofs']): Workspace => {
  const next = { ...workspace, proofs };
  inheritAccounts(workspace, next);
  return next;
};

const readWorkshopFile = (file: string, text: string, before: WorkshopDocument | undefined): WorkshopDocument =>
  before?.text === text && before.file === file ? before : readWorkshop(file, text);
