/**
 * Findings for a client that asks for them. It is told what another is sent, neither sooner nor later: of the entry under its hands what was said
 * before, until a pause.
 */
import type {
  Diagnostic,
  DocumentDiagnosticReport,
  WorkspaceDiagnosticReport,
  WorkspaceDocumentDiagnosticReport,
} from 'vscode-languageserver';
import { listIn, textIn, uriIn } from './checks';
import { fileId, lookNow, type Server } from './server';
import { fieldOf } from './settings';

/** Of one file: its findings, or that they are as before. */
export const pulledOf = (server: Server, params: unknown): DocumentDiagnosticReport => {
  const id = fileId(server, uriIn(params));
  lookNow(server, id);
  const before = fieldOf(params, 'previousResultId');
  return reportOf(server.published.get(id)?.diagnostics ?? NONE, before);
};

/** Of every file of which there is something to say, and of those of which there was. */
export const pulledOfAll = (server: Server, params: unknown): WorkspaceDiagnosticReport => {
  const before = new Map(
    listIn(params, 'previousResultIds').map((one) => [textIn(one, 'uri'), textIn(one, 'value')] as const),
  );
  const items: WorkspaceDocumentDiagnosticReport[] = [];
  for (const [file, { uri, diagnostics }] of server.published) {
    const version = server.session.open.get(file)?.lines.version ?? null;
    items.push({ ...reportOf(diagnostics, before.get(uri)), uri, version });
    before.delete(uri);
  }
  for (const [uri, value] of before) items.push({ ...reportOf(NONE, value), uri, version: null });
  return { items };
};

const NONE: readonly Diagnostic[] = [];

const reportOf = (
  diagnostics: readonly Diagnostic[],
  before: unknown,
): { kind: 'unchanged'; resultId: string } | { kind: 'full'; resultId: string; items: Diagnostic[] } => {
  const resultId = diagnostics.length === 0 ? 'none' : nameOf(diagnostics);
  return resultId === before ? { kind: 'unchanged', resultId } : { kind: 'full', resultId, items: [...diagnostics] };
};

/** A list of findings is made anew when one of them changes. */
const nameOf = (diagnostics: readonly Diagnostic[]): string => {
  const known = names.get(diagnostics);
  if (known) return known;
  made += 1;
  names.set(diagnostics, `${made}`);
  return `${made}`;
};

const names = new WeakMap<readonly Diagnostic[], string>();
let made = 0;
