/** Reads the photos and papers that a journal's entries name. */
import { createHash } from 'node:crypto';
import { join } from 'node:path';
import { pathsBeside, readProof } from '../files/proof';
import { filesNamedIn } from '../record/files';
import { goneFiles, UNREAD } from '../record/proofs';
import { withProofs } from '../workspace/update';
import type { Workspace } from '../workspace/workspace';
import type { Opened } from './journals';

/** Photos and papers, on a disk or as they are staged. */
export interface ProofReader {
  /** `sha256-` and the digest; null where there is no such file, or `UNREAD`. */
  readonly digestOf: (root: string, path: string) => string | null;
  /** Other files in the folder of one. */
  readonly beside: (root: string, path: string) => readonly string[];
}

export const sha256Of = (bytes: Uint8Array): string => `sha256-${createHash('sha256').update(bytes).digest('hex')}`;

export const onDisk: ProofReader = {
  digestOf: (root, path) => {
    const proof = readProof(root, path);
    if (proof.kind === 'missing') return null;
    return proof.kind === 'bytes' ? sha256Of(proof.bytes) : UNREAD;
  },
  beside: pathsBeside,
};

/** Of every file that is named, or of some of them alone; by path from the journal's folder. */
export const proofsOf = (
  workspace: Workspace,
  some?: ReadonlySet<string>,
  reader: ProofReader = onDisk,
): ReadonlyMap<string, string | null> => {
  const proofs = new Map<string, string | null>();
  const entries = [...workspace.pages.values()].flatMap((page) => page.entries);
  for (const path of filesNamedIn(workspace, entries)) {
    if (some && !some.has(path)) continue;
    proofs.set(path, reader.digestOf(workspace.root, path));
  }
  for (const gone of goneFiles(withProofs(workspace, proofs)))
    for (const path of reader.beside(workspace.root, gone))
      if (!proofs.has(path)) proofs.set(path, reader.digestOf(workspace.root, path));
  return proofs;
};

/** Where they are, or should be. */
export const proofPaths = (workspace: Workspace): readonly string[] =>
  filesNamedIn(
    workspace,
    [...workspace.pages.values()].flatMap((page) => page.entries),
  ).map((path) => join(workspace.root, path));

export const withFiles = (opened: Opened): Opened => ({
  ...opened,
  journals: opened.journals.map((journal) => ({
    ...journal,
    workspace: withProofs(journal.workspace, proofsOf(journal.workspace)),
  })),
});
