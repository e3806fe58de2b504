/** A new folder of files that appears whole, or not at all: it is filled under another name beside its own. */
import {
  closeSync,
  fsyncSync,
  lstatSync,
  mkdirSync,
  openSync,
  realpathSync,
  renameSync,
  rmSync,
  writeSync,
} from 'node:fs';
import { basename, dirname, join, resolve } from 'node:path';
import { visible } from '../text/visible';
import { UsageError } from './options';

/** Takes text for the end of a file. */
export type Writer = (text: string) => void;

/** So much is gathered before it goes to the disk. */
const CHUNK = 1 << 16;

/** Throws a UsageError where something bears the name already, or where the disk refuses; nothing is left behind then. */
export const writeNewFolder = (path: string, fill: (open: (name: string) => Writer) => void): void => {
  const target = resolve(path);
  if (isThere(target)) throw new UsageError(`${visible(path)} is there already; an export goes into a new folder.`);
  const parent = refusing(path, () => realpathSync(dirname(target)));
  const draft = join(parent, `.${basename(target)}.${process.pid}.${Date.now().toString(36)}.tmp`);
  refusing(path, () => mkdirSync(draft));
  const files: OpenFile[] = [];
  try {
    fill((name) => {
      const file = refusing(path, () => new OpenFile(join(draft, name)));
      files.push(file);
      return (text) => refusing(path, () => file.write(text));
    });
    for (const file of files) refusing(path, () => file.close());
    if (isThere(target)) throw new UsageError(`${visible(path)} is there already; an export goes into a new folder.`);
    refusing(path, () => renameSync(draft, join(parent, basename(target))));
  } finally {
    for (const file of files) file.abandon();
    rmSync(draft, { recursive: true, force: true });
  }
};

class OpenFile {
  private readonly handle: number;
  private isOpen = true;
  private waiting: string[] = [];
  private length = 0;

  constructor(path: string) {
    this.handle = openSync(path, 'wx');
  }

  write(text: string): void {
    this.waiting.push(text);
    this.length += text.length;
    if (this.length >= CHUNK) this.flush();
  }

  close(): void {
    this.flush();
    fsyncSync(this.handle);
    this.isOpen = false;
    closeSync(this.handle);
  }

  /** After a failure: what is still open is let go. */
  abandon(): void {
    if (this.isOpen) closeSync(this.handle);
    this.isOpen = false;
  }

  private flush(): void {
    const bytes = Buffer.from(this.waiting.join(''), 'utf8');
    this.waiting = [];
    this.length = 0;
    for (let at = 0; at < bytes.length; ) at += writeSync(this.handle, bytes, at);
  }
}

const isThere = (path: string): boolean => {
  try {
    lstatSync(path);
    return true;
  } catch {
    return false;
  }
};

const refusing = <Result>(path: string, act: () => Result): Result => {
  try {
    return act();
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code;
    if (code === undefined) throw error;
    throw new UsageError(`${visible(path)} could not be written: ${WHY[code] ?? code}. Nothing is left of it.`);
  }
};

const WHY: Readonly<Record<string, string>> = {
  ENOENT: 'the folder above it is not there',
  ENOTDIR: 'the folder above it is no folder',
  EACCES: 'no permission',
  EPERM: 'no permission',
  EROFS: 'the disk takes no writing',
  ENOSPC: 'the disk is full',
  EDQUOT: 'the disk is full',
};
