/** The revision of a folder under version control, as it is checked out: read from its files, nothing is run. */
import { readFileSync, statSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';

/** Undefined where the folder is under none that we know, or where its files do not read as they should. */
export const revisionOf = (folder: string): string | undefined => {
  for (let at = resolve(folder); ; at = dirname(at)) {
    const found = isThere(join(at, '.git')) ? headIn(join(at, '.git')) : undefined;
    if (found !== undefined || dirname(at) === at) return found;
  }
};

const isThere = (path: string): boolean => statSync(path, { throwIfNoEntry: false }) !== undefined;

const COMMIT = /^[0-9a-f]{40}([0-9a-f]{24})?$/;

const headIn = (path: string): string | undefined => {
  try {
    const folder = statSync(path).isDirectory() ? path : resolve(dirname(path), valueBehind('gitdir: ', read(path)));
    const head = read(join(folder, 'HEAD'));
    const commit = head.startsWith('ref: ') ? commitOf(folder, valueBehind('ref: ', head)) : head;
    return commit !== undefined && COMMIT.test(commit) ? commit : undefined;
  } catch {
    return undefined;
  }
};

const read = (path: string): string => readFileSync(path, 'utf8').trim();

const valueBehind = (key: string, text: string): string => (text.startsWith(key) ? text.slice(key.length).trim() : '');

/** A branch is a file of its own, or a line among the packed ones; of a second working folder both are where the first keeps them. */
const commitOf = (folder: string, branch: string): string | undefined => {
  if (branch.split('/').includes('..')) return undefined;
  const common = isThere(join(folder, 'commondir')) ? resolve(folder, read(join(folder, 'commondir'))) : folder;
  for (const one of new Set([folder, common])) if (isThere(join(one, branch))) return read(join(one, branch));
  const packed = isThere(join(common, 'packed-refs')) ? read(join(common, 'packed-refs')) : '';
  return packed
    .split('\n')
    .find((line) => line.endsWith(` ${branch}`))
    ?.split(' ')[0];
};
