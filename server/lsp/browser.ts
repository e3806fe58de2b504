/** The language server as a worker of a browser: it speaks to the client that started it, which reads the files for it. */
import { textIn } from './checks';
import { clientDisk } from './client-disk';
import { type Later, serve } from './handlers';
import { type WorkerScope, workerWire } from './worker-wire';

interface Worker extends WorkerScope {
  /** Runs a script, given by an address, to its end. */
  importScripts(address: string): void;
  /** What scripts that are fetched later leave behind (server/bundle.mjs). */
  fineweightByHand?: { readonly modules: { readonly 'server/lsp/by-hand.ts': Given<'byHand'> } };
  fineweightDocuments?: { readonly modules: { readonly 'server/lsp/documents.ts': Given<'documents'> } };
}

type Given<Name extends keyof Later> = Awaited<ReturnType<Later[Name]>>;

const start = (worker: Worker): void => {
  const wire = workerWire(worker);
  const disk = clientDisk((wanted) => wire.sendRequest('fineweight/files', wanted));
  /** The client alone knows where a script is. */
  const run = async (name: string, isThere: () => boolean): Promise<void> => {
    if (isThere()) return;
    const script = await wire.sendRequest('fineweight/script', { name });
    if (!isThere()) worker.importScripts(textIn(script, 'address'));
  };
  serve(wire, disk, () => performance.now(), {
    byHand: async () => {
      await run('by-hand', () => worker.fineweightByHand !== undefined);
      return worker.fineweightByHand!.modules['server/lsp/by-hand.ts'];
    },
    documents: async () => {
      await run('documents', () => worker.fineweightDocuments !== undefined);
      return worker.fineweightDocuments!.modules['server/lsp/documents.ts'];
    },
  });
};

declare const self: Worker | undefined;

// The same script is read by Node's edges for what they share with it (server/bundle.mjs): there is no worker there.
if (typeof self !== 'undefined') start(self);
