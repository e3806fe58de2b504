/** The running server: its session, its client, and the one timer that tells when something is to be shown. */
import { forgetMetals } from '../engine/accounts/memo';
import { lastSeal } from '../features/sealed';
import type { Client } from './client';
import { rulePageOf } from './client';
import type { DiagnosticStyle } from './convert';
import type { Disk } from './disk';
import { type GivenHints, hintsMoved } from './given-hints';
import { isWorkedOut, type PublishedByFile, publicationOf, withRelated } from './publish';
import { createSession, type Session } from './session';
import { DEFAULT_SETTINGS, type Settings } from './settings';
import { taken } from './texts';
import { isHeld, nextDue, tick } from './tick';
import { logError, type Wire } from './wire';

export type Phase = 'new' | 'initialized' | 'shut-down';

export interface Server {
  readonly connection: Wire;
  /** Milliseconds on a clock that only goes forward. */
  readonly now: () => number;
  readonly disk: Disk;
  readonly session: Session;
  readonly published: PublishedByFile;
  readonly given: GivenHints;
  client: Client;
  settings: Settings;
  phase: Phase;
  /** Resolves when the folders have been read; nothing is shown before. */
  ready: Promise<void>;
  /** Lets the first reading begin. */
  begin: () => void;
  isReady: boolean;
  /** What was read is being taken in. */
  isOpening: boolean;
  /** Called when some more of it has been. */
  readonly waiting: Set<() => void>;
  /** The name under which that is shown to the client. */
  progressToken: string | undefined;
  /** Closed pages that were looked at since what is known of metals was last forgotten. */
  remembered: number;
  /** Files whose findings may have changed, and which have not been looked at since. */
  readonly unlooked: Set<string>;
  /** Of which a client that asks for findings has not been told. */
  newFindings: boolean;
  /** Ids by the addresses that the client has used. */
  readonly ids: Map<string, string>;
  /** Sentences on what was left out when reading. */
  readonly notes: Set<string>;
  /** Files that the editor is about to save by itself, while someone may be typing. */
  readonly savedByItself: Set<string>;
  /** Files that another program touched, to be read once it is quiet. */
  readonly touched: Set<string>;
  touchedTimer: ReturnType<typeof setTimeout> | undefined;
  timer: ReturnType<typeof setTimeout> | undefined;
  statusSent: string;
}

export const createServer = (connection: Wire, client: Client, disk: Disk, now: () => number): Server => ({
  connection,
  now,
  disk,
  session: createSession(),
  published: new Map(),
  given: new Map(),
  client,
  settings: DEFAULT_SETTINGS,
  phase: 'new',
  ready: Promise.resolve(),
  begin: () => {},
  isReady: true,
  isOpening: false,
  waiting: new Set(),
  progressToken: undefined,
  remembered: 0,
  unlooked: new Set(),
  newFindings: false,
  ids: new Map(),
  notes: new Set(),
  savedByItself: new Set(),
  touched: new Set(),
  touchedTimer: undefined,
  timer: undefined,
  statusSent: '',
});

/** Findings are looked at for so long, then others are let in. */
const LOOK_MS = 20;

/** A file's one id, however the client spells its address. */
export const fileId = (server: Server, uri: string): string => server.ids.get(uri) ?? server.disk.idOf(uri);

export const diagnosticStyle = ({ settings, client }: Server): DiagnosticStyle => ({
  severity: settings.severity,
  pageOf: (code) => rulePageOf(client, code),
  canRelate: client.relatedInformation,
});

/** Sees to it that what is due is shown when it is due. To be called after anything that changes the session. */
export const wake = (server: Server): void => {
  if (!server.isReady || server.phase !== 'initialized') return;
  clearTimeout(server.timer);
  server.timer = undefined;
  const due = server.unlooked.size > 0 ? server.now() : nextDue(server.session, server.now());
  if (due !== undefined) server.timer = setTimeout(() => show(server), Math.max(0, due - server.now()));
};

const show = (server: Server): void => {
  const started = server.now();
  let done = true;
  attempt(server, 'showing what changed', () => {
    const { files, moved } = tick(server.session, server.now());
    for (const file of withRelated(server.published, files)) server.unlooked.add(file);
    done = lookFor(server, LOOK_MS);
    refreshFindings(server);
    if (moved && server.client.refreshesHints && hintsMoved(server.given, server.session, server.settings.hints))
      refreshHints(server);
  });
  sendStatus(server, server.now() - started);
  // Whoever shows more than pages may ask again.
  if (done && server.client.wantsStatus) void server.connection.sendNotification('fineweight/changed');
  wake(server);
};

/** Looks at the files that are waiting for it, open ones first, until the time is up. False where that was in the middle of the first of them. */
const lookFor = (server: Server, milliseconds: number): boolean => {
  const end = server.now() + milliseconds;
  const isOpen = (file: string): boolean => server.session.open.has(file);
  const files = [...server.unlooked].sort((a, b) => Number(isOpen(b)) - Number(isOpen(a)));
  for (const [at, file] of files.entries()) {
    server.unlooked.delete(file);
    // One that is held is looked at when it no longer is.
    if (isHeld(server.session, file)) server.session.stale.add(file);
    else {
      attempt(server, `looking at ${file}`, () => {
        // Of a page that nobody looks at all is worked out at once: to begin again and again costs a quarter more.
        if (isWorkedOut(server.session, file, () => isOpen(file) && server.now() > end)) publish(server, file);
        else server.unlooked.add(file);
      });
      if (server.unlooked.has(file)) return at > 0;
      if (!isOpen(file)) forgetNowAndThen(server);
    }
    if (server.now() > end) break;
  }
  return true;
};

/** Of so many pages that nobody looks at, what was worked out of their metals is held at once: in a long journal it would be half the memory. */
export const MOST_REMEMBERED = 12;

const forgetNowAndThen = (server: Server): void => {
  server.remembered++;
  if (server.remembered < MOST_REMEMBERED) return;
  server.remembered = 0;
  forgetMetals();
};

/** Looks at a file. Who is sent findings is sent them; who asks for them is told that it may ask again. */
const publish = (server: Server, file: string): void =>
  attempt(server, `looking at ${file}`, () => {
    const publication = publicationOf(server.session, server.published, file, diagnosticStyle(server));
    if (!publication) return;
    if (server.client.onlyPulls) server.newFindings = true;
    else void server.connection.sendNotification('textDocument/publishDiagnostics', publication);
  });

/** What is to be said of a file at once, to who asks for it before its time has come. */
export const lookNow = (server: Server, file: string): void => {
  if (!isHeld(server.session, file)) publish(server, file);
};

const refreshFindings = (server: Server): void => {
  if (!server.newFindings || !server.client.refreshesFindings) return;
  server.newFindings = false;
  server.connection.sendRequest('workspace/diagnostic/refresh').catch(() => {
    // A client that declines asks again when it likes.
  });
};

const refreshHints = ({ connection }: Server): void => {
  connection.sendRequest('workspace/inlayHint/refresh').catch(() => {
    // A client that declines loses nothing: it asks again when it scrolls.
  });
};

/** Runs what may fail; a failure costs this one thing, is logged, and the server goes on. */
export const attempt = (server: Server, doing: string, run: () => void): void => {
  try {
    run();
  } catch (error) {
    logFailure(server, doing, error);
  }
};

export const logFailure = ({ connection }: Server, doing: string, error: unknown): void =>
  logError(
    connection,
    `Failed at ${doing}: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}`,
  );

const stateOf = (server: Server): 'reading' | 'ready' | 'stopped' => {
  if (server.session.stopped) return 'stopped';
  return server.isReady && !server.isOpening && server.unlooked.size === 0 ? 'ready' : 'reading';
};

/** Tells a client that wishes it how things stand; findings by severity, and what was left out. */
export const sendStatus = (server: Server, milliseconds: number): void => {
  if (!server.client.wantsStatus) return;
  const found = [...server.published.values()].flatMap(({ diagnostics }) => diagnostics);
  const count = (severity: number): number => found.filter((one) => one.severity === severity).length;
  const { session } = server;
  const journals = [...session.journals.values()];
  const status = {
    state: stateOf(server),
    pages: session.homes.size,
    ...(session.stopped ? { read: taken(session) } : {}),
    errors: count(1),
    warnings: count(2),
    // Of a folder with several shops, the one that is looked at cannot be known here: what holds for all of them is told.
    workshops: journals.filter(({ live }) => live.workshopFile).length,
    sealed: journals
      .map(({ live }) => lastSeal(live))
      .filter((day) => day !== undefined)
      .sort()
      .at(-1),
    notes: [...server.notes, ...[...session.failures.values()].map(({ says }) => says)],
  };
  const json = JSON.stringify(status);
  if (json === server.statusSent) return;
  server.statusSent = json;
  void server.connection.sendNotification('fineweight/status', { ...status, milliseconds: Math.round(milliseconds) });
};
