/** Photos and papers of entries: whether they are there, and whether they are what was sealed. */
import type { Entry, Named } from '../engine/entry';
import type { Workspace } from '../workspace/workspace';
import { filesNamedBy, pathFromRoot } from './files';
import { isSeal, type SealEntry, sealsOf } from './periods';
import { type FileDigest, fileAsSealed, isNamedSo, saidBy } from './seal';

/** In the place of a digest: the file is there, and cannot or may not be read. */
export const UNREAD = 'unread';

export interface FileState {
  /** Where the entry names it; `name` as written. */
  readonly named: Named;
  /** From the journal's folder. */
  readonly path: string;
  /** `sha256-` and 64 figures; null where there is no such file, or `UNREAD`. */
  readonly digest: string | null;
  /** The seal that it was put in, with the digest that it had then. */
  readonly sealed: { readonly seal: SealEntry; readonly digest: string } | undefined;
  /** Of one that is gone: the name of a file beside it that is what was sealed. */
  readonly renamed: string | undefined;
}

const NONE: readonly FileState[] = [];

/** Files of an entry that something is known of. */
export const fileStatesOf = (workspace: Workspace, entry: Entry): readonly FileState[] => {
  if (workspace.proofs.size === 0 || entry.prefix === 'plan' || isSeal(entry)) return NONE;
  return filesNamedBy(entry).flatMap(({ named, path: written }) => {
    const path = pathFromRoot(workspace, entry.anchor.file, written);
    const digest = workspace.proofs.get(path);
    if (digest === undefined) return [];
    const sealed = sealedFile(workspace, entry, path, written);
    const renamed = digest === null && sealed ? besideAs(workspace, path, sealed.digest) : undefined;
    return [{ named, path, digest, sealed, renamed }];
  });
};

/** Sealed files that are gone: what lies beside them may be what they were. */
export const goneFiles = (workspace: Workspace): readonly string[] => {
  const entries = [...workspace.pages.values()].flatMap((page) => page.entries);
  const gone = entries.flatMap((entry) => fileStatesOf(workspace, entry)).filter((one) => one.sealed && !one.digest);
  return [...new Set(gone.map(({ path }) => path))];
};

const besideAs = ({ proofs }: Workspace, path: string, wanted: string): string | undefined => {
  const folder = path.slice(0, path.lastIndexOf('/') + 1);
  const isBeside = (other: string): boolean => other.startsWith(folder) && !other.slice(folder.length).includes('/');
  const [found] = [...proofs].find(([other, digest]) => digest === wanted && isBeside(other)) ?? [];
  return found?.slice(folder.length);
};

const sealedFile = (workspace: Workspace, { date = '' }: Entry, path: string, written: string): FileState['sealed'] => {
  const seal = sealsOf(workspace).find(({ upTo }) => date <= upTo);
  if (!seal) return undefined;
  const { files } = saidBy(seal.section);
  const own = files.find((one) => one.path === path);
  const file = own ?? movedIn(workspace, seal).get(path) ?? fileAsSealed(workspace, files, path, written);
  return file && { seal, digest: file.digest };
};

type Moved = ReadonlyMap<string, FileDigest>;
const moved = new WeakMap<Workspace, Map<SealEntry, Moved>>();

/**
 * Files that are named elsewhere than they were sealed, for their pages were moved: by their names each is one that was sealed, the same one as long as
 * there is one of its digest, and no sealed file is two of them while another of its name is none.
 */
const movedIn = (workspace: Workspace, seal: SealEntry): Moved => {
  const kept = moved.get(workspace) ?? new Map<SealEntry, Moved>();
  moved.set(workspace, kept);
  const known = kept.get(seal);
  if (known) return known;
  const left = new Map(saidBy(seal.section).files.map((file) => [file.path, file]));
  const named = namedUpTo(workspace, seal).filter(({ path }) => !left.delete(path));
  const found = new Map<string, FileDigest>();
  const take = (isRight: (path: string, file: FileDigest) => boolean): void => {
    for (const { path, written } of named) {
      const file = [...left.values()].find((one) => isNamedSo(one, written) && isRight(path, one));
      if (!file || found.has(path)) continue;
      found.set(path, file);
      left.delete(file.path);
    }
  };
  take((path, { digest }) => workspace.proofs.get(path) === digest);
  // Where not all are at hand, one of the others may be the one that is left.
  if (named.every(({ path }) => workspace.proofs.has(path))) take(() => true);
  kept.set(seal, found);
  return found;
};

const namedUpTo = (workspace: Workspace, seal: SealEntry) => {
  const seals = sealsOf(workspace);
  const paths = new Map<string, string>();
  for (const [page, { entries }] of workspace.pages)
    for (const entry of entries) {
      if (entry.prefix === 'plan' || isSeal(entry) || seals.find(({ upTo }) => (entry.date ?? '') <= upTo) !== seal)
        continue;
      for (const { path } of filesNamedBy(entry)) paths.set(pathFromRoot(workspace, page, path), path);
    }
  return [...paths].map(([path, written]) => ({ path, written }));
};
