/** The language server as a worker of a browser: it speaks to the client that started it, which reads the files for it. */
import { BrowserMessageReader, BrowserMessageWriter, createConnection } from 'vscode-languageserver/browser';
import { clientDisk } from './client-disk';
import { serve } from './handlers';

declare const self: ConstructorParameters<typeof BrowserMessageReader>[0];

const connection = createConnection(new BrowserMessageReader(self), new BrowserMessageWriter(self));
const disk = clientDisk((wanted) => connection.sendRequest('fineweight/files', wanted));

serve(connection, disk, () => performance.now());
