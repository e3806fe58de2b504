/** Photos and papers of entries: whether they are there, and whether they are what was sealed. */
import type { Entry, Named } from '../engine/entry';
import type { Workspace } from '../workspace/workspace';
import { filesNamedBy, pathFromRoot } from './files';
import { isSeal, type SealEntry, sealsOf } from './periods';
import { fileAsSealed, saidBy } from './seal';

export interface FileState {
  /** Where the entry names it; `name` as written. */
  readonly named: Named;
  /** From the journal's folder. */
  readonly path: string;
  /** `sha256-` and 64 figures; null where there is no such file. */
  readonly digest: string | null;
  /** The seal that it was put in, with the digest that it had then. */
  readonly sealed: { readonly seal: SealEntry; readonly digest: string } | undefined;
}

const NONE: readonly FileState[] = [];

/** Files of an entry that something is known of. */
export const fileStatesOf = (workspace: Workspace, entry: Entry): readonly FileState[] => {
  if (workspace.proofs.size === 0 || entry.prefix === 'plan' || isSeal(entry)) return NONE;
  return filesNamedBy(entry).flatMap(({ named, path: written }) => {
    const path = pathFromRoot(workspace, entry.anchor.file, written);
    const digest = workspace.proofs.get(path);
    return digest === undefined ? [] : [{ named, path, digest, sealed: sealedFile(workspace, entry, path, written) }];
  });
};

const sealedFile = (workspace: Workspace, { date = '' }: Entry, path: string, written: string): FileState['sealed'] => {
  const seal = sealsOf(workspace).find(({ upTo }) => date <= upTo);
  const file = seal && fileAsSealed(workspace, saidBy(seal.section).files, path, written);
  return file && { seal, digest: file.digest };
};
