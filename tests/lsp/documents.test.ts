/** Documents over the protocol: what there is of what, a preview that follows the cursor, a file to be. */
import { afterEach, describe, expect, test } from 'vitest';
import { type Client, endClients, find, open, startClient, uriOf } from '../support/client';

afterEach(endClients);

const MAY = `2026-05-04

receive A1 from high-fell
  61.37 g

cast C1
  in A1 61.37 g
  out B1 61.30 g bar
  note <b>hot</b>
`;
const JUNE = '2026-06-01\n\ncast C2\n  in B1 61.30 g\n  out B2 61.25 g bar\n';
const FILES = {
  'workshop.yaml': 'shop: { name: Tarn End }\nparties: { high-fell: customer }\n',
  'mäy.melt': MAY,
  'june.melt': JUNE,
};

interface Answer {
  readonly title?: string;
  readonly text?: string;
  readonly choice?: object;
  readonly refused?: string;
}

const started = async (): Promise<Client> => {
  const client = await startClient({ files: FILES });
  await open(client, 'june.melt', JUNE);
  return client;
};

const ask = <Result = Answer>(client: Client, method: string, sought: string, more: object = {}): Promise<Result> =>
  client.connection.sendRequest(`fineweight/${method}`, {
    textDocument: { uri: uriOf(client, 'june.melt') },
    position: find(client, 'june.melt', sought),
    ...more,
  });

describe('a document', () => {
  test('is made of what the cursor is on', async () => {
    const client = await started();
    const sheet = await ask(client, 'document', 'C2', { kind: 'melt-sheet' });
    expect(sheet).toMatchObject({ title: 'Melt sheet: cast C2', choice: { entry: 'C2' } });
    expect(await ask(client, 'document', 'B1', { kind: 'lot-history' })).toMatchObject({ choice: { lot: 'B1' } });
    expect(await ask(client, 'document', 'C2', { kind: 'day-page' })).toMatchObject({ choice: { day: '2026-06-01' } });
    expect(await ask(client, 'document', 'C2', { kind: 'toll-statement' })).toMatchObject({
      choice: { party: 'high-fell' },
    });
    expect(await ask(client, 'document', 'C2', { kind: 'metal-account' })).toMatchObject({
      choice: { from: '2026-06-01', to: '2026-06-30' },
    });
  });

  test('leads to a line of any page by a command, and nothing of the page runs', async () => {
    const client = await started();
    const { text = '' } = await ask(client, 'document', 'C2', { kind: 'melt-sheet', choice: { entry: 'C1' } });
    expect(text).toContain('&lt;b&gt;hot&lt;/b&gt;');
    expect(text).toContain("default-src 'none'");
    expect(text).not.toMatch(/<script|<b>/);
    expect(text).toContain('mäy.melt:6');
    const [, asked = ''] = /href="command:fineweight\.goTo\?([^"]+)"[^>]*>mäy\.melt:6</.exec(text) ?? [];
    expect(JSON.parse(decodeURIComponent(asked))).toEqual([
      uriOf(client, 'mäy.melt'),
      { start: { line: 5, character: 0 }, end: { line: 5, character: 0 } },
    ]);
  });

  test('follows the typing', async () => {
    const client = await started();
    const before = await ask(client, 'document', 'C2', { kind: 'melt-sheet' });
    expect(before.text).toContain('61.25 g');
    await client.connection.sendNotification('textDocument/didChange', {
      textDocument: { uri: uriOf(client, 'june.melt'), version: 2 },
      contentChanges: [{ text: JUNE.replace('61.25', '61.20') }],
    });
    const after = await ask(client, 'document', 'C2', { kind: 'melt-sheet' });
    expect(after.text).toContain('61.20 g');
  });

  test('is the file that it will be, with links from where it will lie', async () => {
    const client = await started();
    const out = uriOf(client, 'papers/sheet.md');
    const { text } = await ask(client, 'document', 'C2', {
      kind: 'melt-sheet',
      choice: { entry: 'C1' },
      format: 'md',
      out,
    });
    expect(text).toContain('# Melt sheet: cast C1');
    expect(text).toContain('](../m%C3%A4y.melt#L6)');
  });

  test('that cannot be is refused in a sentence', async () => {
    const client = await started();
    expect(await ask(client, 'document', '2026', { kind: 'melt-sheet' })).toEqual({
      refused: 'The cursor stands on nothing of which there is a melt sheet.',
    });
    expect(await ask(client, 'document', 'C2', { kind: 'lot-history', choice: { lot: 'B9' } })).toMatchObject({
      refused: expect.stringContaining('No lot B9'),
    });
    expect(await ask(client, 'document', 'C2', { kind: 'nothing' })).toEqual({
      refused: 'This is no page of a journal.',
    });
  });

  test('can be of what there is', async () => {
    const client = await started();
    const { kinds } = await ask<{ kinds: { code: string; atCursor: object | null }[] }>(client, 'documentKinds', 'C2');
    expect(kinds.find(({ code }) => code === 'melt-sheet')).toMatchObject({ atCursor: { entry: 'C2' } });
    const labels = async (kind: string): Promise<string[]> => {
      const { candidates } = await ask<{ candidates: { label: string }[] }>(client, 'documentCandidates', 'C2', {
        kind,
      });
      return candidates.map(({ label }) => label);
    };
    expect(await labels('melt-sheet')).toEqual(['cast C2', 'cast C1']);
    expect(await labels('metal-account')).toEqual(['The whole record', '2026-06', '2026-05']);
    expect(await labels('toll-statement')).toEqual(['high-fell']);
    expect(await labels('shipment')).toEqual([]);
  });
});
