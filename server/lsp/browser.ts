/** The language server as a worker of a browser: it speaks to the client that started it, which reads the files for it. */
import { textIn } from './checks';
import { clientDisk } from './client-disk';
import { type Documents, serve } from './handlers';
import { type WorkerScope, workerWire } from './worker-wire';

interface Worker extends WorkerScope {
  /** Runs a script, given by an address, to its end. */
  importScripts(address: string): void;
  /** What the script of documents leaves behind (server/bundle.mjs). */
  fineweightDocuments?: { readonly modules: { readonly 'server/lsp/documents.ts': Documents } };
}

const start = (worker: Worker): void => {
  const wire = workerWire(worker);
  const disk = clientDisk((wanted) => wire.sendRequest('fineweight/files', wanted));
  /** The client alone knows where the script is. */
  const fetchDocuments = async (): Promise<Documents> => {
    if (!worker.fineweightDocuments) {
      const script = await wire.sendRequest('fineweight/script', { name: 'documents' });
      if (!worker.fineweightDocuments) worker.importScripts(textIn(script, 'address'));
    }
    return worker.fineweightDocuments!.modules['server/lsp/documents.ts'];
  };
  serve(wire, disk, () => performance.now(), fetchDocuments);
};

declare const self: Worker | undefined;

// The same script is read by Node's edges for what they share with it (server/bundle.mjs): there is no worker there.
if (typeof self !== 'undefined') start(self);
