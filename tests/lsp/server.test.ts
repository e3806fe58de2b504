/** The built server as a child process, spoken to over standard input and output. */
import { createHash } from 'node:crypto';
import { mkdirSync, readdirSync, readFileSync, renameSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, describe, expect, test } from 'vitest';
import type { TextEdit } from 'vscode-languageserver';
import { TextDocument } from 'vscode-languageserver-textdocument';
import {
  actions,
  applied,
  CAPABILITIES,
  type Client,
  codes,
  cursor,
  edit,
  endClients,
  find,
  hints,
  hover,
  leave,
  open,
  positionAt,
  shown,
  startClient,
  symbols,
  type,
  until,
  uriOf,
} from '../support/client';
import { WORKSHOP as MADE_WORKSHOP, makeJournal } from '../support/journal';

afterEach(endClients);

const WORKSHOP = 'shop: { name: Tarn End }\nscales:\n  bench: { division: 0.01 g, capacity: 2000 g }\n';

const MAY = `2026-05-04

receive A1
  61.37 g on bench

cast C1
  in A1 61.73 g on bench
  out B1 61.30 g bar on bench
`;

const JUNE = `2026-06-01

cast C2
  in B1 61.30 g on bench
  out B2 61.30 g bar on bench
`;

const FILES = { 'workshop.yaml': WORKSHOP, 'may.melt': MAY, 'june.melt': JUNE };

const changed = (client: Client, name: string, type: 1 | 2 | 3 = 2): Promise<void> =>
  client.connection.sendNotification('workspace/didChangeWatchedFiles', {
    changes: [{ uri: uriOf(client, name), type }],
  });

const failureOf = (answer: Promise<unknown>): Promise<{ code: number; message: string }> =>
  answer.then(
    (result) => Promise.reject(new Error(`Answered with ${JSON.stringify(result)}`)),
    ({ code, message }: { code: number; message: string }) => ({ code, message }),
  );

describe('the start', () => {
  test('announces what the server can, in UTF-16', async () => {
    const { initialized } = await startClient();
    expect(initialized.capabilities).toMatchObject({
      positionEncoding: 'utf-16',
      textDocumentSync: { openClose: true, change: 2 },
      hoverProvider: true,
      documentSymbolProvider: true,
      inlayHintProvider: { resolveProvider: true },
      codeActionProvider: {
        codeActionKinds: ['quickfix', 'refactor.extract', 'refactor.rewrite', 'source.fixAll.fineweight'],
      },
    });
  });

  test('stays with UTF-16 when a client would rather have UTF-8', async () => {
    const { initialized } = await startClient({ capabilities: { general: { positionEncodings: ['utf-8'] } } });
    expect(initialized.capabilities.positionEncoding).toBe('utf-16');
  });

  test('asks to be told of changed files', async () => {
    const client = await startClient();
    await until('a registration', () => client.asked.has('client/registerCapability'));
    const asked = JSON.stringify(client.asked.get('client/registerCapability'));
    expect(asked).toContain('**/*.melt');
    expect(asked).toContain('**/workshop.yaml');
  });

  test('asks to be told only of what the client can tell', async () => {
    const client = await startClient({ files: FILES, capabilities: { workspace: { configuration: true } } });
    await until('findings', () => !!shown(client, 'may.melt'));
    expect(client.asked.has('workspace/configuration')).toBe(true);
    expect(client.asked.has('client/registerCapability')).toBe(false);
  });

  test('looks at every file of the journal, open or not', async () => {
    const client = await startClient({ files: { ...FILES, 'workshop.yaml': `${WORKSHOP}  odd: 12\n` } });
    await until('findings of both', () => !!shown(client, 'may.melt') && !!shown(client, 'workshop.yaml'));
    expect(codes(client, 'may.melt')).toEqual(['weight-changed']);
    expect(codes(client, 'workshop.yaml')).not.toEqual([]);
    expect(shown(client, 'june.melt')).toBeUndefined();
  });
});

describe('a large journal', () => {
  const pages = [...makeJournal(12_000, 15)];
  const slip = (text: string): string => text.replace(/(\d)(?!\1)(\d)(\.\d\d g button)/, '$2$1$3');
  const files = Object.fromEntries([
    ['workshop.yaml', MADE_WORKSHOP],
    ...pages.map(([name, text]) => [name, slip(text)]),
  ]);
  const last = pages.at(-1)![0];

  test('shows and answers for the open page first, and the rest later', async () => {
    const client = await startClient({ files, capabilities: { ...CAPABILITIES, window: { workDoneProgress: true } } });
    await open(client, last, files[last]!);
    expect((await hints(client, last)).length).toBeGreaterThan(20);
    expect((await symbols(client, last)).length).toBeGreaterThan(10);
    const early = client.published.map(({ uri }) => uri);
    expect(early.filter((uri) => uri !== uriOf(client, last))).toEqual([]);
    await until('findings of the first page', () => !!shown(client, pages[0]![0]), 60_000);
    const told = client.published.filter(({ uri }) => uri === uriOf(client, last));
    expect(told.length).toBe(1);
    expect(told[0]!.diagnostics).not.toEqual([]);
    expect(client.asked.has('window/workDoneProgress/create')).toBe(true);
  }, 60_000);
});

describe('findings', () => {
  test('bear a code, a link to the rule, the other place, and the version of the text', async () => {
    const client = await startClient({ files: FILES, options: { cursor: true, rulesPage: 'file:///x/RULES.md' } });
    await open(client, 'may.melt', MAY);
    await until('an open version', () => client.published.some(({ version }) => version === 1));
    const [finding] = shown(client, 'may.melt')!;
    expect(finding).toMatchObject({
      code: 'weight-changed',
      source: 'fineweight',
      severity: 2,
      codeDescription: { href: 'file:///x/RULES.md#weight-changed' },
    });
    expect(finding!.relatedInformation).toHaveLength(1);
    expect(finding!.relatedInformation![0]!.location.uri).toBe(uriOf(client, 'may.melt'));
  });

  test('are graded, or switched off, by the settings', async () => {
    const settings = { severity: { 'weight-changed': 'error', 'missing-unit': 'off' } };
    const client = await startClient({ files: { 'may.melt': `${MAY}  out 3\n` }, settings });
    await until('findings', () => !!shown(client, 'may.melt'));
    expect(shown(client, 'may.melt')!.find(({ code }) => code === 'weight-changed')).toMatchObject({ severity: 1 });
    expect(codes(client, 'may.melt')).not.toContain('missing-unit');
  });

  test('stand at the right place behind astral characters', async () => {
    const text = `2026-05-04  𝔐𝔐\n\nreceive A1\n  note 🔥🔥 hot\n  58.16 g, pieces 𝔐 12\n  "🔥" 12\n\nmelt "𝔐"\n  in "🔥🔥" 5 g\n`;
    const client = await startClient({ files: {} });
    await open(client, 'may.melt', text);
    await until('findings', () => (shown(client, 'may.melt')?.length ?? 0) > 0);
    const lot = shown(client, 'may.melt')!.find(({ code }) => code === 'unknown-lot')!;
    expect(lot.range).toEqual({ start: { line: 8, character: 5 }, end: { line: 8, character: 11 } });
  });

  test('of a page that stands alone need no folder', async () => {
    const client = await startClient({ files: {} });
    await open(client, 'untitled:Untitled-1', 'melt M1\n  in Q1 5\n');
    await until('findings', () => (shown(client, 'untitled:Untitled-1')?.length ?? 0) > 0);
    expect(codes(client, 'untitled:Untitled-1')).toContain('unknown-lot');
  });

  test('of a file that cannot be read say where it goes wrong', async () => {
    const client = await startClient({ files: { 'old.melt': Buffer.from('note caf\xe9\n', 'latin1') } });
    await until('findings', () => !!shown(client, 'old.melt'));
    expect(shown(client, 'old.melt')).toMatchObject([
      { message: 'old.melt is not UTF-8: byte E9 at line 1, column 9; save it as UTF-8.', severity: 1 },
    ]);
    writeFileSync(join(client.root, 'old.melt'), 'note café\n');
    await changed(client, 'old.melt');
    await until('none', () => shown(client, 'old.melt')?.length === 0);
  });
});

describe('typing', () => {
  test('changes nothing elsewhere, and never flashes an empty list', async () => {
    const client = await startClient({ files: FILES });
    await open(client, 'may.melt', MAY);
    await until('findings', () => shown(client, 'may.melt')?.length === 1);
    await type(client, 'may.melt', 'out B1 61.30 g bar on bench\n', '\ncupel K1\n  in B1 61.30 g on bench\n  out 5');
    await cursor(client, 'may.melt', 2);
    await until('the last finding', () => codes(client, 'may.melt')?.includes('missing-unit') ?? false);
    const mine = client.published.filter(({ uri }) => uri === uriOf(client, 'may.melt'));
    expect(mine.every(({ diagnostics }) => diagnostics.some(({ code }) => code === 'weight-changed'))).toBe(true);
    for (const [index, { version, diagnostics }] of mine.entries()) {
      const later = mine.slice(index + 1).filter((one) => one.version === version);
      expect(diagnostics.length > 0 || later.every((one) => one.diagnostics.length === 0)).toBe(true);
    }
  });

  test('publishes only versions that were sent, in their order', async () => {
    const client = await startClient({ files: FILES });
    await open(client, 'may.melt', MAY);
    await type(client, 'may.melt', 'in A1 61.73 g on bench\n', '  add borax 1,5');
    await cursor(client, 'may.melt', 2);
    await until('a comma', () => codes(client, 'may.melt')?.includes('decimal-comma') ?? false);
    const versions = client.published.flatMap(({ version }) => version ?? []);
    expect(versions).toEqual([...versions].sort((a, b) => a - b));
    expect(versions.at(-1)).toBe(client.versions.get('may.melt'));
  });

  test('asks for no new hints on each key, but once when others are to be had', async () => {
    const client = await startClient({ files: FILES });
    await open(client, 'may.melt', MAY);
    await open(client, 'june.melt', JUNE);
    const before = await hints(client, 'june.melt');
    await until('the start', () => shown(client, 'june.melt') !== undefined);
    const refreshes = (): number => client.asked.get('workspace/inlayHint/refresh')?.length ?? 0;
    await type(client, 'may.melt', 'out B1 61.3', '555');
    expect(await hints(client, 'june.melt')).toHaveLength(before.length);
    expect(refreshes()).toBe(0);
    await cursor(client, 'may.melt', 2);
    await until('a refresh', () => refreshes() === 1);
    expect((await hints(client, 'june.melt')).map(({ label }) => label)).not.toEqual(before.map(({ label }) => label));
  });

  test('asks for no new hints when none changed', async () => {
    const client = await startClient({ files: FILES });
    await open(client, 'may.melt', MAY);
    await open(client, 'june.melt', JUNE);
    await hints(client, 'june.melt');
    await until('the start', () => shown(client, 'june.melt') !== undefined);
    await type(client, 'may.melt', 'out B1 61.30 g bar on bench', ', note ok');
    await cursor(client, 'may.melt', 2);
    await symbols(client, 'may.melt');
    await type(client, 'may.melt', 'receive A1', ' ');
    await cursor(client, 'may.melt', 6);
    await symbols(client, 'may.melt');
    expect(client.asked.get('workspace/inlayHint/refresh') ?? []).toEqual([]);
  });
});

describe('a hover', () => {
  test('is plain text for a client that shows no Markdown', async () => {
    const client = await startClient({ files: FILES, capabilities: {} });
    await open(client, 'may.melt', MAY);
    const told = await hover(client, 'may.melt', find(client, 'may.melt', 'A1'));
    expect(told?.contents).toMatchObject({ kind: 'plaintext', value: expect.stringMatching(/^A1 · /) });
    expect(JSON.stringify(told)).not.toContain('**');
  });
});

describe('fixes', () => {
  test('put a finding right, as an edit of the version that it was made for', async () => {
    const client = await startClient({ files: FILES });
    await open(client, 'may.melt', MAY);
    await until('findings', () => shown(client, 'may.melt')?.length === 1);
    const [finding] = shown(client, 'may.melt')!;
    const offered = await actions(client, 'may.melt', finding!.range);
    const best = offered.find(({ isPreferred }) => isPreferred)!;
    expect(best.kind).toBe('quickfix');
    expect(best.diagnostics).toMatchObject([{ code: 'weight-changed' }]);
    expect(best.edit!.documentChanges).toMatchObject([
      { textDocument: { uri: uriOf(client, 'may.melt'), version: 1 } },
    ]);
    const text = applied(client, 'may.melt', best);
    await edit(client, 'may.melt', { line: 0, character: 0 }, positionAt(MAY, MAY.length), text);
    await until('no finding', () => shown(client, 'may.melt')?.length === 0);
  });

  test('for all at once are the safe ones alone, and are offered when asked for', async () => {
    const text = `${MAY}in A1 1 g\n`;
    const client = await startClient({ files: FILES });
    await open(client, 'may.melt', text);
    const whole = { start: { line: 0, character: 0 }, end: positionAt(text, text.length) };
    const unasked = await actions(client, 'may.melt', whole);
    expect(unasked.map(({ kind }) => kind)).not.toContain('source.fixAll.fineweight');
    const [all, ...others] = await actions(client, 'may.melt', whole, ['source.fixAll']);
    expect(others).toEqual([]);
    expect(applied(client, 'may.melt', all!)).toBe(`${MAY}  in A1 1 g\n`);
  });

  test('are plain changes for a client that knows no versions', async () => {
    const client = await startClient({ files: FILES, capabilities: {} });
    await open(client, 'may.melt', MAY);
    const at = find(client, 'may.melt', '61.73');
    const [fix] = await actions(client, 'may.melt', { start: at, end: at });
    expect(Object.keys(fix!.edit!.changes!)).toEqual([uriOf(client, 'may.melt')]);
  });
});

describe('hints', () => {
  test('are given for the lines asked for, and tell their sum when asked', async () => {
    const client = await startClient({ files: FILES });
    await open(client, 'may.melt', MAY);
    const all = await hints(client, 'may.melt');
    expect(all.length).toBeGreaterThan(0);
    for (const hint of all) {
      const line = MAY.split('\n')[hint.position.line]!;
      expect(hint.position.character).toBe(line.length);
      expect(String(hint.label).length).toBeLessThanOrEqual(40);
      expect(hint.tooltip).toBeUndefined();
    }
    expect(new Set(all.map(({ position }) => position.line)).size).toBe(all.length);
    const some = await hints(client, 'may.melt', 5, 6);
    expect(some.every(({ position }) => position.line >= 5 && position.line <= 6)).toBe(true);
    const resolved = await client.connection.sendRequest<{ tooltip: { kind: string } }>('inlayHint/resolve', all[0]);
    expect(resolved.tooltip.kind).toBe('markdown');
  });

  test('bring their sum with them where a client cannot ask for it', async () => {
    const client = await startClient({ files: FILES, capabilities: {} });
    await open(client, 'may.melt', MAY);
    const all = await hints(client, 'may.melt');
    expect(all.length).toBeGreaterThan(0);
    expect(all.every(({ tooltip }) => tooltip !== undefined)).toBe(true);
  });

  test('go and come when the setting changes: the client is told to ask again', async () => {
    const hinting = { enabled: true };
    const client = await startClient({ files: FILES, settings: { hints: hinting } });
    const refreshes = (): number => client.asked.get('workspace/inlayHint/refresh')?.length ?? 0;
    await open(client, 'may.melt', MAY);
    const before = await hints(client, 'may.melt');
    hinting.enabled = false;
    await client.connection.sendNotification('workspace/didChangeConfiguration', { settings: null });
    await until('a refresh', () => refreshes() === 1);
    expect(await hints(client, 'may.melt')).toEqual([]);
    hinting.enabled = true;
    await client.connection.sendNotification('workspace/didChangeConfiguration', { settings: null });
    await until('another refresh', () => refreshes() === 2);
    expect((await hints(client, 'may.melt')).map(({ label }) => label)).toEqual(before.map(({ label }) => label));
  });

  test('are switched off by the settings, all or by family', async () => {
    const off = await startClient({ files: FILES, settings: { hints: { enabled: false } } });
    await open(off, 'may.melt', MAY);
    expect(await hints(off, 'may.melt')).toEqual([]);
    const none = Object.fromEntries(
      ['receive', 'dry', 'melt', 'cupel', 'handover', 'step', 'caution'].map((one) => [one, false]),
    );
    const families = await startClient({ files: FILES, settings: { hints: none } });
    await open(families, 'may.melt', MAY);
    expect(await hints(families, 'may.melt')).toEqual([]);
  });
});

test('formatting lines up the points where the settings name a column, and by Enter in the line that is left', async () => {
  const written =
    '2026-05-04\n\nreceive   A1 61.37 g on bench\nmelt M1\n  in A1   61.37 g on bench\n  out B1 58.2 g button on bench\n';
  const client = await startClient({ files: { 'may.melt': written }, settings: { format: { pointAtColumn: 20 } } });
  await open(client, 'may.melt', written);
  const ask = (method: string, more: object): Promise<TextEdit[]> =>
    client.connection.sendRequest(method, {
      textDocument: { uri: uriOf(client, 'may.melt') },
      options: { tabSize: 2, insertSpaces: true },
      ...more,
    });
  const page = TextDocument.create('', 'melt', 1, written);
  const whole = await ask('textDocument/formatting', {});
  expect(TextDocument.applyEdits(page, whole)).toContain(
    '  in A1          61.37 g on bench\n  out B1         58.2 g button',
  );
  const left = await ask('textDocument/onTypeFormatting', { ch: '\n', position: { line: 5, character: 2 } });
  expect(left.map(({ range }) => range.start.line)).toEqual([4]);
});

test('where the settings say so, findings wait for the page to be saved; figures do not', async () => {
  const client = await startClient({ files: { 'may.melt': '' }, settings: { check: 'save' } });
  const page = '2026-05-04\n\nreceive A1\n  61.37 g on bench\n';
  await open(client, 'may.melt', page);
  await until('the first look', () => shown(client, 'may.melt') !== undefined);
  await type(client, 'may.melt', page, `\ncast C1\n  in A1\n  out B1 71.30 g bar on bench\n`);
  await new Promise((resolve) => setTimeout(resolve, 3000));
  expect(await hints(client, 'may.melt')).not.toEqual([]);
  expect(codes(client, 'may.melt')).toEqual([]);
  await client.connection.sendNotification('textDocument/didSave', {
    textDocument: { uri: uriOf(client, 'may.melt') },
  });
  await until('findings', () => codes(client, 'may.melt')?.length !== 0);
  expect(codes(client, 'may.melt')).toEqual(['more-out-than-in']);
});

test('hovers and symbols answer, also for a file that is not open', async () => {
  const client = await startClient({ files: FILES });
  await open(client, 'may.melt', MAY);
  const answer = await hover(client, 'may.melt', find(client, 'may.melt', 'A1'));
  expect(answer!.contents).toMatchObject({ kind: 'markdown' });
  expect(JSON.stringify(await symbols(client, 'may.melt'))).toContain('C1');
  expect(JSON.stringify(await symbols(client, 'june.melt'))).toContain('C2');
});

describe('the disk', () => {
  test('a workshop file rewritten by another program is taken in', async () => {
    const client = await startClient({ files: FILES });
    await until('findings', () => !!shown(client, 'may.melt'));
    expect(shown(client, 'workshop.yaml') ?? []).toEqual([]);
    writeFileSync(join(client.root, 'workshop.yaml'), `${WORKSHOP}  odd: 12\n`);
    await changed(client, 'workshop.yaml');
    await until('a finding in it', () => (shown(client, 'workshop.yaml')?.length ?? 0) > 0, 1000);
  });

  test('a page that is renamed takes its lots and findings along', async () => {
    const client = await startClient({ files: FILES });
    await until('findings', () => !!shown(client, 'may.melt'));
    renameSync(join(client.root, 'may.melt'), join(client.root, 'maytime.melt'));
    await changed(client, 'may.melt', 3);
    await changed(client, 'maytime.melt', 1);
    await until('the old gone', () => shown(client, 'may.melt')?.length === 0);
    await until('the new there', () => shown(client, 'maytime.melt')?.length === 1);
    expect(shown(client, 'june.melt') ?? []).toEqual([]);
  });

  test('a folder that goes takes its pages along', async () => {
    const client = await startClient({
      files: { ...FILES, 'june.melt': '', 'y26/june.melt': JUNE, 'y26/odd.melt': 'out\n' },
    });
    await until('findings', () => (shown(client, 'y26/odd.melt')?.length ?? 0) > 0);
    rmSync(join(client.root, 'y26'), { recursive: true });
    await changed(client, 'y26', 3);
    await until('none', () => shown(client, 'y26/odd.melt')?.length === 0);
  });

  test('an open buffer wins over it', async () => {
    const client = await startClient({ files: FILES });
    await open(client, 'may.melt', MAY.replace('61.73', '61.37'));
    await until('none', () => shown(client, 'may.melt')?.length === 0);
    writeFileSync(join(client.root, 'may.melt'), `${MAY}\nmelt M9\n  in Z9 1 g\n`);
    await changed(client, 'may.melt');
    await client.connection.sendNotification('textDocument/didClose', {
      textDocument: { uri: uriOf(client, 'may.melt') },
    });
    await until('the disk again', () => codes(client, 'may.melt')?.includes('unknown-lot') ?? false);
    const opened = client.published.filter(({ uri, version }) => uri === uriOf(client, 'may.melt') && version === 1);
    expect(opened.every(({ diagnostics }) => diagnostics.length === 0)).toBe(true);
  });

  test('a folder added to the window is read, and one removed is forgotten', async () => {
    const client = await startClient({ files: {} });
    const other = await startClient({ files: FILES });
    const folder = { uri: uriOf(other, ''), name: 'other' };
    const tell = (event: object): Promise<void> =>
      client.connection.sendNotification('workspace/didChangeWorkspaceFolders', { event });
    const found = (): number | undefined =>
      client.published.findLast(({ uri }) => uri === uriOf(other, 'may.melt'))?.diagnostics.length;
    await tell({ added: [folder], removed: [] });
    await until('findings', () => found() === 1);
    await tell({ added: [], removed: [folder] });
    await until('none', () => found() === 0);
  });
});

describe('odd messages', () => {
  const INVALID = -32602;

  test('a request with malformed parameters is answered with an error, and the next one is answered', async () => {
    const client = await startClient({ files: FILES });
    await open(client, 'may.melt', MAY);
    const textDocument = { uri: uriOf(client, 'may.melt') };
    const ask = (method: string, params: unknown) => failureOf(client.connection.sendRequest(method, params as object));
    for (const method of ['hover', 'documentSymbol', 'inlayHint', 'codeAction']) {
      for (const params of [{}, { textDocument: 5 }, { textDocument: { uri: 7 } }, [], [1, 2]]) {
        expect((await ask(`textDocument/${method}`, params)).code).toBe(INVALID);
      }
    }
    for (const position of [undefined, 'x', { line: -1, character: 0 }, { line: 1.5, character: 0 }, { line: '1' }]) {
      expect((await ask('textDocument/hover', { textDocument, position })).code).toBe(INVALID);
    }
    expect((await ask('textDocument/nothing', { textDocument })).code).toBe(-32601);
    expect(await symbols(client, 'may.melt')).not.toEqual([]);
  });

  test('a notification with malformed parameters is logged, and costs nothing', async () => {
    const client = await startClient({ files: FILES });
    const tell = (method: string, params: unknown) => client.connection.sendNotification(method, params as object);
    for (const method of ['didOpen', 'didChange', 'didClose', 'didSave', 'willSave']) {
      for (const params of [{}, { textDocument: 3 }, { textDocument: { uri: uriOf(client, 'may.melt') } }, [1]]) {
        await tell(`textDocument/${method}`, params);
      }
    }
    await tell('workspace/didChangeWatchedFiles', { changes: [{ uri: 5 }] });
    await tell('workspace/didChangeWorkspaceFolders', { event: null });
    await tell('workspace/didChangeConfiguration', { settings: 5 });
    await tell('fineweight/cursor', { uri: uriOf(client, 'may.melt'), line: 'x' });
    await open(client, 'may.melt', MAY);
    await until('findings', () => shown(client, 'may.melt')?.length === 1);
    expect(client.log.length).toBeGreaterThan(0);
  });

  test('positions past the end are the end', async () => {
    const client = await startClient({ files: FILES });
    await open(client, 'may.melt', MAY);
    await hover(client, 'may.melt', { line: 9_999, character: 9_999 });
    const far = { line: 99_999, character: 99_999 };
    await client.connection.sendNotification('textDocument/didChange', {
      textDocument: { uri: uriOf(client, 'may.melt'), version: 2 },
      contentChanges: [{ range: { start: far, end: far }, text: '\nmelt M9\n  in Z9 1 g\n' }],
    });
    await cursor(client, 'may.melt', 0);
    await until('a lot that is not there', () => codes(client, 'may.melt')?.includes('unknown-lot') ?? false);
  });

  test('a version that goes back is logged, and its text is taken', async () => {
    const client = await startClient({ files: FILES });
    await open(client, 'may.melt', MAY);
    await client.connection.sendNotification('textDocument/didChange', {
      textDocument: { uri: uriOf(client, 'may.melt'), version: -3 },
      contentChanges: [{ text: 'melt M9\n  in Z9 1 g\n' }],
    });
    await cursor(client, 'june.melt', 0);
    await until('the new text', () => codes(client, 'may.melt')?.includes('unknown-lot') ?? false);
    expect(client.log.some((line) => line.includes('from 1 to -3'))).toBe(true);
  });

  test('a file that nobody knows has nothing to tell', async () => {
    const client = await startClient({ files: FILES });
    expect(await hover(client, 'none.melt', { line: 0, character: 0 })).toBeNull();
    expect(await symbols(client, 'none.melt')).toEqual([]);
    expect(await hints(client, 'none.melt')).toEqual([]);
    const textDocument = { uri: uriOf(client, 'none.melt'), version: 2 };
    await client.connection.sendNotification('textDocument/didChange', {
      textDocument,
      contentChanges: [{ text: 'x' }],
    });
    await client.connection.sendNotification('textDocument/didClose', { textDocument });
    expect(await symbols(client, 'may.melt')).not.toEqual([]);
  });

  test('a message that is no JSON does not end the server', async () => {
    const client = await startClient({ files: FILES });
    client.process.stdin!.write('Content-Length: 7\r\n\r\n{"a": x');
    expect(await symbols(client, 'may.melt')).not.toEqual([]);
  });

  test('a cancelled request is answered', async () => {
    const client = await startClient({ files: FILES });
    await open(client, 'may.melt', MAY);
    const { CancellationTokenSource } = await import('vscode-languageserver/node');
    const answers = await Promise.all(
      Array.from({ length: 20 }, async () => {
        const source = new CancellationTokenSource();
        const textDocument = { uri: uriOf(client, 'may.melt') };
        const answer = client.connection.sendRequest('textDocument/documentSymbol', { textDocument }, source.token);
        source.cancel();
        return answer.then(
          () => 'answered',
          ({ code }: { code: number }) => (code === -32800 ? 'cancelled' : `failed with ${code}`),
        );
      }),
    );
    expect(answers.filter((one) => one !== 'answered' && one !== 'cancelled')).toEqual([]);
  });

  test('a document opened and closed a thousand times leaves nothing behind', async () => {
    const client = await startClient({ files: FILES });
    for (let round = 0; round < 1000; round++) {
      await open(client, 'untitled:One', 'melt M1\n  in Q1 5\n');
      await client.connection.sendNotification('textDocument/didClose', { textDocument: { uri: 'untitled:One' } });
    }
    expect(await symbols(client, 'may.melt')).not.toEqual([]);
    await until('none', () => (shown(client, 'untitled:One')?.length ?? 0) === 0);
  });
});

describe('the end', () => {
  test('is orderly after shutdown', async () => {
    const client = await startClient({ files: FILES });
    expect(await leave(client)).toBe(0);
  });

  test('without shutdown is told by the exit code', async () => {
    const client = await startClient({ files: FILES });
    await client.connection.sendNotification('exit');
    expect(await client.exited).toBe(1);
  });

  test('comes when the other side has gone', async () => {
    const client = await startClient({ files: FILES });
    client.process.stdin!.end();
    expect(await client.exited).toBe(1);
  });

  test('refuses requests after shutdown', async () => {
    const client = await startClient({ files: FILES });
    await client.connection.sendRequest('shutdown');
    expect((await failureOf(symbols(client, 'may.melt'))).code).toBe(-32600);
  });
});

test('a session of everything leaves the bytes of every file as they were', async () => {
  const client = await startClient({ files: { ...FILES, 'old.melt': Buffer.from('note caf\xe9\r\n', 'latin1') } });
  mkdirSync(join(client.root, 'sub'));
  const before = digestOf(client.root);
  await open(client, 'may.melt', MAY);
  await open(client, 'workshop.yaml', WORKSHOP, 'yaml');
  await type(client, 'may.melt', 'out B1 61.30 g bar on bench\n', '\ncupel K1\n  in B1 61.30\n  out 5');
  await until('findings', () => !!shown(client, 'may.melt'));
  const whole = { start: { line: 0, character: 0 }, end: { line: 99, character: 0 } };
  await actions(client, 'may.melt', whole);
  await actions(client, 'may.melt', whole, ['source.fixAll']);
  for (const hint of await hints(client, 'may.melt')) await client.connection.sendRequest('inlayHint/resolve', hint);
  await hover(client, 'may.melt', { line: 2, character: 9 });
  await symbols(client, 'may.melt');
  await client.connection.sendNotification('textDocument/didSave', {
    textDocument: { uri: uriOf(client, 'may.melt') },
  });
  expect(await leave(client)).toBe(0);
  expect(digestOf(client.root)).toEqual(before);
});

/** Each file's name, time of change and digest. */
const digestOf = (folder: string): string[] =>
  readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((item) => item.isFile())
    .map((item) => {
      const path = join(item.parentPath, item.name);
      return `${path} ${statSync(path).mtimeMs} ${createHash('sha256').update(readFileSync(path)).digest('hex')}`;
    })
    .sort();
