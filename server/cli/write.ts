/**
 * The one place that writes single files; `write-folder.ts` writes a new folder. A file is whole or as it was, whatever happens: the text goes to
 * a temporary file in the same folder, to the disk, and only then takes the name. A link never leads out of the folder that is worked in.
 */
import {
  closeSync,
  constants,
  fchmodSync,
  fsyncSync,
  linkSync,
  lstatSync,
  mkdirSync,
  openSync,
  realpathSync,
  renameSync,
  statSync,
  unlinkSync,
  writeSync,
} from 'node:fs';
import { basename, dirname, join, resolve, sep } from 'node:path';
import { isJournalFile } from '../files/names';
import { realPathOf } from '../files/walk';
import { visible } from '../text/visible';
import { UsageError } from './options';

/** A document as it is to be written. */
export interface Written {
  readonly path: string;
  readonly text: string;
  /** Over another document, that is: a file whose name ends so. */
  readonly ending: string;
  readonly overwrite: boolean;
  /** Photos and papers of the journal: they are proofs, and nothing is written in their place. */
  readonly proofs: readonly string[];
  /** The journal's folder: by a link on the way nothing leaves it. */
  readonly root: string;
  /** One of many into the same folder: who writes them makes their names safe at the end, by `syncFolder`. */
  readonly isOneOfMany?: boolean;
}

/** A document, where its reader wants it. Throws a UsageError where something else would be lost by it. */
export const writeNew = ({ path, text, ending, overwrite, proofs, root, isOneOfMany }: Written): void => {
  refuseToLeave(root, path);
  if (isJournalFile(path))
    throw new UsageError(`${visible(path)} is a journal's own file: a document needs another name.`);
  if (basename(path).startsWith('.'))
    throw new UsageError(`${visible(path)} is a name of settings: a document needs another name.`);
  const folder = refusing(path, () => realpathSync(dirname(path)));
  if (proofs.some((proof) => isSameFile(proof, join(folder, basename(path)))))
    throw new UsageError(`${visible(path)} is a photo or paper of the journal: a document needs another name.`);
  if (!isThere(path)) {
    writeNewFile(folder, path, text, isOneOfMany);
    return;
  }
  if (!overwrite) throw new UsageError(`${visible(path)} is there already; --overwrite writes over it.`);
  if (lstatSync(path).isSymbolicLink())
    throw new UsageError(`${visible(path)} is a link: take it out, or give the document another name.`);
  if (!path.toLowerCase().endsWith(`.${ending}`))
    throw new UsageError(
      `${visible(path)} is no .${ending} file: a document is written over another one of its form alone.`,
    );
  replaceFile(folder, path, text, isOneOfMany);
};

/** Also where only one of them is there, and where the disk takes capitals for the same. */
const isSameFile = (one: string, other: string): boolean => {
  if (one === other) return true;
  try {
    const [a, b] = [statSync(one), statSync(other)];
    return a.dev === b.dev && a.ino === b.ino;
  } catch {
    return false;
  }
};

/** `root` as above. */
export const makeFolder = (root: string, path: string): void => {
  refuseToLeave(root, join(path, 'any'));
  try {
    mkdirSync(path, { recursive: true });
  } catch (error) {
    throw new UsageError(`${visible(path)} could not be made: ${whyNot(error)}.`);
  }
};

/** A file that is not there yet. Throws UsageError where anything bears its name. */
export const writeNewFile = (root: string, path: string, text: string, isOneOfMany = false): void => {
  const folder = folderInside(root, path);
  const target = join(folder, basename(path));
  if (isThere(target)) throw new UsageError(`${basename(path)} is there already. Nothing is written over it.`);
  whole(target, (temporary) => {
    fill(temporary, text, undefined);
    // A link fails where something has come to bear the name meanwhile; a rename would write over it.
    if (!linked(temporary, target)) renameSync(temporary, target);
  });
  if (!isOneOfMany) syncFolder(folder);
};

/** A file that is there, with the same permissions. Throws UsageError where it may not be written or leads out of the root. */
export const replaceFile = (root: string, path: string, text: string, isOneOfMany = false): void => {
  const real = realInside(root, path);
  const status = statSync(real);
  if (!status.isFile()) throw new UsageError(`${basename(path)} is no file.`);
  // A rename would pass by a file's own write protection.
  closeSync(refusing(path, () => openSync(real, constants.O_WRONLY)));
  whole(real, (temporary) => {
    fill(temporary, text, status.mode & 0o7777);
    renameSync(temporary, real);
  });
  if (!isOneOfMany) syncFolder(dirname(real));
};

const whole = (target: string, write: (temporary: string) => void): void => {
  const temporary = join(dirname(target), `.${basename(target)}.${process.pid}.${Date.now().toString(36)}.tmp`);
  try {
    refusing(target, () => write(temporary));
  } finally {
    remove(temporary);
  }
};

const fill = (temporary: string, text: string, mode: number | undefined): void => {
  const file = openSync(temporary, 'wx', mode ?? 0o666);
  try {
    const bytes = Buffer.from(text, 'utf8');
    for (let at = 0; at < bytes.length; ) at += writeSync(file, bytes, at);
    // The process's own mask has no say over a file that was there.
    if (mode !== undefined) fchmodSync(file, mode);
    fsyncSync(file);
  } finally {
    closeSync(file);
  }
};

/** False where the file system knows no second name for a file. */
const linked = (temporary: string, target: string): boolean => {
  try {
    linkSync(temporary, target);
    return true;
  } catch (error) {
    if (codeOf(error) === 'EEXIST') throw error;
    if (isThere(target)) throw new UsageError(`${basename(target)} is there already. Nothing is written over it.`);
    return false;
  }
};

/** Its name is safe only once the folder is on the disk too; where that cannot be asked for, the system sees to it. */
export const syncFolder = (folder: string): void => {
  try {
    const handle = openSync(folder, constants.O_RDONLY);
    try {
      fsyncSync(handle);
    } finally {
      closeSync(handle);
    }
  } catch {
    // Windows opens no folders.
  }
};

const remove = (path: string): void => {
  try {
    unlinkSync(path);
  } catch {
    // It has its own name by now, or never was.
  }
};

const isThere = (path: string): boolean => {
  try {
    lstatSync(path);
    return true;
  } catch {
    return false;
  }
};

/**
 * Refuses a path that lies in a folder by its name, and by a link on its way elsewhere: what is asked for in a workspace goes nowhere else. A path that
 * plainly lies elsewhere is as its reader wants it.
 */
export const refuseToLeave = (root: string, path: string): void => {
  const real = realPathOf(root);
  const way = foldersAbove(resolve(path));
  const there = way.flatMap((folder) => realPathOf(folder) ?? []);
  const [nearest] = there;
  if (real !== undefined && nearest !== undefined && there.includes(real) && !isInside(real, nearest))
    throw new UsageError(
      `${visible(path)} leads out of the folder that is worked in, by a link on its way. Nothing is written there.`,
    );
};

/** The nearest first. */
const foldersAbove = (path: string): readonly string[] => {
  const folders: string[] = [];
  for (let folder = dirname(path); ; folder = dirname(folder)) {
    folders.push(folder);
    if (dirname(folder) === folder) return folders;
  }
};

const folderInside = (root: string, path: string): string => {
  const folder = refusing(path, () => realpathSync(dirname(path)));
  if (!isInside(realpathSync(root), folder)) throw leadsOut(path);
  return folder;
};

const realInside = (root: string, path: string): string => {
  const real = refusing(path, () => realpathSync(path));
  if (!isInside(realpathSync(root), dirname(real))) throw leadsOut(path);
  return real;
};

const leadsOut = (path: string): UsageError =>
  new UsageError(`${basename(path)} leads out of the folder that is worked in. Nothing is written there.`);

const isInside = (root: string, folder: string): boolean =>
  folder === root || folder.startsWith(root.endsWith(sep) ? root : `${root}${sep}`);

const WHY: Readonly<Record<string, string>> = {
  ENOENT: 'its folder is not there',
  ENOTDIR: 'its folder is not there',
  EACCES: 'no permission',
  EPERM: 'no permission',
  EROFS: 'the disk takes no writing',
  ENOSPC: 'the disk is full',
  EDQUOT: 'the disk is full',
  EISDIR: 'a folder has that name',
  EEXIST: 'it is there already',
};

const codeOf = (error: unknown): string | undefined => (error as NodeJS.ErrnoException).code;

const whyNot = (error: unknown): string => WHY[codeOf(error) ?? ''] ?? codeOf(error) ?? String(error);

/** What the system reported, as a sentence. */
const refusing = <Value>(path: string, act: () => Value): Value => {
  try {
    return act();
  } catch (error) {
    if (error instanceof UsageError) throw error;
    throw new UsageError(`${visible(path)} could not be written: ${whyNot(error)}. Nothing was changed.`);
  }
};
