/** Reads the photos and papers that a journal's entries name. */
import { createHash } from 'node:crypto';
import { join } from 'node:path';
import { readProof } from '../files/proof';
import { filesNamedIn } from '../record/files';
import { withProofs } from '../workspace/update';
import type { Workspace } from '../workspace/workspace';
import type { Opened } from './journals';

/** `sha256-` and the digest; null where there is no such file, undefined where it cannot be read. */
export type ProofReader = (root: string, path: string) => string | null | undefined;

export const digestOnDisk: ProofReader = (root, path) => {
  const proof = readProof(root, path);
  if (proof.kind === 'missing') return null;
  return proof.kind === 'bytes' ? `sha256-${createHash('sha256').update(proof.bytes).digest('hex')}` : undefined;
};

/** Of every file that is named, or of some of them alone; by path from the journal's folder. */
export const proofsOf = (
  workspace: Workspace,
  some?: ReadonlySet<string>,
  digestOf: ProofReader = digestOnDisk,
): ReadonlyMap<string, string | null> => {
  const proofs = new Map<string, string | null>();
  const entries = [...workspace.pages.values()].flatMap((page) => page.entries);
  for (const path of filesNamedIn(workspace, entries)) {
    if (some && !some.has(path)) continue;
    const digest = digestOf(workspace.root, path);
    if (digest !== undefined) proofs.set(path, digest);
  }
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
