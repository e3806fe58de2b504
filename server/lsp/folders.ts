/** Reads the folders at the start, and what changes in them later. */
import type { FileFailure, FileResult } from '../files/decoded';
import { isJournalFile } from '../files/names';
import { isBelow } from './address';
import type { Found } from './disk';
import { attempt, logFailure, type Server, sendStatus, wake } from './server';
import { takeIn } from './taking-in';
import { diskChanged, failuresChanged, foldersChanged, textsFound } from './texts';
import { logError, logWarning } from './wire';

/** A checkout changes hundreds of files: they are taken together once they have been quiet for so long. */
const QUIET_MS = 60;

interface Reading {
  readonly texts: Map<string, string | undefined>;
  readonly failures: Map<string, FileFailure | undefined>;
}

/** Reads whole folders; until then the server is not ready. What was read is then taken in, bit by bit. */
export const readFolders = (server: Server, folders: readonly string[], all: readonly string[]): Promise<void> => {
  server.isReady = false;
  server.session.reading = true;
  server.session.stopped = false;
  sendStatus(server, 0);
  const before = server.ready;
  server.ready = before
    .then(() => readAll(server, folders))
    .then(({ texts, failures }) => {
      foldersChanged(server.session, all);
      failuresChanged(server.session, failures);
      textsFound(server.session, texts);
    })
    .catch((error: unknown) => logError(server.connection, `The folders could not be read: ${String(error)}`))
    .then(() => {
      server.isReady = true;
      server.session.reading = false;
      wake(server);
      void takeIn(server);
    });
  return server.ready;
};

const readAll = async (server: Server, folders: readonly string[]) => {
  const reading = { texts: new Map<string, string>(), failures: new Map<string, FileFailure | undefined>() };
  for (const folder of folders) {
    const { files, notes } = await server.disk.readFolder(folder);
    for (const note of notes) addNote(server, note);
    for (const [id, result] of files) {
      if (result?.ok) reading.texts.set(id, result.text);
      noteReading(server, reading, id, result);
    }
  }
  return reading;
};

const noteReading = (
  server: Server,
  { failures }: Pick<Reading, 'failures'>,
  id: string,
  result: FileResult | undefined,
): void => {
  failures.set(id, !result || result.ok || result.kind === 'missing' ? undefined : result);
  if (result?.ok && result.note !== undefined) addNote(server, result.note);
};

const addNote = (server: Server, note: string): void => {
  server.notes.add(note);
  logWarning(server.connection, note);
};

const take = (server: Server, { texts, failures }: Reading): void => {
  failuresChanged(server.session, failures);
  diskChanged(server.session, texts);
};

/** Folders have gone: what was read from them alone goes too. */
export const dropFolders = (server: Server, all: readonly string[]): void => {
  const gone = [...server.session.disk.keys(), ...server.session.failures.keys()].filter(
    (id) => !all.some((folder) => isBelow(id, folder)),
  );
  foldersChanged(server.session, all);
  take(server, {
    texts: new Map(gone.map((id) => [id, undefined])),
    failures: new Map(gone.map((id) => [id, undefined])),
  });
};

/** Reads one file of the folders again. */
export const readAgain = (server: Server, id: string): void => rereadNow(server, [id]);

/** Files that another program changed, made or removed; ids of removed folders count for all below them. */
export const filesTouched = (server: Server, ids: readonly string[]): void => {
  for (const id of ids) {
    if (isJournalFile(id)) server.touched.add(id);
    for (const known of server.session.disk.keys()) if (isBelow(known, id)) server.touched.add(known);
  }
  if (server.touched.size === 0) return;
  clearTimeout(server.touchedTimer);
  server.touchedTimer = setTimeout(() => {
    const now = [...server.touched];
    server.touched.clear();
    attempt(server, 'reading changed files', () => rereadNow(server, now));
  }, QUIET_MS);
};

const rereadNow = (server: Server, ids: readonly string[]): void => {
  const { session, disk } = server;
  const inside = ids.filter((id) => session.folders.some((folder) => isBelow(id, folder)));
  const found = disk.readFiles(inside, session.folders, (id) => session.disk.has(id));
  if ('files' in found) takeFound(server, found);
  else
    found.then(
      (later) => attempt(server, 'taking in changed files', () => takeFound(server, later)),
      (error: unknown) => logFailure(server, 'reading changed files', error),
    );
};

const takeFound = (server: Server, { files }: Found): void => {
  const { session } = server;
  const reading: Reading = { texts: new Map(), failures: new Map() };
  for (const [id, result] of files) {
    if (!result && !session.disk.has(id) && !session.failures.has(id)) continue;
    reading.texts.set(id, result?.ok ? result.text : undefined);
    noteReading(server, reading, id, result);
  }
  take(server, reading);
  wake(server);
  void takeIn(server);
};
