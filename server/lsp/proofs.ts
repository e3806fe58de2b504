/** Photos and papers that entries name: looked at once all pages are read, and again when a page is saved or a file changes. */
import { filesNamedIn } from '../record/files';
import { goneFiles } from '../record/proofs';
import { withProofs } from '../workspace/update';
import type { Workspace } from '../workspace/workspace';
import type { ProofOnDisk } from './disk';
import { logFailure, type Server, wake } from './server';
import type { Journal } from './session';

/** By journal, then by path: what was read, so that a file is read again only when it was written again. */
const read = new WeakMap<Server, Map<string, Map<string, ProofOnDisk>>>();

/** Does nothing where the disk shows no such files. */
export const lookAtProofs = (server: Server): void => {
  if (!server.disk.proof) return;
  void lookAll(server).catch((error: unknown) => logFailure(server, 'reading photos and papers', error));
};

const lookAll = async (server: Server): Promise<void> => {
  for (const journal of [...server.session.journals.values()]) if (!journal.opening) await look(server, journal);
};

const look = async (server: Server, journal: Journal): Promise<void> => {
  const entries = [...journal.live.pages.values()].flatMap((page) => page.entries);
  const paths = filesNamedIn(journal.live, entries);
  if (paths.length === 0 && journal.live.proofs.size === 0) return;
  const known = knownOf(server, journal.root);
  const proofs = new Map<string, string | null>();
  const lookAt = async (path: string): Promise<void> => {
    if (proofs.has(path)) return;
    const before = known.get(path);
    const now = server.disk.proof!(journal.root, path, before);
    if (now) known.set(path, now);
    else known.delete(path);
    if (now) proofs.set(path, now.digest);
    if (now !== before) await server.disk.pause();
  };
  for (const path of paths) await lookAt(path);
  for (const gone of goneFiles(withProofs(journal.live, proofs)))
    for (const path of server.disk.beside?.(journal.root, gone) ?? []) await lookAt(path);
  if (isSame(journal.live, proofs)) return;
  const isSettled = journal.settled === journal.live;
  journal.live = withProofs(journal.live, proofs);
  journal.settled = isSettled ? journal.live : withProofs(journal.settled, proofs);
  for (const file of journal.live.pages.keys()) server.session.stale.add(file);
  wake(server);
};

const knownOf = (server: Server, root: string): Map<string, ProofOnDisk> => {
  const journals = read.get(server) ?? new Map<string, Map<string, ProofOnDisk>>();
  read.set(server, journals);
  const known = journals.get(root) ?? new Map<string, ProofOnDisk>();
  journals.set(root, known);
  return known;
};

const isSame = ({ proofs }: Workspace, now: Workspace['proofs']): boolean =>
  proofs.size === now.size && [...now].every(([path, digest]) => proofs.get(path) === digest);
