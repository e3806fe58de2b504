/**
 * The built worker of a browser, in a thread that has nothing of Node: no `require`, no `process`. The files are those of a real folder, read by
 * the code that the client runs.
 */
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { Worker } from 'node:worker_threads';
import { afterEach, describe, expect, test } from 'vitest';
import { answerFiles, type Folders, type Wanted } from '../../client/files';
import { toldOf } from '../../server/vocabulary/told';
import { verb } from '../../server/vocabulary/verbs';
import { meaningOf } from '../../server/workshop/key-meanings';
import { keysOf } from '../../server/workshop/keys';
import { until } from '../support/client';
import { SLIP_PAGES } from '../support/slip-page';

const BUNDLE = resolve(__dirname, '../../server/dist/core.js');
/** Fetched later. */
const LATER = new Map(
  ['by-hand', 'documents'].map((name) => [name, resolve(__dirname, `../../server/dist/${name}.js`)]),
);
const CLIENT = resolve(__dirname, '../../client/dist/browser.js');
const MEGABYTE = 1_000_000;

const { may: MAY, june: JUNE } = SLIP_PAGES;

const WORKSHOP = `shop:
  name: Tarn End
scales:
  bench:
    division: 0.01 g
    repeatability: 0.02 g
`;

/** Runs a script as a worker does, with what a worker of a browser has and the server uses. */
const THREAD = `
const { parentPort, workerData } = require('node:worker_threads');
const { createContext, runInContext } = require('node:vm');
const { readFileSync } = require('node:fs');
const self = createContext({ console, setTimeout, clearTimeout, performance, TextDecoder, TextEncoder, URL, Uint8Array });
self.self = self;
self.postMessage = (message) => parentPort.postMessage(message);
self.importScripts = (address) => runInContext(readFileSync(address, 'utf8'), self);
parentPort.on('message', (data) => self.onmessage?.({ data }));
runInContext(workerData, self);
`;

/** A folder of this machine, as the editor's file service would show it. */
const FOLDERS: Folders = {
  list: async (folder) =>
    readdirSync(fileURLToPath(folder), { withFileTypes: true }).map((item) => ({
      name: item.name,
      uri: pathToFileURL(join(fileURLToPath(folder), item.name)).href,
      isFolder: item.isDirectory(),
      isLink: item.isSymbolicLink(),
    })),
  read: async (uri) => new Uint8Array(await readFile(fileURLToPath(uri))),
};

interface Message {
  readonly id?: number;
  readonly method?: string;
  readonly params?: {
    readonly uri: string;
    readonly diagnostics: { readonly code: string; readonly message: string }[];
  };
  readonly result?: unknown;
  readonly error?: { readonly code: number; readonly message: string };
}

interface Running {
  readonly uri: (name: string) => string;
  readonly put: (name: string, content: string | Uint8Array) => void;
  readonly remove: (name: string) => void;
  readonly ask: (method: string, params: unknown) => Promise<unknown>;
  readonly tell: (method: string, params: unknown) => void;
  readonly shown: (name: string) => { readonly code: string; readonly message: string }[] | undefined;
}

/** What the extension's client answers. */
const replyTo = async ({ method, params }: Message): Promise<unknown> => {
  if (method === 'fineweight/files') return answerFiles(FOLDERS, params as unknown as Wanted);
  const { name = '' } = params as { readonly name?: string };
  return method === 'fineweight/script' ? { address: LATER.get(name) } : null;
};

const ends: (() => unknown)[] = [];

afterEach(async () => {
  for (const end of ends.splice(0)) await end();
});

const start = async (files: Readonly<Record<string, string | Uint8Array>>): Promise<Running> => {
  const root = mkdtempSync(join(tmpdir(), 'fineweight-browser-'));
  const put: Running['put'] = (name, content) => {
    mkdirSync(dirname(join(root, name)), { recursive: true });
    writeFileSync(join(root, name), content);
  };
  for (const [name, content] of Object.entries(files)) put(name, content);
  const worker = new Worker(THREAD, { eval: true, workerData: readFileSync(BUNDLE, 'utf8') });
  ends.push(
    () => worker.terminate(),
    () => rmSync(root, { recursive: true, force: true }),
  );
  const uri = (name: string): string => pathToFileURL(join(root, name)).href;
  const heard: Message[] = [];
  let asked = 0;
  worker.on('message', async (message: Message) => {
    heard.push(message);
    if (message.id === undefined || message.method === undefined) return;
    worker.postMessage({ jsonrpc: '2.0', id: message.id, result: await replyTo(message) });
  });
  const tell: Running['tell'] = (method, params) => worker.postMessage({ jsonrpc: '2.0', method, params });
  const ask: Running['ask'] = async (method, params) => {
    const id = ++asked;
    worker.postMessage({ jsonrpc: '2.0', id, method, params });
    const answer = (): Message | undefined => heard.find((one) => one.id === id && one.method === undefined);
    await until(`an answer to ${method}`, () => answer() !== undefined);
    const { result, error } = answer()!;
    return error ?? result;
  };
  await ask('initialize', { processId: null, capabilities: {}, workspaceFolders: [{ uri: uri(''), name: 'shop' }] });
  tell('initialized', {});
  const shown: Running['shown'] = (name) =>
    heard.findLast(({ method, params }) => method === 'textDocument/publishDiagnostics' && params?.uri === uri(name))
      ?.params?.diagnostics;
  return { uri, put, remove: (name) => rmSync(join(root, name)), ask, tell, shown };
};

const SHOP = { 'workshop.yaml': WORKSHOP, 'pages/may.melt': MAY, 'pages/june.melt': JUNE };

describe('the server in a browser', () => {
  test('reads the whole journal through its client, and answers of every page', async () => {
    const { uri, tell, ask, shown } = await start(SHOP);
    const june = { uri: uri('pages/june.melt'), languageId: 'melt', version: 1, text: JUNE };
    tell('textDocument/didOpen', { textDocument: june });
    await until('findings', () => (shown('pages/june.melt')?.length ?? 0) > 0);
    const [finding] = shown('pages/june.melt')!;
    expect(finding).toMatchObject({ code: 'weight-changed' });
    // Of the other page the weight, and of the workshop file the scale's repeatability.
    expect(finding!.message).toContain('58.16 g in melt M1');
    expect(finding!.message).toContain('±0.06 g');
    const at = { textDocument: { uri: june.uri }, position: { line: 3, character: 5 } };
    expect(await ask('textDocument/rename', { ...at, newName: 'B9' })).toMatchObject({
      changes: { [uri('pages/may.melt')]: [{ newText: 'B9' }], [june.uri]: [{ newText: 'B9' }] },
    });
  });

  test('takes in what another program changes, makes and removes', async () => {
    const { uri, put, remove, tell, shown } = await start(SHOP);
    await until('findings', () => (shown('pages/june.melt')?.length ?? 0) > 0);
    const touched = (name: string, type: number): void =>
      tell('workspace/didChangeWatchedFiles', { changes: [{ uri: uri(name), type }] });
    put('pages/june.melt', JUNE.replace('58.61', '58.16'));
    touched('pages/june.melt', 2);
    await until('no finding', () => shown('pages/june.melt')?.length === 0);
    remove('pages/may.melt');
    touched('pages/may.melt', 3);
    await until('a lot from nowhere', () => shown('pages/june.melt')?.[0]?.code === 'unknown-lot');
    put('pages/may.melt', MAY);
    touched('pages/may.melt', 1);
    await until('no finding again', () => shown('pages/june.melt')?.length === 0);
  });

  test('says of a page that is not UTF-8 what it says everywhere', async () => {
    const { shown } = await start({ 'odd.melt': Uint8Array.of(0x23, 0x20, 0xff, 0x0a) });
    await until('a finding', () => (shown('odd.melt')?.length ?? 0) > 0);
    expect(shown('odd.melt')![0]!.message).toBe(
      'odd.melt is not UTF-8: byte FF at line 1, column 3; save it as UTF-8.',
    );
  });
});

describe('the worker', () => {
  test('makes documents when one is asked for, and again', async () => {
    const { uri, tell, ask } = await start(SHOP);
    const may = { uri: uri('pages/may.melt'), languageId: 'melt', version: 1, text: MAY };
    tell('textDocument/didOpen', { textDocument: may });
    const at = { textDocument: { uri: may.uri }, position: { line: 1, character: 9 } };
    const { kinds } = (await ask('fineweight/documentKinds', at)) as { kinds: { code: string }[] };
    expect(kinds.length).toBeGreaterThan(5);
    const day = { ...at, kind: 'day-page', choice: { day: '2026-05-04' } };
    for (let time = 0; time < 2; time++)
      expect(await ask('fineweight/document', day)).toMatchObject({ text: expect.stringContaining('</html>') });
  });

  test('says of a word and of a key of the workshop file what they mean, which the core does not hold', async () => {
    const { uri, ask } = await start(SHOP);
    const core = readFileSync(BUNDLE, 'utf8');
    const hovered = async (name: string, line: number, character: number): Promise<string> =>
      JSON.stringify(
        await ask('textDocument/hover', { textDocument: { uri: uri(name) }, position: { line, character } }),
      );
    for (const [name, line, character, meaning] of [
      ['pages/may.melt', 5, 1, toldOf(verb('melt')!).meaning],
      ['workshop.yaml', 4, 6, meaningOf(keysOf('scales').get('division')!)],
    ] as const) {
      expect(await hovered(name, line, character)).toContain(meaning);
      expect(core).not.toContain(meaning);
    }
  });

  test('answers with an error what it does not know, and what is no longer wanted', async () => {
    const { uri, tell, ask } = await start(SHOP);
    expect(await ask('fineweight/none', {})).toEqual({ code: -32601, message: 'There is no fineweight/none.' });
    expect(await ask('textDocument/hover', {})).toMatchObject({ code: -32602 });
    const at = { textDocument: { uri: uri('pages/may.melt') }, position: { line: 1, character: 9 } };
    const unwanted = ask('textDocument/hover', at);
    // The fourth request: `initialize` was the first.
    tell('$/cancelRequest', { id: 4 });
    expect(await unwanted).toMatchObject({ code: -32800 });
  });
});

describe('the bundles for a browser', () => {
  test('ask for nothing of Node', () => {
    const asked = (path: string): string[] =>
      [...readFileSync(path, 'utf8').matchAll(/\b(?:require|import)\(([^)]*)\)/g)].map((match) => match[1]!);
    expect(asked(BUNDLE)).toEqual([]);
    // Where there is no worker.
    for (const file of LATER.values()) expect(asked(file)).toEqual(["'./core.js'"]);
    expect([...new Set(asked(CLIENT))]).toEqual(['"vscode"']);
  });

  test('are small enough to be fetched, and documents are not fetched before they are wanted', () => {
    for (const file of [BUNDLE, CLIENT, ...LATER.values()]) expect(statSync(file).size).toBeLessThan(MEGABYTE);
    expect(readFileSync(BUNDLE, 'utf8')).not.toContain('</html>');
    expect(readFileSync(LATER.get('documents')!, 'utf8')).toContain('</html>');
  });
});
