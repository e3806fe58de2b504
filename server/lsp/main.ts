/**
 * The language server as a program. `--node-ipc` when an editor of the VS Code family starts it; otherwise the protocol on standard input and
 * output. There is no other way in: no socket, no pipe.
 */
import {
  type Connection,
  createConnection,
  IPCMessageReader,
  IPCMessageWriter,
  ResponseError,
} from 'vscode-languageserver/node';
import * as byHand from './by-hand';
import * as documents from './documents';
import { serve } from './handlers';
import { nodeDisk } from './node-disk';
import { RefusedRequest, type Wire } from './wire';

const connection = process.argv.includes('--node-ipc')
  ? createConnection(new IPCMessageReader(process), new IPCMessageWriter(process))
  : createConnection(process.stdin, process.stdout);

/** The library's connection, which ends with its client; a refusal goes out as the library's own. */
const wireOf = (library: Connection): Wire => ({
  onInitialize: (answer) => library.onInitialize(answer),
  onInitialized: (hear) => library.onInitialized(hear),
  onShutdown: (answer) => library.onShutdown(answer),
  onRequest: (method, answer) =>
    library.onRequest(method, async (params: unknown, wanted) => {
      try {
        return await answer(params, wanted);
      } catch (error) {
        throw error instanceof RefusedRequest ? new ResponseError(error.code, error.message) : error;
      }
    }),
  onNotification: (method, hear) => library.onNotification(method, hear),
  sendRequest: (method, params) => library.sendRequest(method, params),
  sendNotification: (method, params) => library.sendNotification(method, params),
  listen: () => library.listen(),
});

serve(wireOf(connection), nodeDisk(), () => performance.now(), {
  byHand: async () => byHand,
  documents: async () => documents,
});
