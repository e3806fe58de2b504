/** `fineweight serve --stdio`: the language server, for an editor that starts programs by name. */
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Outcome } from './check';

/** The server's own bundle, which the build puts beside this one. */
const SERVER = join(__dirname, 'lsp.js');

/** Loading the server starts it; it ends this process when its client leaves. */
export const serve = async (): Promise<Outcome> => {
  await import(pathToFileURL(SERVER).href);
  return { text: '', exit: 0 };
};
