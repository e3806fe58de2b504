/**
 * Finds a folder's journal files. Bounded whatever the disk holds: every real path is seen once, links that leave the root are not followed,
 * and depth and number have limits.
 */
import { type Dirent, readdirSync, realpathSync, statSync } from 'node:fs';
import { join, relative, sep } from 'node:path';
import { isJournalFile } from './names';
import { fromSystem } from './read';

export const DEPTH_LIMIT = 16;
export const COUNT_LIMIT = 20_000;
/** Items of folders looked at, whatever they are. */
export const LOOK_LIMIT = 1_000_000;

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
  looked: number;
}

/** All `.melt` pages and `workshop.yaml` files below a folder. Never throws; folders named with a leading point and `node_modules` are passed over. */
export const walkJournal = (root: string): Found => {
  const steps = walkInSteps(root);
  let step = steps.next();
  while (!step.done) step = steps.next();
  return step.value;
};

/** The same, a folder at a time: a server can answer others between two steps. */
export function* walkInSteps(root: string): Generator<void, Found> {
  const realRoot = realPathOf(root);
  if (realRoot === undefined) return { files: [], notes: [`${root} is not there.`] };
  const walk: Walk = { realRoot, seen: new Set([realRoot]), files: [], notes: [], looked: 0 };
  yield* visitFolder(walk, root, 0);
  return { files: walk.files, notes: walk.notes };
}

/** Whether a walk from the root would come upon this path: no folder on the way is passed over, and no link leaves the root. */
export const isReachable = (root: string, path: string): boolean => {
  const [realRoot, realPath] = [realPathOf(root), realPathOf(path)];
  if (realRoot === undefined || realPath === undefined || !isInside(realRoot, realPath)) return false;
  const steps = relative(root, path).split(sep);
  return steps.length <= DEPTH_LIMIT + 1 && !steps.some(isPassedOver);
};

/** The path with every link resolved; none where nothing is. */
export const realPathOf = (path: string): string | undefined => {
  try {
    return realpathSync(path);
  } catch {
    return undefined;
  }
};

function* visitFolder(walk: Walk, folder: string, depth: number): Generator<void> {
  if (depth > DEPTH_LIMIT) {
    walk.notes.push(`${folder} is more than ${DEPTH_LIMIT} folders deep and is not read.`);
    return;
  }
  for (const item of itemsOf(walk, folder)) {
    if (walk.looked++ >= LOOK_LIMIT || walk.files.length >= COUNT_LIMIT) return noteLimit(walk);
    const path = join(folder, item.name);
    const kind = kindOf(walk, path, item);
    if (kind === 'file') walk.files.push({ path, realPath: realPathOf(path) ?? path });
    if (kind === 'folder') yield* visitFolder(walk, path, depth + 1);
  }
  yield;
}

const noteLimit = (walk: Walk): void => {
  const note = `Only the first ${walk.files.length} journal files are read: the folder holds too much. Open the journal's own folder.`;
  if (!walk.notes.includes(note)) walk.notes.push(note);
};

const itemsOf = (walk: Walk, folder: string): readonly Dirent[] => {
  try {
    return readdirSync(folder, { withFileTypes: true }).sort((a, b) => (a.name < b.name ? -1 : 1));
  } catch (error) {
    walk.notes.push(fromSystem(folder, error).says);
    return [];
  }
};

/** What an item is to a walk that has not yet come upon it; marks it as come upon. */
const kindOf = (walk: Walk, path: string, item: Dirent): 'file' | 'folder' | undefined => {
  const isLink = item.isSymbolicLink();
  if (isPassedOver(item.name) || (item.isFile() && !isJournalFile(item.name))) return undefined;
  if (!isLink && !item.isFile() && !item.isDirectory()) return unread(walk, path, 'is no regular file');
  const realPath = realPathOf(path);
  if (realPath === undefined) return unread(walk, path, 'is a link to nothing');
  if (!isInside(walk.realRoot, realPath)) return unread(walk, path, 'is a link that leads out of the folder');
  if (walk.seen.has(realPath)) return undefined;
  const isFolder = isLink ? isDirectory(realPath) : item.isDirectory();
  if (!isFolder && !isJournalFile(path)) return undefined;
  if (!isFolder && !isJournalFile(realPath))
    return unread(walk, path, 'is a link to what is no page and no workshop file');
  walk.seen.add(realPath);
  return isFolder ? 'folder' : 'file';
};

/** What is named as a page or a workshop file is missed in silence by nobody. */
const unread = (walk: Walk, path: string, why: string): undefined => {
  if (isJournalFile(path)) walk.notes.push(`${path} ${why} and is not read.`);
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
