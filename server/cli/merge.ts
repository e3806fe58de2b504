/** `fineweight merge BASE OURS THEIRS`: for git to call. Writes the merged page over OURS, which is git's own temporary file. */
import { spawnSync } from 'node:child_process';
import { lstatSync, readFileSync } from 'node:fs';
import { dirname } from 'node:path';
import { isWorkshop } from '../files/names';
import { decodeUtf8 } from '../files/utf8';
import { mergePages } from '../record/merge';
import { mergeWorkshops } from '../record/merge-workshop';
import { visible } from '../text/visible';
import type { Outcome } from './check';
import { UsageError } from './options';
import { refuseToLeave, replaceFile } from './write';

export interface MergeOptions {
  readonly base: string;
  readonly ours: string;
  readonly theirs: string;
  /** The page's own name, for what is said. */
  readonly name: string | undefined;
  readonly print: boolean;
}

/** Exit code 1 where something is left to a human, as git wants it. */
export const merge = ({ base, ours, theirs, name, print }: MergeOptions): Outcome => {
  if (!print) refuseLink(ours);
  const [b, o, t] = [base, ours, theirs].map(textOf);
  const made =
    b === undefined || o === undefined || t === undefined
      ? undefined
      : (isWorkshop(name ?? ours) ? mergeWorkshops : mergePages)(b, o, t, { ours: 'ours', theirs: 'theirs' });
  if (!made) return print ? { text: '', exit: 2 } : byLines([ours, base, theirs], name ?? ours);
  if (print) return { text: made.text, exit: made.conflicts.length > 0 ? 1 : 0 };
  replaceFile(dirname(ours), ours, made.text);
  const told = made.conflicts.map((what) => `${visible(name ?? ours)}: both changed ${visible(what)}\n`);
  return { text: told.join(''), exit: made.conflicts.length > 0 ? 1 : 0 };
};

/** Git hands over its own temporary file, which is none. */
const refuseLink = (ours: string): void => {
  refuseToLeave(process.cwd(), ours);
  if (lstatSync(ours, { throwIfNoEntry: false })?.isSymbolicLink())
    throw new UsageError(`${visible(ours)} is a link. Nothing is written through it.`);
};

const textOf = (path: string): string | undefined => {
  try {
    const decoded = decodeUtf8(readFileSync(path));
    return decoded.ok ? decoded.text : undefined;
  } catch {
    throw new UsageError(`${visible(path)} cannot be read.`);
  }
};

/** What is no text, has markers already, or cannot be read, is left to git's own way. */
const byLines = (files: readonly string[], name: string): Outcome => {
  const { status } = spawnSync('git', ['merge-file', '-L', 'ours', '-L', 'base', '-L', 'theirs', ...files]);
  return { text: `${visible(name)}: merged by lines\n`, exit: status === 0 ? 0 : 1 };
};
