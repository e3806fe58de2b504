/** Reads one journal file from the disk, or says in a plain sentence why not. Never throws, never writes. */
import { readFileSync, statSync } from 'node:fs';
import { decoded, type FileFailure, type FileResult, failure, REFUSED_OVER_BYTES, tooLarge } from './decoded';
import { isJournalFile } from './names';

/** Reads a `.melt` page or a `workshop.yaml`; any other name is refused unread. */
export const readJournalFile = (path: string): FileResult => {
  if (!isJournalFile(path)) return failure(path, 'not-a-journal', 'is neither a .melt page nor a workshop.yaml');
  try {
    const status = statSync(path);
    if (status.isDirectory()) return failure(path, 'directory', 'is a folder');
    if (!status.isFile()) return failure(path, 'unreadable', 'is not a regular file');
    if (status.size > REFUSED_OVER_BYTES) return tooLarge(path, status.size);
    return decoded(path, readFileSync(path));
  } catch (error) {
    return fromSystem(path, error);
  }
};

/** A failure that the system reported, in words. */
export const fromSystem = (path: string, error: unknown): FileFailure => {
  const code = error instanceof Error && 'code' in error ? String(error.code) : 'unknown';
  if (code === 'ENOENT' || code === 'ENOTDIR') return failure(path, 'missing', 'is not there');
  if (code === 'EACCES' || code === 'EPERM') return failure(path, 'no-permission', 'may not be read: no permission');
  if (code === 'EISDIR') return failure(path, 'directory', 'is a folder');
  return failure(path, 'unreadable', `cannot be read (${code})`);
};
