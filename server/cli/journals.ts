/**
 * From the paths on the command line to journals. A journal is the folder of the nearest `workshop.yaml` above a page, with every page below
 * it that is below no nearer one; where there is none, the folder that was given, or the page's own.
 */
import { existsSync, realpathSync, statSync } from 'node:fs';
import { basename, dirname, join, relative, resolve, sep } from 'node:path';
import { isJournalFile, isPage, isWorkshop, WORKSHOP_NAME } from '../files/names';
import { fromSystem, readJournalFile } from '../files/read';
import { realPathOf, walkJournal } from '../files/walk';
import type { Finding } from '../rules/rule';
import { visible } from '../text/visible';
import { emptyWorkspace, withTexts } from '../workspace/update';
import type { Workspace } from '../workspace/workspace';
import { UsageError } from './options';

export interface OpenJournal {
  readonly workspace: Workspace;
  /** The files of it that were asked for, in order of their names. */
  readonly asked: readonly string[];
  /** What was found, where not all is looked for; by file. */
  readonly found?: ReadonlyMap<string, readonly Finding[]>;
}

export interface Opened {
  readonly journals: readonly OpenJournal[];
  /** Sentences on what could not be read: the run has failed. */
  readonly failures: readonly string[];
  /** Those of them on what the record held once and holds no more, though all was read. */
  readonly gone?: readonly string[];
  /** Sentences worth knowing that are no failure. */
  readonly notes: readonly string[];
}

/** A page whose text does not come from the disk. */
export interface GivenPage {
  readonly path: string;
  readonly text: string;
}

/** Files are known by their real path, with forward slashes. */
export const openJournals = (paths: readonly string[], given?: GivenPage): Opened => {
  const opening: Opening = { asked: new Map(), failures: [], notes: new Set() };
  for (const path of paths) askFor(opening, path);
  if (given) {
    const id = givenId(given.path);
    opening.asked.set(id, rootOf(id, dirname(id)));
  }
  const roots = new Map<string, string[]>();
  for (const [file, root] of opening.asked) roots.set(root, [...(roots.get(root) ?? []), file]);
  const journals = [...roots].map(([root, files]) => openJournal(opening, root, files.sort(), given));
  const failures = new Set(opening.failures);
  return { journals, failures: [...failures], notes: [...opening.notes].filter((note) => !failures.has(note)) };
};

interface Opening {
  /** Files that were asked for, each with its journal's root. */
  readonly asked: Map<string, string>;
  readonly failures: string[];
  readonly notes: Set<string>;
}

const idOf = (realPath: string): string => (sep === '/' ? realPath : realPath.split(sep).join('/'));

/** The name of a page that need not be there; its folder's links are resolved as far as it is. */
const givenId = (path: string): string => {
  const full = resolve(path);
  const folder = realPathOf(dirname(full)) ?? dirname(full);
  return idOf(realPathOf(full) ?? join(folder, basename(full)));
};

const askFor = (opening: Opening, path: string): void => {
  try {
    const realPath = realpathSync(path);
    if (statSync(realPath).isDirectory()) askForFolder(opening, path, realPath);
    else askForFile(opening, path, realPath);
  } catch (error) {
    const folder = dirname(path);
    opening.failures.push(visible(`${folder === '.' ? '' : join(folder, '/')}${fromSystem(path, error).says}`));
  }
};

const askForFile = (opening: Opening, path: string, realPath: string): void => {
  if (!isJournalFile(realPath)) {
    opening.failures.push(`${visible(path)} is neither a .melt page nor a workshop.yaml.`);
    return;
  }
  const id = idOf(realPath);
  opening.asked.set(id, rootOf(id, dirname(id)));
};

const askForFolder = (opening: Opening, path: string, realPath: string): void => {
  const { files, notes } = walkJournal(realPath);
  for (const note of notes) opening.failures.push(visible(note));
  const ids = files.map((file) => idOf(file.realPath));
  if (!ids.some(isPage)) {
    const what = path === '.' ? 'This folder' : visible(path);
    opening.failures.push(`${what} holds no journal: there is no .melt page in it or below it.`);
    return;
  }
  for (const id of ids) opening.asked.set(id, rootOf(id, idOf(realPath)));
};

/** The nearest folder at or above a file's that holds a workshop file; else the folder given. */
const rootOf = (id: string, otherwise: string): string => {
  for (let folder = dirname(id); ; folder = dirname(folder)) {
    if (existsSync(join(folder, WORKSHOP_NAME))) return folder;
    if (dirname(folder) === folder) return otherwise;
  }
};

/** The whole journal is read, whatever part of it was asked for: names and weights come from all its pages. */
const openJournal = (
  opening: Opening,
  root: string,
  asked: readonly string[],
  given: GivenPage | undefined,
): OpenJournal => {
  const givenFile = given && givenId(given.path);
  const texts = readTexts(opening, new Set([...membersOf(opening, root), ...asked]), givenFile);
  if (given && givenFile && asked.includes(givenFile)) texts.set(givenFile, given.text);
  return { workspace: withTexts(emptyWorkspace(root), texts), asked: asked.filter((file) => texts.has(file)) };
};

const readTexts = (opening: Opening, files: Iterable<string>, but?: string): Map<string, string> => {
  const texts = new Map<string, string>();
  for (const file of files) {
    if (file === but) continue;
    const result = readJournalFile(file);
    if (result.ok) texts.set(file, result.text);
    else opening.failures.push(visible(`${shownPath(dirname(file))}${result.says}`));
    if (result.ok && result.note !== undefined) opening.notes.add(visible(result.note));
  }
  return texts;
};

export interface Texts extends Pick<Opened, 'failures' | 'notes'> {
  readonly root: string;
  readonly texts: ReadonlyMap<string, string>;
}

/** The texts of the journal that a folder or file belongs to, unread. Throws a UsageError where there is none. */
export const openTexts = (path: string): Texts => {
  const opening: Opening = { asked: new Map(), failures: [], notes: new Set() };
  const root = rootAskedFor(opening, path);
  const texts = readTexts(opening, membersOf(opening, root));
  return { root, texts, failures: opening.failures, notes: [...opening.notes] };
};

/** Its folder alone. */
export const rootOfJournal = (path: string): string =>
  rootAskedFor({ asked: new Map(), failures: [], notes: new Set() }, path);

const rootAskedFor = (opening: Opening, path: string): string => {
  askFor(opening, path);
  const [root, second] = new Set(opening.asked.values());
  if (root === undefined || second !== undefined)
    throw new UsageError(opening.failures[0] ?? `${visible(path)} holds several journals: name one.`);
  return root;
};

const membersOf = (opening: Opening, root: string): readonly string[] => {
  if (!existsSync(root)) return [];
  const { files, notes } = walkJournal(root);
  for (const note of notes) opening.notes.add(visible(note));
  const ids = files.map((file) => idOf(file.realPath));
  return ids.filter((id) => isOwn(id, root));
};

const isOwn = (id: string, root: string): boolean =>
  isWorkshop(id) ? dirname(id) === root : rootOf(id, root) === root;

/** A folder as it goes before a file's name in a sentence: empty for the one we are in. */
const shownPath = (folder: string): string => {
  const shown = shortPath(folder);
  return shown === '' ? '' : `${shown}/`;
};

/** A path from here, where it is below; else whole. */
export const shortPath = (file: string): string => {
  const here = realPathOf(process.cwd()) ?? process.cwd();
  const path = relative(here, file);
  return path.startsWith('..') ? file : idOf(path);
};
