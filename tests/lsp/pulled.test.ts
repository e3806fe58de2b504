/** A client that asks for findings, and takes none unasked. */

import { afterEach, expect, test } from 'vitest';
import type { DocumentDiagnosticReport, WorkspaceDiagnosticReport } from 'vscode-languageserver';
import { CAPABILITIES, type Client, endClients, open, startClient, type, until, uriOf } from '../support/client';
import { SLIP_PAGES } from '../support/slip-page';

afterEach(endClients);

const { publishDiagnostics: _, ...rest } = CAPABILITIES.textDocument;
const ASKING = {
  workspace: { ...CAPABILITIES.workspace, diagnostics: { refreshSupport: true } },
  textDocument: { ...rest, diagnostic: { relatedInformation: true } },
};
const FILES = { 'may.melt': SLIP_PAGES.may, 'june.melt': SLIP_PAGES.june };

const ask = (client: Client, name: string, previousResultId?: string): Promise<DocumentDiagnosticReport> =>
  client.connection.sendRequest('textDocument/diagnostic', {
    textDocument: { uri: uriOf(client, name) },
    ...(previousResultId === undefined ? {} : { previousResultId }),
  });

const codesOf = (report: DocumentDiagnosticReport): readonly unknown[] =>
  report.kind === 'full' ? report.items.map(({ code }) => code) : [report.kind];

test('is told the same as one to which they are sent, page by page and of all pages', async () => {
  const [asking, sent] = [
    await startClient({ files: FILES, capabilities: ASKING }),
    await startClient({ files: FILES, capabilities: CAPABILITIES }),
  ];
  for (const client of [asking, sent]) await open(client, 'june.melt', FILES['june.melt']);
  await until('findings', () => sent.published.some(({ diagnostics }) => diagnostics.length > 0));
  const told = await ask(asking, 'june.melt');
  const last = sent.published.findLast(({ uri }) => uri === uriOf(sent, 'june.melt'))!;
  expect(last.diagnostics.length).toBeGreaterThan(0);
  expect(codesOf(told)).toEqual(last.diagnostics.map(({ code }) => code));
  expect(asking.published).toEqual([]);
  expect(sent.initialized.capabilities.diagnosticProvider).toBeUndefined();
  const all = await asking.connection.sendRequest<WorkspaceDiagnosticReport>('workspace/diagnostic', {
    previousResultIds: [{ uri: 'file:///gone.melt', value: '1' }],
  });
  const june = all.items.find(({ uri }) => uri === uriOf(asking, 'june.melt'))!;
  expect(codesOf(june)).toEqual(codesOf(told));
  expect(all.items.find(({ uri }) => uri === 'file:///gone.melt')).toMatchObject({ kind: 'full', items: [] });
});

test('is told that nothing has changed, and asked to ask again when something has', async () => {
  const client = await startClient({ files: FILES, capabilities: ASKING });
  await open(client, 'june.melt', FILES['june.melt']);
  const first = await ask(client, 'june.melt');
  expect(first.kind).toBe('full');
  expect((await ask(client, 'june.melt', first.resultId!)).kind).toBe('unchanged');
  const refreshes = (): number => client.asked.get('workspace/diagnostic/refresh')?.length ?? 0;
  const before = refreshes();
  const [line] = FILES['june.melt'].split('\n').filter((one) => / \d+\.\d\d g /.test(one));
  const weight = / \d+\.\d\d g/.exec(line!)![0];
  await type(client, 'june.melt', weight, ' ~');
  await until('a request to ask again', () => refreshes() > before);
  expect((await ask(client, 'june.melt', first.resultId!)).kind).toBe('full');
});
