/**
 * Finds a folder's journal files. Bounded whatever the disk holds: every real path is seen once, links that leave the root are not followed,
 * and depth and number have limits.
 */
import { type Dirent, readdirSync, realpathSync, statSync } from 'node:fs';
import { join, sep } from 'node:path';
import { isJournalFile } from './names';
import { fromSystem } from './read';

export const DEPTH_LIMIT = 16;
export const COUNT_LIMIT = 20_000;

export interface FoundFile {
  /** As reached from the root that was given. */
  readonly path: string;
  /** With every link resolved. */
  readonly realPath: string;
}

export interface Found {
  /** In order of their paths. */
  readonly files: readonly FoundFile[];
  /** Sentences on what was left out, and why. */
  readonly notes: readonly string[];
}

interface Walk {
  readonly realRoot: string;
  readonly seen: Set<string>;
  readonly files: FoundFile[];
  readonly notes: string[];
}

/** All `.melt` pages and `workshop.yaml` files below a folder. Never throws; folders named with a leading point and `node_modules` are passed over. */
export const walkJournal = (root: string): Found => {
  const realRoot = realPathOf(root);
  if (realRoot === undefined) return { files: [], notes: [`${root} is not there.`] };
  const walk: Walk = { realRoot, seen: new Set([realRoot]), files: [], notes: [] };
  visitFolder(walk, root, 0);
  return { files: walk.files, notes: walk.notes };
};

/** The path with every link resolved; none where nothing is. */
export const realPathOf = (path: string): string | undefined => {
  try {
    return realpathSync(path);
  } catch {
    return undefined;
  }
};

const visitFolder = (walk: Walk, folder: string, depth: number): void => {
  if (depth > DEPTH_LIMIT) {
    walk.notes.push(`${folder} is more than ${DEPTH_LIMIT} folders deep and is not read.`);
    return;
  }
  for (const item of itemsOf(walk, folder)) {
    if (walk.files.length >= COUNT_LIMIT) return;
    visitItem(walk, join(folder, item.name), item, depth);
    if (walk.files.length === COUNT_LIMIT) walk.notes.push(`Only the first ${COUNT_LIMIT} journal files are read.`);
  }
};

const itemsOf = (walk: Walk, folder: string): readonly Dirent[] => {
  try {
    return readdirSync(folder, { withFileTypes: true }).sort((a, b) => (a.name < b.name ? -1 : 1));
  } catch (error) {
    walk.notes.push(fromSystem(folder, error).says);
    return [];
  }
};

const visitItem = (walk: Walk, path: string, item: Dirent, depth: number): void => {
  const isLink = item.isSymbolicLink();
  if (isPassedOver(item.name) || (item.isFile() && !isJournalFile(item.name))) return;
  if (!isLink && !item.isFile() && !item.isDirectory()) return;
  const realPath = realPathOf(path);
  if (realPath === undefined || !isInside(walk.realRoot, realPath) || walk.seen.has(realPath)) return;
  const isFolder = isLink ? isDirectory(realPath) : item.isDirectory();
  if (!isFolder && !(isJournalFile(path) && isJournalFile(realPath))) return;
  walk.seen.add(realPath);
  if (isFolder) visitFolder(walk, path, depth + 1);
  else walk.files.push({ path, realPath });
};

const isPassedOver = (name: string): boolean => name.startsWith('.') || name === 'node_modules';

const isInside = (root: string, path: string): boolean => path.startsWith(root.endsWith(sep) ? root : `${root}${sep}`);

const isDirectory = (path: string): boolean => {
  try {
    return statSync(path).isDirectory();
  } catch {
    return false;
  }
};
