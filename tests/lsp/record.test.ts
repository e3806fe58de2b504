/** The record over the protocol: seals checked as one types, photos looked at, a seal and a comparison asked for. The server writes nothing. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, describe, expect, test } from 'vitest';
import type { CodeAction, WorkspaceEdit } from 'vscode-languageserver';
import { draftOf } from '../../server/record/draft';
import { codes, edit, endClients, find, open, shown, startClient, until, uriOf } from '../support/client';
import { workspaceOf } from '../support/workspace';

afterEach(endClients);

const MAY = '2026-05-04\n\nreceive A1 61.37 g\n  photo a1.jpg\n\ncast C1\n  in A1 61.37 g\n  out B1 61.30 g bar\n';

interface Drafted {
  readonly name: string;
  readonly text: string;
  readonly refused?: string;
}

/** The digest of a seal over one page, and its marks. */
const sealOf = (page: string): { digest: string; marks: string } => {
  const draft = draftOf(workspaceOf({ 'may.melt': page }), '2026-05-31');
  if (draft.kind !== 'ready') throw new Error(draft.kind);
  const [, marks = ''] = /marks 2026-05-04 (.*)/.exec(draft.lines.join('\n')) ?? [];
  return { digest: draft.digest.slice('s1-'.length), marks };
};

const changed = (client: Awaited<ReturnType<typeof startClient>>, name: string): Promise<void> =>
  client.connection.sendNotification('workspace/didChangeWatchedFiles', {
    changes: [{ uri: uriOf(client, name), type: 1 }],
  });

describe('a seal', () => {
  test('is drafted when asked for, and holds until what it closes is typed in', async () => {
    const client = await startClient({ files: { 'may.melt': MAY } });
    await open(client, 'may.melt', MAY);
    await until('the photo is missed', () => codes(client, 'may.melt')?.includes('file-missing') ?? false);
    const asked = { textDocument: { uri: uriOf(client, 'may.melt') }, date: '2026-05-31' };
    const refused = await client.connection.sendRequest<Drafted>('fineweight/seal', asked);
    expect(refused.refused).toBe(
      'a1.jpg cannot be read, and so not be sealed. Save the page, and put the file beside it.',
    );
    writeFileSync(join(client.root, 'a1.jpg'), 'a picture');
    await changed(client, 'a1.jpg');
    await until('the photo is seen', () => codes(client, 'may.melt')?.length === 0);
    const draft = await client.connection.sendRequest<Drafted>('fineweight/seal', asked);
    expect(draft).toMatchObject({
      name: 'seal-2026-05-31.melt',
      text: expect.stringMatching(/digest s1-[0-9a-f]{64}\n/),
    });
    writeFileSync(join(client.root, draft.name), draft.text);
    await changed(client, draft.name);
    const isSealed = async (): Promise<boolean> =>
      (await client.connection.sendRequest<Drafted>('fineweight/seal', asked)).refused ===
      'The record is sealed up to 2026-05-31 already.';
    while (!(await isSealed())) await new Promise((later) => setTimeout(later, 50));
    const write = (from: string, to: string): Promise<void> => {
      const start = find(client, 'may.melt', from);
      return edit(client, 'may.melt', start, { ...start, character: start.character + from.length }, to);
    };
    await write('61.30 g', '61.20 g');
    await until('the break is told', () => codes(client, 'may.melt')?.includes('seal-broken') ?? false);
    await write('61.20 g', '61.30 g');
    await until('it holds again', () => codes(client, 'may.melt')?.length === 0);
    writeFileSync(join(client.root, 'a1.jpg'), 'another picture');
    await changed(client, 'a1.jpg');
    await until('the other photo is told', () => codes(client, 'may.melt')?.includes('file-changed') ?? false);
  });
});

describe('a seal that git knows and that is gone', () => {
  const page = '2026-05-04\n\nreceive A1 61.37 g\n';
  const { digest, marks } = sealOf(page);
  const seal = `2026-05-31\n\nseal 2026-05-31 digest s1-${digest}\n  marks 2026-05-04 ${marks}\n`;

  test('is not made anew in silence, nor is one up to a later day', async () => {
    const client = await startClient({ files: { 'may.melt': page } });
    await open(client, 'may.melt', page);
    const ask = async (date: string, former: readonly object[]): Promise<Drafted> => {
      const textDocument = { uri: uriOf(client, 'may.melt') };
      return client.connection.sendRequest<Drafted>('fineweight/seal', { textDocument, date, former });
    };
    const uri = uriOf(client, 'seal-2026-05-31.melt');
    for (const date of ['2026-05-15', '2026-05-31', '2026-06-30'])
      expect((await ask(date, [{ uri, text: seal }])).refused).toBe(
        `The record was sealed up to 2026-05-31 once, as git has it. Put that seal back; or, where two hands sealed apart, seal anew in a terminal and say so: fineweight seal ${date > '2026-05-31' ? date : '2026-05-31'} --because "two hands sealed apart".`,
      );
    // One of another folder, none at all, and what is no seal stand in nobody's way.
    expect((await ask('2026-05-31', [{ uri: 'file:///elsewhere/seal.melt', text: seal }])).refused).toBeUndefined();
    expect((await ask('2026-05-31', [{ uri, text: page }])).refused).toBeUndefined();
    // Nor one that stands, or that was openly made anew.
    const anew = seal.replace('\n  marks', `\n  because lost\n  replaces s1-${'0'.repeat(64)}\n  marks`);
    writeFileSync(join(client.root, 'seal-2026-05-31.melt'), anew);
    await changed(client, 'seal-2026-05-31.melt');
    const old = seal.replace(digest, '0'.repeat(64));
    await until('the seal is read', () => codes(client, 'seal-2026-05-31.melt') !== undefined);
    expect(
      (
        await ask('2026-06-30', [
          { uri, text: anew },
          { uri, text: old },
        ])
      ).refused,
    ).not.toContain('once');
  });
});

describe('a broken seal', () => {
  test('names what changed once the client has handed over what was sealed', async () => {
    const sealed = '2026-05-04\n\nreceive A1 61.37 g from beck-side\nreceive A2 20.00 g\n';
    const seal = '2026-05-31\n\nseal 2026-05-31 digest s1-DIGEST\n  marks 2026-05-04 MARKS\n';
    const { digest, marks } = sealOf(sealed);
    const page = sealed.replace('beck-side', 'becks');
    const files = { 'may.melt': page, 'seal.melt': seal.replace('DIGEST', digest).replace('MARKS', marks) };
    const client = await startClient({ files });
    await open(client, 'may.melt', page);
    const says = (): string =>
      shown(client, 'may.melt')
        ?.map(({ message }) => message)
        .join() ?? '';
    await until('the break is told', () => says().includes('This is not what was sealed'));
    expect(says()).not.toContain('beck-side');
    const textDocument = { uri: uriOf(client, 'may.melt') };
    const ask = (): Promise<unknown> => client.connection.sendRequest('fineweight/forgotten', { textDocument });
    expect(await ask()).toEqual([{ digest: `s1-${digest}`, uri: uriOf(client, 'seal.melt') }]);
    // A text that is not what was sealed is not believed.
    const remember = (text: string): Promise<unknown> =>
      client.connection.sendRequest('fineweight/remember', { textDocument, texts: [{ uri: textDocument.uri, text }] });
    await remember(sealed.replace('beck-side', 'nobody'));
    expect(await ask()).not.toEqual([]);
    await remember(sealed);
    await until('it is named', () =>
      says().includes('`receive A1 61.37 g from becks` was `receive A1 61.37 g from beck-side`'),
    );
    expect(await ask()).toEqual([]);
  });
});

describe('a comparison', () => {
  test('tells what changed on the open page', async () => {
    const page = MAY.replace('  photo a1.jpg\n', '');
    const client = await startClient({ files: { 'may.melt': page } });
    await open(client, 'may.melt', page);
    const textDocument = { uri: uriOf(client, 'may.melt') };
    const since = (text: string): Promise<string> =>
      client.connection.sendRequest('fineweight/changes', { textDocument, text });
    expect(await since(page.replaceAll('  in', '\t\tin'))).toBe('Nothing changed but spacing.\n');
    expect(await since(page.replace('61.30', '61.20'))).toContain(
      '    - out B1 61.20 g bar\n    + out B1 61.30 g bar\n',
    );
  });
});

describe('a photo that is about to get another name', () => {
  const moved = (client: Awaited<ReturnType<typeof startClient>>): Promise<unknown> =>
    client.connection.sendRequest('workspace/willRenameFiles', {
      files: [{ oldUri: uriOf(client, 'a1.jpg'), newUri: uriOf(client, 'old ring.jpg') }],
    });

  test('is named so by an edit, before it has it', async () => {
    const client = await startClient({ files: { 'may.melt': MAY, 'a1.jpg': 'a picture' } });
    expect(client.initialized.capabilities.workspace?.fileOperations?.willRename).toBeDefined();
    expect(await moved(client)).toMatchObject({
      documentChanges: [{ textDocument: { uri: uriOf(client, 'may.melt') }, edits: [{ newText: '"old ring.jpg"' }] }],
    });
  });

  test('is told of where the record that names it is sealed, and nothing is edited', async () => {
    const files = {
      'may.melt': MAY,
      'a1.jpg': 'a picture',
      'seal.melt': '2026-06-02\n\nseal 2026-05-31 digest s1-00\n',
    };
    const client = await startClient({ files });
    const shown: string[] = [];
    client.connection.onNotification('window/showMessage', ({ message }: { message: string }) => {
      shown.push(message);
    });
    expect(await moved(client)).toBeNull();
    await until('it is told', () => shown.length > 0);
    expect(shown).toEqual([expect.stringContaining('in the record sealed up to 2026-05-31')]);
  });
});

describe('a fix in what is sealed', () => {
  const fixFor = async (files: Readonly<Record<string, string>>): Promise<WorkspaceEdit> => {
    const client = await startClient({ files });
    await open(client, 'may.melt', files['may.melt']!);
    await until('a finding', () => codes(client, 'may.melt')?.includes('weight-changed') ?? false);
    const at = find(client, 'may.melt', '61.73');
    const [fix] = await client.connection.sendRequest<CodeAction[]>('textDocument/codeAction', {
      textDocument: { uri: uriOf(client, 'may.melt') },
      range: { start: at, end: at },
      context: { diagnostics: [] },
    });
    return fix!.edit!;
  };
  const SLIP = MAY.replace('  photo a1.jpg\n', '').replace('in A1 61.37', 'in A1 61.73');

  test('asks first, and says what is sealed; elsewhere it does not', async () => {
    expect((await fixFor({ 'may.melt': SLIP })).changeAnnotations).toBeUndefined();
    const sealed = await fixFor({ 'may.melt': SLIP, 'seal.melt': '2026-06-02\n\nseal 2026-05-31 digest s1-00\n' });
    expect(Object.values(sealed.changeAnnotations!)).toMatchObject([
      {
        needsConfirmation: true,
        description: '2026-05-04 is sealed up to 2026-05-31: but for blanks and comments it is corrected, not changed.',
      },
    ]);
  });
});
