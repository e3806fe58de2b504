/**
 * The language server as a program. `--node-ipc` when an editor of the VS Code family starts it; otherwise the protocol on standard input and
 * output. There is no other way in: no socket, no pipe.
 */
import { createConnection, IPCMessageReader, IPCMessageWriter } from 'vscode-languageserver/node';
import { serve } from './handlers';
import { nodeDisk } from './node-disk';

const connection = process.argv.includes('--node-ipc')
  ? createConnection(new IPCMessageReader(process), new IPCMessageWriter(process))
  : createConnection(process.stdin, process.stdout);

serve(connection, nodeDisk(), () => performance.now());
