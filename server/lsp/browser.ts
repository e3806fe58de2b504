/** The language server as a worker of a browser: it speaks to the client that started it, which reads the files for it. */
import { BrowserMessageReader, BrowserMessageWriter, createConnection } from 'vscode-languageserver/browser';
import { clientDisk } from './client-disk';
import { serve } from './handlers';

type Worker = ConstructorParameters<typeof BrowserMessageReader>[0];

const start = (worker: Worker): void => {
  const connection = createConnection(new BrowserMessageReader(worker), new BrowserMessageWriter(worker));
  const disk = clientDisk((wanted) => connection.sendRequest('fineweight/files', wanted));
  serve(connection, disk, () => performance.now());
};

declare const self: Worker | undefined;

// The same script is read by Node's edges for what they share with it (server/bundle.mjs): there is no worker there.
if (typeof self !== 'undefined') start(self);
