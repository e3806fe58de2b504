/** Photos and papers that entries name, as paths from the journal's folder. */
import type { Entry, Named } from '../engine/entry';
import type { Section } from '../syntax/tree';
import type { Workspace } from '../workspace/workspace';

/** A file as an entry names it. */
export interface NamedFile {
  readonly named: Named;
  /** As written: a path below the page's own folder, with forward slashes. */
  readonly path: string;
}

/** Every photo and paper of an entry, each place once; what leads out of the page's folder is none. */
export const filesNamedBy = (entry: Entry): readonly NamedFile[] => {
  const known = named.get(entry);
  if (known) return known;
  const found = findFiles(entry);
  const made = found.length > 0 ? found : NONE;
  named.set(entry, made);
  return made;
};

const NONE: readonly NamedFile[] = [];
const named = new WeakMap<Entry, readonly NamedFile[]>();

const findFiles = (entry: Entry): readonly NamedFile[] => {
  const said = [
    entry.said,
    ...entry.flows.map((flow) => flow.said),
    ...entry.amounts.map((one) => one.said),
    ...entry.readings.map((one) => one.said),
    ...entry.others.map((one) => one.said),
  ];
  const found = new Map<number, NamedFile>();
  for (const { photos = [], papers = [] } of said) {
    for (const one of [...photos, ...papers]) {
      if (isBelow(one.name) && standsAlone(one.place)) found.set(one.place.start, { named: one, path: one.name });
    }
  }
  return [...found.values()].sort((a, b) => a.named.place.start - b.named.place.start);
};

/** Not the end of something that could not be read as a name. */
const standsAlone = ({ anchor, start }: Named['place']): boolean =>
  /[\s"]/.test((anchor as Section).text[start - 1] ?? ' ');

/** No way up, no root, no drive, no address. */
const isBelow = (path: string): boolean =>
  !path.startsWith('/') && !/[\\:]/.test(path) && !path.split('/').some((part) => part === '..' || part === '');

/** From the journal's folder: the page's own folder and the path as written. */
export const pathFromRoot = ({ root }: Pick<Workspace, 'root'>, page: string, path: string): string => {
  const folder = page.slice(0, page.lastIndexOf('/') + 1);
  return `${pathBelow(root, folder) ?? ''}${path}`;
};

/** The way from a folder to a file below it, both as ids: as one would write it. */
export const pathBelow = (folder: string, id: string): string | undefined =>
  id.startsWith(`${folder}/`) ? decoded(id.slice(folder.length + 1), folder) : undefined;

/** A root that is an address has its pages' folders in the spelling of addresses. */
const decoded = (text: string, root: string): string => {
  if (!/^[a-z][a-z0-9+.-]+:\/\//i.test(root)) return text;
  try {
    return decodeURIComponent(text);
  } catch {
    return text;
  }
};

/** Each once, in the order of their letters. */
export const filesNamedIn = (workspace: Workspace, entries: readonly Entry[]): readonly string[] =>
  [
    ...new Set(
      entries.flatMap((entry) =>
        filesNamedBy(entry).map(({ path }) => pathFromRoot(workspace, entry.anchor.file, path)),
      ),
    ),
  ].sort();
