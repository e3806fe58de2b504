/** The disk of this machine, read through `files`. */

import { dirname } from 'node:path';
import { setImmediate } from 'node:timers/promises';
import { fileURLToPath, pathToFileURL } from 'node:url';
import type { FileResult } from '../files/decoded';
import { isPage } from '../files/names';
import { pathsBeside, readProof, stampOfProof } from '../files/proof';
import { readJournalFile } from '../files/read';
import { revisionOf } from '../files/revision';
import { isReachable, realPathOf, walkInSteps } from '../files/walk';
import { UNREAD } from '../record/proofs';
import { sha256 } from '../record/sha256';
import { isBelow } from './address';
import type { Disk, Found, IsRead } from './disk';

/** Other messages are answered after so many files read. */
const FILES_IN_ONE_GO = 20;

/** Ids by the real paths of what was read: a file reached by two ways is one. */
type RealPaths = Map<string, string>;

export const nodeDisk = (): Disk => {
  const realPaths: RealPaths = new Map();
  return {
    idOf,
    knownIdOf: (uri, isRead) => knownIdOf(realPaths, uri, isRead),
    canRead: (folder) => pathOf(folder) !== undefined,
    pause: () => setImmediate(),
    revisionOf: (folder) => {
      const path = pathOf(folder);
      return path === undefined ? undefined : revisionOf(path);
    },
    readFolder: (folder) => readFolder(realPaths, folder),
    proof,
    beside,
    readFiles: (ids, folders, isRead) => readFiles(realPaths, ids, folders, isRead),
  };
};

/** Of a journal, or of a lone page. */
const folderOf = (root: string): string | undefined => {
  const own = pathOf(root);
  return own !== undefined && isPage(own) ? dirname(own) : own;
};

const beside: NonNullable<Disk['beside']> = (root, path) => {
  const folder = folderOf(root);
  return folder === undefined ? [] : pathsBeside(folder, path);
};

const proof: NonNullable<Disk['proof']> = (root, path, known) => {
  const folder = folderOf(root);
  if (folder === undefined) return undefined;
  const stamp = stampOfProof(folder, path);
  if (stamp === undefined) return known?.digest === null ? known : { stamp: '', digest: null };
  // That it may be read again does not show in its stamp.
  if (stamp === known?.stamp && known.digest !== UNREAD) return known;
  const read = readProof(folder, path);
  return { stamp, digest: read.kind === 'bytes' ? `sha256-${sha256(read.bytes)}` : UNREAD };
};

/** What is not a file keeps its own spelling. */
const idOf = (uri: string): string => {
  const path = pathOf(uri);
  return path === undefined ? uri : idOfPath(path);
};

const idOfPath = (path: string): string => pathToFileURL(path).href;

/** The path of a file on this machine; none for an untitled page or a file that is elsewhere. */
const pathOf = (uri: string): string | undefined => {
  if (!uri.startsWith('file:')) return undefined;
  try {
    return fileURLToPath(uri);
  } catch {
    return undefined;
  }
};

const knownIdOf = (realPaths: RealPaths, uri: string, isRead: IsRead): string => {
  const id = idOf(uri);
  const path = pathOf(uri);
  if (path === undefined || isRead(id)) return id;
  const first = realPaths.get(realPathOf(path) ?? path);
  return first !== undefined && isRead(first) ? first : id;
};

const readFolder = async (realPaths: RealPaths, folder: string): Promise<Found> => {
  const files = new Map<string, FileResult>();
  const path = pathOf(folder);
  if (path === undefined) return { files, notes: [] };
  const steps = walkInSteps(path);
  let step = steps.next();
  while (!step.done) {
    await setImmediate();
    step = steps.next();
  }
  for (const [index, file] of step.value.files.entries()) {
    if (index % FILES_IN_ONE_GO === 0) await setImmediate();
    const id = idOfPath(file.path);
    realPaths.set(file.realPath, id);
    files.set(id, readJournalFile(file.path));
  }
  return { files, notes: step.value.notes };
};

const readFiles = (realPaths: RealPaths, ids: readonly string[], folders: readonly string[], isRead: IsRead): Found => {
  const files = new Map<string, FileResult | undefined>();
  for (const id of ids) {
    const path = pathOf(id);
    if (path === undefined) continue;
    files.set(id, isOurs(realPaths, id, path, folders, isRead) ? readJournalFile(path) : undefined);
  }
  return { files, notes: [] };
};

/** A file in reach, that is not another one of ours come upon by a second way. */
const isOurs = (
  realPaths: RealPaths,
  id: string,
  path: string,
  folders: readonly string[],
  isRead: IsRead,
): boolean => {
  const realPath = realPathOf(path);
  if (realPath === undefined) return false;
  const inReach = folders.some((folder) => isBelow(id, folder) && isReachable(pathOf(folder)!, path));
  if (!inReach) return false;
  const first = realPaths.get(realPath);
  if (first !== undefined && first !== id && isRead(first) && realPathOf(pathOf(first)!) === realPath) return false;
  realPaths.set(realPath, id);
  return true;
};
