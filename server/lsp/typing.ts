/** Keystrokes: the journal as the last one leaves it, and what of it may be shown elsewhere. */
import { isWorkshop } from '../files/names';
import { touchedByRecord } from '../record/touched';
import { touchedByMetals } from '../workspace/touched';
import { withTexts } from '../workspace/update';
import { touchedFiles, type Workspace } from '../workspace/workspace';
import { applyChanges, type TextChange, type Touched } from './document';
import {
  type Journal,
  journalOf,
  LOOK_AFTER_MS,
  PAUSE_AFTER_MS,
  SETTLE_AFTER_MS,
  type Session,
  type TypingState,
} from './session';
import { sectionAt, standingIn } from './stillness';

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
  session.unsaved.add(id);
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

/** Shows everywhere in a journal what the last keystroke made of it. */
export const catchUp = (session: Session, journal: Journal | undefined): void => {
  if (journal) settleOn(session, journal, journal.live);
};

export const settleOn = (session: Session, journal: Journal, settled: Workspace): void => {
  if (session.typing?.root === journal.root) session.stale.add(session.typing.file);
  if (journal.settled === settled) return;
  // While a journal opens its pages are looked at as they come, and what rests on the whole record is told at the end.
  const byMetals = journal.opening ? [] : touchedByMetals(journal.settled, settled);
  const bySeals = journal.opening ? [] : touchedByRecord(journal.settled, settled);
  const touched = new Set([...touchedFiles(journal.settled, settled), ...byMetals, ...bySeals]);
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
  const stood: ReadonlySet<string> = section ? standingIn(before, page, section) : new Set();
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
