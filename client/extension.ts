/** The extension where Node runs it: the language server is a process beside the editor, and reads the folders itself. */
import type { ExtensionContext } from 'vscode';
import { LanguageClient, TransportKind } from 'vscode-languageclient/node';
import { activateWith } from './activate';

export const activate = (context: ExtensionContext): void => {
  const module = context.asAbsolutePath('server/dist/lsp.js');
  activateWith(
    context,
    (options) => new LanguageClient('fineweight', 'Fineweight', { module, transport: TransportKind.ipc }, options),
  );
};

export { deactivate } from './activate';
