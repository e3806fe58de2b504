/** The extension in a browser: the language server is a worker, which reads no files; they are read here and handed to it. */
import { type ExtensionContext, FileType, Uri, workspace } from 'vscode';
import {
  BrowserMessageReader,
  BrowserMessageWriter,
  LanguageClient,
  type MessageTransports,
} from 'vscode-languageclient/browser';
import { activateWith } from './activate';
import { answerFiles, type Folders, type Wanted } from './files';

/** What of the browser is used here. */
declare class Worker {
  constructor(script: string, options: { readonly name: string });
}
declare class Blob {
  constructor(parts: readonly Uint8Array[], options: { readonly type: string });
}
declare namespace URL {
  function createObjectURL(blob: Blob): string;
}

/** The editor's own files, by address. */
const FOLDERS: Folders = {
  list: async (folder) =>
    (await workspace.fs.readDirectory(Uri.parse(folder))).map(([name, type]) => ({
      name,
      uri: Uri.joinPath(Uri.parse(folder), name).toString(),
      isFolder: (type & FileType.Directory) !== 0,
      isLink: (type & FileType.SymbolicLink) !== 0,
    })),
  read: (uri) => Promise.resolve(workspace.fs.readFile(Uri.parse(uri))),
};

export const activate = (context: ExtensionContext): void => {
  const addressOf = (script: string): Promise<string> =>
    asAddress(Uri.joinPath(context.extensionUri, 'server', 'dist', `${script}.js`));
  activateWith(context, (options) => {
    const client = new LanguageClient('fineweight', 'Fineweight', () => startWorker(addressOf), options);
    client.onRequest('fineweight/files', (wanted: Wanted) => answerFiles(FOLDERS, wanted));
    // What of the server is seldom wanted, and fetched when it is.
    client.onRequest('fineweight/script', async ({ name }: { readonly name: string }) =>
      LATER.has(name) ? { address: await addressOf(name) } : null,
    );
    return client;
  });
};

const LATER: ReadonlySet<string> = new Set(['by-hand', 'documents']);

/** Read and handed over as text: an editor lets no worker run what has an address on another machine, where the extension may have been put. */
const asAddress = async (script: Uri): Promise<string> =>
  URL.createObjectURL(new Blob([await workspace.fs.readFile(script)], { type: 'text/javascript' }));

const startWorker = async (addressOf: (script: string) => Promise<string>): Promise<MessageTransports> => {
  // The editor's own kind of worker: the library does not know it for one.
  const worker = new Worker(await addressOf('core'), { name: 'Fineweight' });
  return { reader: new BrowserMessageReader(worker), writer: new BrowserMessageWriter(worker) };
};

export { deactivate } from './activate';
