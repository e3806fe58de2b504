/**
 * A disk that only the client can read, as where the server runs in a browser: it is asked for files with `fineweight/files`. What it answers is
 * read with the same care as a file of this machine: its bytes must be UTF-8, and its size is bounded.
 */
import { decoded, type FileResult, failure, REFUSED_OVER_BYTES, tooLarge } from '../files/decoded';
import { isJournalFile } from '../files/names';
import { listIn, textIn } from './checks';
import type { Disk, Found } from './disk';
import { fieldOf } from './settings';

/** `below`: all pages and workshop files below a folder. `files`: these alone, those that are not there left out. */
export type Wanted = { readonly below: string } | { readonly files: readonly string[] };

/**
 * Makes a disk of a client that answers `{ files: { uri, bytes: Uint8Array }[], notes: string[] }`; a file that it cannot read bears `failed`, a
 * word on why, instead of its bytes.
 */
export const clientDisk = (ask: (wanted: Wanted) => Promise<unknown>): Disk => {
  // One after the other: an older text must not come in behind a newer one.
  let last: Promise<unknown> = Promise.resolve();
  const inTurn = (wanted: Wanted): Promise<Found> => {
    const answer = last.then(() => ask(wanted)).then(foundIn);
    last = answer.catch(() => undefined);
    return answer;
  };
  return {
    idOf: (uri) => uri,
    knownIdOf: (uri) => uri,
    canRead: () => true,
    pause: () => new Promise((resume) => setTimeout(resume, 0)),
    readFolder: (below) => inTurn({ below }),
    readFiles: async (ids) => {
      const wanted = ids.filter(isJournalFile);
      if (wanted.length === 0) return { files: new Map(), notes: [] };
      const { files, notes } = await inTurn({ files: wanted });
      return { files: new Map(wanted.map((id) => [id, files.get(id)])), notes };
    },
  };
};

const foundIn = (answer: unknown): Found => {
  const files = new Map<string, FileResult>();
  for (const file of listIn(answer, 'files')) {
    const uri = textIn(file, 'uri');
    if (isJournalFile(uri)) files.set(uri, resultOf(uri, fieldOf(file, 'bytes'), fieldOf(file, 'failed')));
  }
  return { files, notes: listIn(answer, 'notes').filter((note) => typeof note === 'string') };
};

const resultOf = (uri: string, bytes: unknown, failed: unknown): FileResult => {
  if (!(bytes instanceof Uint8Array)) {
    return failure(uri, 'unreadable', `cannot be read (${typeof failed === 'string' ? failed : 'unknown'})`);
  }
  return bytes.length > REFUSED_OVER_BYTES ? tooLarge(uri, bytes.length) : decoded(uri, bytes);
};
