/**
 * Texts that come, go and change otherwise than by typing: from the disk, by documents opened and closed, and piece by piece while a journal
 * opens. Each belongs to one journal.
 */
import type { FileFailure } from '../files/decoded';
import { emptyWorkspace, withAllRead, withTexts } from '../workspace/update';
import type { Workspace } from '../workspace/workspace';
import type { OpenDocument } from './document';
import { rootOf, workshopFolders } from './membership';
import { beginOpening, type Opening, passFirst } from './opening';
import { isSure, type Journal, journalOf, type Session, textOf } from './session';
import { settle, settleOn } from './typing';

/** Other folders are open now. Texts below those that went are to be taken back with `diskChanged`. */
export const foldersChanged = (session: Session, folders: readonly string[]): void => {
  session.folders = folders;
  regroup(session);
};

/** All texts found on the disk when folders were first read. They belong to their journals at once, and are taken in by `openSome`. */
export const textsFound = (session: Session, texts: ReadonlyMap<string, string>): void => {
  for (const [id, text] of texts) session.disk.set(id, text);
  regroup(session, true);
  session.reading = false;
};

/** Number of characters that are still to be taken in. */
export const waitingLength = (session: Session): number => {
  let length = 0;
  for (const { opening } of session.journals.values()) {
    for (const id of opening?.waiting ?? []) length += textOf(session, id)?.length ?? 0;
  }
  return length;
};

/**
 * Takes in what is waiting, a small piece at a time, as long as there is time: open pages and all that they rest on first. False when nothing
 * is left to be done.
 */
export const openSome = (session: Session, hasTime: () => boolean): boolean => {
  for (;;) {
    const journal = nextOpening(session);
    if (!journal?.opening) return false;
    openPiece(session, journal, journal.opening);
    if (!hasTime()) return true;
  }
};

/** There is something to be taken in now. */
export const hasMore = (session: Session): boolean => nextOpening(session) !== undefined;

/** Number of files that are taken in. */
export const taken = (session: Session): number => {
  let waiting = 0;
  for (const { opening } of session.journals.values()) waiting += opening?.waiting.size ?? 0;
  return session.homes.size - waiting;
};

/** Of the journals that are being opened one with an open page that waits, else any; once that was stopped, any that lacks nothing more. */
const nextOpening = (session: Session): Journal | undefined => {
  for (const id of session.open.keys()) if (!isSure(session, id)) return journalOf(session, id);
  for (const journal of session.journals.values()) {
    if (journal.opening && (!session.stopped || journal.opening.waiting.size === 0)) return journal;
  }
  return undefined;
};

const openPiece = (session: Session, journal: Journal, opening: Opening): void => {
  const openFiles = [...session.open.keys()].filter((id) => session.homes.get(id) === journal.root);
  const next = passFirst(opening, journal.live, openFiles, (id) => textOf(session, id) ?? '');
  if (next.kind === 'sure') {
    opening.sure.add(next.file);
    session.stale.add(next.file);
    session.moved = true;
  } else if (next.kind === 'take') {
    for (const id of next.files) {
      opening.waiting.delete(id);
      opening.words.delete(id);
    }
    const texts = new Map(next.files.map((id) => [id, textOf(session, id)]));
    changeBoth(session, journal, (workspace, like) => withTexts(workspace, texts, false, { like }));
  } else if (next.kind === 'end') {
    journal.opening = undefined;
    changeBoth(session, journal, (workspace) => withAllRead(workspace));
    for (const id of journal.settled.pages.keys()) session.stale.add(id);
    session.moved = true;
  }
};

/** Files on the disk have a new text, or are gone. */
export const diskChanged = (session: Session, changes: ReadonlyMap<string, string | undefined>): void => {
  for (const [id, text] of changes) {
    if (text === undefined) session.disk.delete(id);
    else session.disk.set(id, text);
  }
  filesChanged(
    session,
    [...changes.keys()].filter((id) => !session.open.has(id)),
  );
};

/** A file cannot be read, or can again. */
export const failuresChanged = (session: Session, failures: ReadonlyMap<string, FileFailure | undefined>): void => {
  for (const [id, failure] of failures) {
    if (failure) session.failures.set(id, failure);
    else if (!session.failures.delete(id)) continue;
    session.stale.add(id);
  }
};

export const documentOpened = (session: Session, document: OpenDocument): void => {
  session.open.set(document.id, document);
  filesChanged(session, [document.id]);
  session.stale.add(document.id);
};

export const documentClosed = (session: Session, id: string): void => {
  if (!session.open.delete(id)) return;
  session.unsaved.delete(id);
  if (session.typing?.file === id) settle(session);
  filesChanged(session, [id]);
  session.stale.add(id);
};

/** Texts came, went or changed otherwise than by typing. */
const filesChanged = (session: Session, ids: readonly string[]): void => {
  if (ids.some((id) => isMember(session, id) !== session.homes.has(id))) {
    regroup(session);
    return;
  }
  for (const [root, members] of groupBy(ids, (id) => session.homes.get(id))) {
    const journal = root === undefined ? undefined : session.journals.get(root);
    if (journal) takeTexts(session, journal, new Map(members.map((id) => [id, textOf(session, id)])));
  }
};

const isMember = (session: Session, id: string): boolean => session.open.has(id) || session.disk.has(id);

/** Takes texts into a journal, but for those that wait for their turn. */
const takeTexts = (session: Session, journal: Journal, changes: ReadonlyMap<string, string | undefined>): void => {
  const { opening } = journal;
  opening?.sure.clear();
  for (const id of changes.keys()) opening?.words.delete(id);
  const now = new Map([...changes].filter(([id]) => !opening?.waiting.has(id)));
  changeBoth(session, journal, (workspace, like) => withTexts(workspace, now, !opening, { like }));
};

/** `like` has read the same texts. */
type Change = (workspace: Workspace, like?: Workspace) => Workspace;

const changeBoth = (session: Session, journal: Journal, change: Change): void => {
  const wasStill = journal.settled === journal.live;
  const live = change(journal.live);
  const settled = wasStill ? live : change(journal.settled, live);
  journal.live = live;
  settleOn(session, journal, settled);
};

/** Divides all files among their journals anew; files new to a journal are taken in at once, or wait. */
const regroup = (session: Session, newWait = session.reading): void => {
  settle(session);
  const ids = new Set([...session.disk.keys(), ...session.open.keys()]);
  const shops = workshopFolders(ids);
  const groups = groupBy(ids, (id) => rootOf(id, session.folders, shops));
  for (const id of session.homes.keys()) if (!ids.has(id)) session.stale.add(id);
  session.homes.clear();
  for (const root of session.journals.keys()) if (!groups.has(root)) session.journals.delete(root);
  for (const [root, members] of groups) {
    for (const id of members) session.homes.set(id, root);
    regroupJournal(session, root, members, newWait);
  }
};

const regroupJournal = (session: Session, root: string, members: readonly string[], newWait: boolean): void => {
  const empty = emptyWorkspace(root);
  const journal = session.journals.get(root) ?? { root, live: empty, settled: empty, opening: undefined };
  session.journals.set(root, journal);
  journal.opening = beginOpening(journal.opening, journal.live, members, newWait);
  const changes = new Map<string, string | undefined>(members.map((id) => [id, textOf(session, id)]));
  const shop = journal.live.workshopFile?.file;
  for (const id of journal.live.pages.keys()) if (!changes.has(id)) changes.set(id, undefined);
  if (shop !== undefined && !changes.has(shop)) changes.set(shop, undefined);
  takeTexts(session, journal, changes);
};

const groupBy = <Item, Key>(items: Iterable<Item>, keyOf: (item: Item) => Key): Map<Key, Item[]> => {
  const groups = new Map<Key, Item[]>();
  for (const item of items) {
    const key = keyOf(item);
    const group = groups.get(key);
    if (group) group.push(item);
    else groups.set(key, [item]);
  }
  return groups;
};
