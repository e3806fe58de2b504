/** The floor: a server that takes in every edit and answers it with no findings. What it costs, any server costs. */
import { createConnection, TextDocumentSyncKind, TextDocuments } from 'vscode-languageserver/node';
import { TextDocument } from 'vscode-languageserver-textdocument';

const connection = createConnection(process.stdin, process.stdout);
const documents = new TextDocuments(TextDocument);
connection.onInitialize(() => ({
  capabilities: { textDocumentSync: TextDocumentSyncKind.Incremental, hoverProvider: true },
}));
connection.onHover(() => null);
documents.onDidChangeContent(({ document: { uri, version } }) => {
  void connection.sendDiagnostics({ uri, version, diagnostics: [] });
});
documents.listen(connection);
connection.listen();
