/** The extension in a browser: the language server is a worker, which reads no files; they are read here and handed to it. */
import { type ExtensionContext, FileType, Uri, workspace } from 'vscode';
import { LanguageClient } from 'vscode-languageclient/browser';
import { activateWith } from './activate';
import { answerFiles, type Folders, type Wanted } from './files';

/** What of the browser is used here. */
declare class Worker {
  constructor(script: string, options: { readonly name: string });
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

export const activate = (context: ExtensionContext): Promise<void> => {
  const script = Uri.joinPath(context.extensionUri, 'server', 'dist', 'core.js').toString(true);
  return activateWith(context, (options) => {
    const client = new LanguageClient(
      'fineweight',
      'Fineweight',
      async () => new Worker(script, { name: 'Fineweight' }),
      options,
    );
    client.onRequest('fineweight/files', (wanted: Wanted) => answerFiles(FOLDERS, wanted));
    return client;
  });
};

export { deactivate } from './activate';
