/** Reads the folders at the start, and what changes in them later. The disk is read through `files` alone, and never written. */
import { setImmediate as pause } from 'node:timers/promises';
import { isJournalFile } from '../files/names';
import { type FileFailure, readJournalFile } from '../files/read';
import { type FoundFile, isReachable, realPathOf, walkInSteps } from '../files/walk';
import { idOfPath, isBelow, pathOf } from './address';
import { attempt, type Server, sendStatus, wake } from './server';
import { diskChanged, failuresChanged, foldersChanged } from './session';

/** Below this many files no progress is shown: it would only flash. */
const PROGRESS_FROM_FILES = 200;
/** Other messages are answered after so many files read. */
const FILES_IN_ONE_GO = 20;
/** A checkout changes hundreds of files: they are taken together once they have been quiet for so long. */
const QUIET_MS = 60;

interface Reading {
  readonly texts: Map<string, string | undefined>;
  readonly failures: Map<string, FileFailure | undefined>;
}

/** Reads whole folders and takes them into the session; until then the server is not ready. */
export const readFolders = (server: Server, folders: readonly string[], all: readonly string[]): Promise<void> => {
  server.isReady = false;
  sendStatus(server, 0);
  const before = server.ready;
  server.ready = before
    .then(() => readAll(server, folders))
    .then((reading) => {
      foldersChanged(server.session, all);
      take(server, reading);
    })
    .catch((error: unknown) => server.connection.console.error(`The folders could not be read: ${String(error)}`))
    .then(() => {
      server.isReady = true;
      wake(server);
    });
  return server.ready;
};

const readAll = async (server: Server, folders: readonly string[]): Promise<Reading> => {
  const reading: Reading = { texts: new Map(), failures: new Map() };
  const found: FoundFile[] = [];
  for (const folder of folders) found.push(...(await walkFolder(server, folder)));
  const progress =
    server.client.progress && found.length >= PROGRESS_FROM_FILES ? await beginProgress(server) : undefined;
  for (const [index, { path, realPath }] of found.entries()) {
    if (index % FILES_IN_ONE_GO === 0) {
      progress?.report(Math.round((100 * index) / found.length));
      await pause();
    }
    const id = idOfPath(path);
    server.realPaths.set(realPath, id);
    readInto(server, reading, id, path);
  }
  progress?.done();
  return reading;
};

const walkFolder = async (server: Server, folder: string): Promise<readonly FoundFile[]> => {
  const path = pathOf(folder);
  if (path === undefined) return [];
  const steps = walkInSteps(path);
  let step = steps.next();
  while (!step.done) {
    await pause();
    step = steps.next();
  }
  for (const note of step.value.notes) addNote(server, note);
  return step.value.files;
};

const beginProgress = async (server: Server) => {
  const progress = await server.connection.window.createWorkDoneProgress();
  progress.begin('Reading the journal', 0);
  return progress;
};

const readInto = (server: Server, reading: Reading, id: string, path: string): void => {
  const result = readJournalFile(path);
  reading.texts.set(id, result.ok ? result.text : undefined);
  reading.failures.set(id, result.ok || result.kind === 'missing' ? undefined : result);
  if (result.ok && result.note !== undefined) addNote(server, result.note);
};

const addNote = (server: Server, note: string): void => {
  server.notes.add(note);
  server.connection.console.warn(note);
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
  const reading: Reading = { texts: new Map(), failures: new Map() };
  for (const id of ids) {
    const path = pathOf(id);
    if (path === undefined || !server.session.folders.some((folder) => isBelow(id, folder))) continue;
    const isKnown = server.session.disk.has(id) || server.session.failures.has(id);
    if (isOurs(server, id, path)) readInto(server, reading, id, path);
    else if (isKnown) {
      reading.texts.set(id, undefined);
      reading.failures.set(id, undefined);
    }
  }
  take(server, reading);
  wake(server);
};

/** A file in reach, that is not another one of ours come upon by a second way. */
const isOurs = (server: Server, id: string, path: string): boolean => {
  const realPath = realPathOf(path);
  if (realPath === undefined) return false;
  const inReach = server.session.folders.some((folder) => isBelow(id, folder) && isReachable(pathOf(folder)!, path));
  if (!inReach) return false;
  const first = server.realPaths.get(realPath);
  if (first !== undefined && first !== id && server.session.disk.has(first) && realPathOf(pathOf(first)!) === realPath)
    return false;
  server.realPaths.set(realPath, id);
  return true;
};
