/**
 * What the server knows: the folders, the texts, the journals made of them, and who types where. It reads no disk and no clock: texts and times
 * (milliseconds, on any clock that only goes forward) are handed in. `tick` says what is to be shown, `nextDue` when to ask again.
 */
import { isWorkshop } from '../files/names';
import type { FileFailure } from '../files/read';
import { touchedByMetals } from '../workspace/touched';
import { emptyWorkspace, withAllRead, withTexts } from '../workspace/update';
import { touchedFiles, type Workspace } from '../workspace/workspace';
import { applyChanges, type OpenDocument, type TextChange, type Touched } from './document';
import { rootOf, workshopFolders } from './membership';
import { beginOpening, type Opening, passFirst } from './opening';
import { sectionAt, standingIn, type Typing, type View } from './stillness';

/** A finding about the entry being typed is shown after so long a rest. */
export const LOOK_AFTER_MS = 250;
/** Entries elsewhere follow after so long a rest. */
export const PAUSE_AFTER_MS = 700;
/** The token under the caret is judged after so long a rest. */
export const REST_AFTER_MS = 1000;
/** Where no cursor is told, all is shown after so long a rest. */
export const SETTLE_AFTER_MS = 1500;

/** One journal's two workspaces. */
export interface Journal {
  readonly root: string;
  live: Workspace;
  settled: Workspace;
  /** While not all of its texts have been taken in. */
  opening: Opening | undefined;
}

interface TypingState extends Typing {
  readonly root: string;
  /** Time of the last keystroke. */
  at: number;
  start: number;
  caret: number;
  rested: boolean;
  looked: boolean;
  paused: boolean;
  /** Rest after which the typing counts as over; none where the cursor tells. */
  readonly overAfter: number | undefined;
  /** Several entries were touched at once: a paste, an undo. */
  readonly pasted: boolean;
}

export interface Session {
  folders: readonly string[];
  /** Texts of the files on the disk, by id. An open buffer wins over them. */
  readonly disk: Map<string, string>;
  /** Files that are there and cannot be read. */
  readonly failures: Map<string, FileFailure>;
  readonly open: Map<string, OpenDocument>;
  readonly journals: Map<string, Journal>;
  /** The root of each file's journal. */
  readonly homes: Map<string, string>;
  typing: TypingState | undefined;
  /** The client tells where its cursor is. */
  hasCursor: boolean;
  /** Folders are being read: what is opened meanwhile waits for the pages that it rests on. */
  reading: boolean;
  /** Files whose findings are to be looked at again. */
  readonly stale: Set<string>;
  /** Results of entries elsewhere may have changed since the last tick. */
  moved: boolean;
}

export interface Tick {
  /** Files whose findings may have changed. */
  readonly files: readonly string[];
  /** Hints outside of the entry being typed may have changed. */
  readonly moved: boolean;
}

export const createSession = (hasCursor = false): Session => ({
  folders: [],
  disk: new Map(),
  failures: new Map(),
  open: new Map(),
  journals: new Map(),
  homes: new Map(),
  typing: undefined,
  hasCursor,
  reading: false,
  stale: new Set(),
  moved: false,
});

/** The journal that a file belongs to. */
export const journalOf = (session: Session, file: string): Journal | undefined => {
  const root = session.homes.get(file);
  return root === undefined ? undefined : session.journals.get(root);
};

/** All that a file's results rest on has been taken in; of a file that is in no journal there is nothing to wait for. */
export const isSure = (session: Session, file: string): boolean => {
  const opening = journalOf(session, file)?.opening;
  return !opening || opening.sure.has(file);
};

/** What is to be seen of a file's journal now. */
export const viewOf = (session: Session, file: string): View | undefined => {
  const journal = journalOf(session, file);
  if (!journal) return undefined;
  const typing = session.typing?.root === journal.root ? session.typing : undefined;
  return { live: journal.live, settled: journal.settled, typing };
};

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

/** Of the journals that are being opened one with an open page that waits, else any. */
const nextOpening = (session: Session): Journal | undefined => {
  for (const id of session.open.keys()) if (!isSure(session, id)) return journalOf(session, id);
  for (const journal of session.journals.values()) if (journal.opening) return journal;
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
    changeBoth(session, journal, (workspace) =>
      withTexts(workspace, new Map(next.files.map((id) => [id, textOf(session, id)])), false),
    );
  } else if (next.kind === 'end') {
    journal.opening = undefined;
    changeBoth(session, journal, withAllRead);
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
  if (session.typing?.file === id) settle(session);
  filesChanged(session, [id]);
  session.stale.add(id);
};

/** Keystrokes in an open document. False where no such document is open. */
export const documentChanged = (
  session: Session,
  id: string,
  version: number,
  changes: readonly TextChange[],
  now: number,
): boolean => {
  const document = session.open.get(id);
  const journal = journalOf(session, id);
  if (!document || !journal) return false;
  const touched = applyChanges(document, version, changes);
  const { opening, live: before } = journal;
  // It is taken in as it will stand then.
  if (opening?.waiting.has(id)) {
    opening.words.delete(id);
    return true;
  }
  opening?.sure.clear();
  journal.live = withTexts(before, new Map([[id, document.lines.getText()]]), !opening);
  followTyping(session, journal, before, id, touched, now);
  return true;
};

/** The cursor stands on a line; in a file that is none of ours it has left. */
export const cursorMoved = (session: Session, id: string, line: number): void => {
  session.hasCursor = true;
  const { typing } = session;
  if (!typing) return;
  if (typing.file !== id) {
    settle(session);
    return;
  }
  const page = journalOf(session, id)?.live.pages.get(id);
  const document = session.open.get(id);
  if (!page || !document) return;
  const section = sectionAt(page, document.lines.offsetAt({ line, character: 0 }));
  if (section && page.page.starts.get(section) !== typing.start) settle(session);
};

/** The typing is over: what follows from it is shown everywhere. */
export const settle = (session: Session): void => {
  const { typing } = session;
  if (!typing) return;
  session.typing = undefined;
  session.stale.add(typing.file);
  catchUp(session, session.journals.get(typing.root));
};

/** All findings are to be looked at again, as after a change of settings. */
export const reviewAll = (session: Session): void => {
  for (const id of session.homes.keys()) session.stale.add(id);
  session.moved = true;
};

/** Does what is due, and says what is to be looked at. */
export const tick = (session: Session, now: number): Tick => {
  passTime(session, now);
  const files = [...session.stale].filter((id) => !isHeld(session, id));
  for (const id of files) session.stale.delete(id);
  const { moved } = session;
  session.moved = false;
  return { files, moved };
};

/** A file is not looked at while a hand is moving in it, nor before all that it rests on has been read. */
export const isHeld = (session: Session, id: string): boolean => {
  const { typing } = session;
  return (id === typing?.file && (!typing.looked || isWorkshop(id))) || !isSure(session, id);
};

/** The time of the next tick that will have something to do; none while all is still. */
export const nextDue = (session: Session, now: number): number | undefined => {
  const { typing } = session;
  if (session.moved || [...session.stale].some((id) => !isHeld(session, id))) return now;
  if (!typing) return undefined;
  const waits = [
    typing.looked ? undefined : LOOK_AFTER_MS,
    typing.paused ? undefined : PAUSE_AFTER_MS,
    typing.rested ? undefined : REST_AFTER_MS,
    typing.overAfter,
  ].filter((wait) => wait !== undefined);
  return waits.length > 0 ? Math.max(now, typing.at + Math.min(...waits)) : undefined;
};

const passTime = (session: Session, now: number): void => {
  const { typing } = session;
  if (!typing) return;
  const rest = now - typing.at;
  if (typing.overAfter !== undefined && rest >= typing.overAfter) {
    settle(session);
    return;
  }
  if (rest >= PAUSE_AFTER_MS && !typing.paused) {
    typing.paused = true;
    catchUp(session, session.journals.get(typing.root));
  }
  if (rest >= REST_AFTER_MS && !typing.rested) {
    typing.rested = true;
    session.stale.add(typing.file);
  }
  if (rest >= LOOK_AFTER_MS && !typing.looked) {
    typing.looked = true;
    session.stale.add(typing.file);
  }
};

/** Shows everywhere in a journal what the last keystroke made of it. */
const catchUp = (session: Session, journal: Journal | undefined): void => {
  if (journal) settleOn(session, journal, journal.live);
};

const settleOn = (session: Session, journal: Journal, settled: Workspace): void => {
  if (session.typing?.root === journal.root) session.stale.add(session.typing.file);
  if (journal.settled === settled) return;
  // While a journal opens its pages are looked at as they come, and what rests on the whole record is told at the end.
  const byMetals = journal.opening ? [] : touchedByMetals(journal.settled, settled);
  const touched = new Set([...touchedFiles(journal.settled, settled), ...byMetals]);
  for (const id of touched) session.stale.add(id);
  journal.settled = settled;
  // While a journal opens, most of what moves is not yet to be seen by anybody.
  session.moved ||= !journal.opening || [...touched].some((id) => session.open.has(id));
};

const followTyping = (
  session: Session,
  journal: Journal,
  before: Workspace,
  id: string,
  touched: Touched,
  now: number,
): void => {
  const where = whereTyped(journal.live, id, touched);
  const { typing } = session;
  const goesOn = typing?.file === id && typing.start === where.start && where.single && !typing.pasted;
  if (goesOn || (typing?.file === id && isWorkshop(id))) {
    Object.assign(typing, { at: now, caret: touched.caret, rested: false, looked: false, paused: false });
    return;
  }
  if (typing && typing.root !== journal.root) settle(session);
  settleOn(session, journal, before);
  session.typing = beginTyping(session, journal, before, id, touched, where, now);
};

interface WhereTyped {
  /** Where the section under the caret starts. */
  readonly start: number;
  /** Nothing outside of that section was touched. */
  readonly single: boolean;
}

const whereTyped = (live: Workspace, id: string, touched: Touched): WhereTyped => {
  const page = live.pages.get(id);
  if (!page) return { start: 0, single: true };
  const sectionOf = (offset: number) => sectionAt(page, lineStart(page.page.text, offset));
  const section = sectionOf(touched.caret);
  const single = sectionOf(touched.start) === section && sectionOf(touched.end) === section;
  return { start: (section && page.page.starts.get(section)) ?? 0, single };
};

const lineStart = (text: string, offset: number): number => {
  let start = offset;
  while (start > 0 && text[start - 1] !== '\n' && text[start - 1] !== '\r') start--;
  return start;
};

const beginTyping = (
  session: Session,
  { root }: Journal,
  before: Workspace,
  file: string,
  { caret }: Touched,
  { start, single }: WhereTyped,
  now: number,
): TypingState => {
  const page = before.pages.get(file);
  const section = page && sectionAt(page, start);
  const stood: ReadonlySet<string> = section ? standingIn(before, file, section) : new Set();
  const overAfter = overAfterMs(session, file, single);
  return {
    root,
    file,
    start,
    caret,
    stood,
    at: now,
    rested: false,
    looked: false,
    paused: false,
    overAfter,
    pasted: !single,
  };
};

/** A paste over several entries is no typing; a workshop file has no entries to leave. */
const overAfterMs = (session: Session, file: string, single: boolean): number | undefined => {
  if (!single) return LOOK_AFTER_MS;
  if (isWorkshop(file)) return PAUSE_AFTER_MS;
  return session.hasCursor ? undefined : SETTLE_AFTER_MS;
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

/** The text that counts: the open buffer's, else the disk's. */
const textOf = (session: Session, id: string): string | undefined =>
  session.open.get(id)?.lines.getText() ?? session.disk.get(id);

/** Takes texts into a journal, but for those that wait for their turn. */
const takeTexts = (session: Session, journal: Journal, changes: ReadonlyMap<string, string | undefined>): void => {
  const { opening } = journal;
  opening?.sure.clear();
  for (const id of changes.keys()) opening?.words.delete(id);
  const now = new Map([...changes].filter(([id]) => !opening?.waiting.has(id)));
  changeBoth(session, journal, (workspace) => withTexts(workspace, now, !opening));
};

const changeBoth = (session: Session, journal: Journal, change: (workspace: Workspace) => Workspace): void => {
  const wasStill = journal.settled === journal.live;
  const live = change(journal.live);
  const settled = wasStill ? live : change(journal.settled);
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
