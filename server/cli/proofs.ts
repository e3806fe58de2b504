/** Reads the photos and papers that a journal's entries name. */
import { createHash } from 'node:crypto';
import { readProof } from '../files/proof';
import { filesNamedIn } from '../record/files';
import { withProofs } from '../workspace/update';
import type { Workspace } from '../workspace/workspace';
import type { Opened } from './journals';

/** Of every file that is named, or of some of them alone; by path from the journal's folder. */
export const proofsOf = (workspace: Workspace, some?: ReadonlySet<string>): ReadonlyMap<string, string | null> => {
  const proofs = new Map<string, string | null>();
  const entries = [...workspace.pages.values()].flatMap((page) => page.entries);
  for (const path of filesNamedIn(workspace, entries)) {
    if (some && !some.has(path)) continue;
    const proof = readProof(workspace.root, path);
    if (proof.kind === 'missing') proofs.set(path, null);
    if (proof.kind === 'bytes') proofs.set(path, `sha256-${createHash('sha256').update(proof.bytes).digest('hex')}`);
  }
  return proofs;
};

export const withFiles = (opened: Opened): Opened => ({
  ...opened,
  journals: opened.journals.map((journal) => ({
    ...journal,
    workspace: withProofs(journal.workspace, proofsOf(journal.workspace)),
  })),
});
