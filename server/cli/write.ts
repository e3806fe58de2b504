/** Writing a new file: whole or not at all, and over another only where that is asked for. */
import { linkSync, mkdirSync, renameSync, unlinkSync, writeFileSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { isJournalFile } from '../files/names';
import { visible } from '../text/visible';
import { UsageError } from './options';

/** Throws a UsageError with a sentence for the reader. A page or workshop file is never written over. */
export const writeNew = (path: string, text: string, overwrite: boolean): void => {
  if (isJournalFile(path))
    throw new UsageError(`${visible(path)} is a journal's own file: a document needs another name.`);
  const draft = join(dirname(path), `.${basename(path)}.${process.pid}.part`);
  try {
    writeFileSync(draft, text, { flag: 'wx' });
    try {
      if (overwrite) renameSync(draft, path);
      else giveName(draft, path, text);
    } finally {
      remove(draft);
    }
  } catch (error) {
    if (codeOf(error) === 'EEXIST')
      throw new UsageError(`${visible(path)} is there already; --overwrite writes over it.`);
    throw new UsageError(`${visible(path)} could not be written: ${whyNot(error)}.`);
  }
};

/** Fails where the name is taken; nothing can come between looking and writing. */
const giveName = (draft: string, path: string, text: string): void => {
  try {
    linkSync(draft, path);
  } catch (error) {
    if (codeOf(error) === 'EEXIST') throw error;
    // A disk that knows no second names: written under its own at once.
    writeFileSync(path, text, { flag: 'wx' });
  }
};

const codeOf = (error: unknown): string | undefined => (error as NodeJS.ErrnoException).code;

const WHY: Readonly<Record<string, string>> = {
  ENOENT: 'its folder is not there',
  ENOTDIR: 'its folder is not there',
  EACCES: 'no permission',
  EPERM: 'no permission',
  EROFS: 'the disk takes no writing',
  ENOSPC: 'the disk is full',
  EISDIR: 'a folder has that name',
};

const whyNot = (error: unknown): string => WHY[codeOf(error) ?? ''] ?? codeOf(error) ?? String(error);

const remove = (path: string): void => {
  try {
    unlinkSync(path);
  } catch {
    // It has been renamed.
  }
};

export const makeFolder = (path: string): void => {
  try {
    mkdirSync(path, { recursive: true });
  } catch (error) {
    throw new UsageError(`${visible(path)} could not be made: ${whyNot(error)}.`);
  }
};
