/**
 * What the server knows: the folders, the texts, the journals made of them, and who types where. It reads no disk and no clock: texts and times
 * (milliseconds, on any clock that only goes forward) are handed in, by `texts.ts` and `typing.ts`; `tick.ts` says what is to
 * be shown and when to ask again.
 */
import type { FileFailure } from '../files/decoded';
import type { Workspace } from '../workspace/workspace';
import type { OpenDocument } from './document';
import type { Opening } from './opening';
import type { Typing, View } from './stillness';

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

export interface TypingState extends Typing {
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
  /** Of what waits only that is taken in on which open pages rest. */
  stopped: boolean;
  /** Files whose findings are to be looked at again. */
  readonly stale: Set<string>;
  /** Findings are wanted when a page is saved, not as it is typed. */
  checksOnSave: boolean;
  /** Open files that were typed in since they were saved. */
  readonly unsaved: Set<string>;
  /** Results of entries elsewhere may have changed since the last tick. */
  moved: boolean;
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
  stopped: false,
  stale: new Set(),
  checksOnSave: false,
  unsaved: new Set(),
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

/** The text that counts: the open buffer's, else the disk's. */
export const textOf = (session: Session, id: string): string | undefined =>
  session.open.get(id)?.lines.getText() ?? session.disk.get(id);
