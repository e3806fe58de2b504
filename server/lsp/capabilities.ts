/** What the server announces that it can. */
import type { ServerCapabilities } from 'vscode-languageserver';
import { FIX_ALL } from './convert';
import { PositionEncodingKind, TextDocumentSyncKind } from './protocol';
import { LEGEND } from './reading-aids';

/** For a client that asks for findings and takes none unasked; to any other they are sent, as they follow from pages that it has not opened. */
export const PULLED: ServerCapabilities = {
  diagnosticProvider: { identifier: 'fineweight', interFileDependencies: true, workspaceDiagnostics: true },
};

export const CAPABILITIES: ServerCapabilities = {
  positionEncoding: PositionEncodingKind.UTF16,
  textDocumentSync: {
    openClose: true,
    change: TextDocumentSyncKind.Incremental,
    willSave: true,
    save: { includeText: false },
  },
  hoverProvider: true,
  documentSymbolProvider: true,
  inlayHintProvider: { resolveProvider: true },
  completionProvider: { triggerCharacters: [' '] },
  documentFormattingProvider: true,
  documentRangeFormattingProvider: { rangesSupport: true },
  documentOnTypeFormattingProvider: { firstTriggerCharacter: '\n' },
  semanticTokensProvider: { legend: LEGEND, full: { delta: true }, range: true },
  signatureHelpProvider: { triggerCharacters: [' '] },
  codeLensProvider: {},
  definitionProvider: true,
  referencesProvider: true,
  documentHighlightProvider: true,
  renameProvider: { prepareProvider: true },
  foldingRangeProvider: true,
  selectionRangeProvider: true,
  documentLinkProvider: {},
  workspaceSymbolProvider: true,
  callHierarchyProvider: true,
  codeActionProvider: { codeActionKinds: ['quickfix', 'refactor.extract', 'refactor.rewrite', FIX_ALL] },
  workspace: {
    workspaceFolders: { supported: true, changeNotifications: true },
    // Photos and papers have any name, and folders take them along.
    fileOperations: { willRename: { filters: [{ pattern: { glob: '**/*' } }] } },
  },
};
