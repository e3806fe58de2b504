/**
 * 20,000 edits in a row on a journal of 100,000 lines, through the real server: pages are opened in turn, digits of weights changed, answers waited
 * for. Prints the memory as it goes, and how the second half differs from the first; judges nothing. `-- EDITS LINES` for others.
 */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { makeJournal, WORKSHOP } from '../support/journal';
import { seeded } from '../support/random';
import { OUR_FLAGS, type ServerProcess, startServer } from './process';

const [EDITS = 20_000, LINES = 100_000] = process.argv.slice(2).map(Number);
/** After so many edits the next page is opened. */
const A_PAGE = 50;

const soak = async ({ connection, usage }: ServerProcess, root: string, pages: readonly [string, string][]) => {
  const random = seeded(20);
  const uriOf = (name: string): string => pathToFileURL(join(root, name)).href;
  const read = new Promise<void>((done) => {
    connection.onNotification('fineweight/status', ({ state }: { state: string }) => {
      if (state === 'ready') done();
    });
  });
  await connection.sendRequest('initialize', {
    processId: process.pid,
    rootUri: null,
    capabilities: {},
    workspaceFolders: [{ uri: pathToFileURL(root).href, name: 'shop' }],
    initializationOptions: { cursor: true, status: true },
  });
  await connection.sendNotification('initialized', {});
  await read;
  const memory: number[] = [];
  const start = Date.now();
  console.log(`read: ${figure(usage().residentMb)} MB`);
  for (let edit = 0; edit < EDITS; ) {
    const [name, text] = pages[random.whole(0, pages.length - 1)]!;
    const uri = uriOf(name);
    const lines = text.split('\n');
    const weighed = [...lines.keys()].filter((line) => /\d\.\d\d g/.test(lines[line]!));
    const textDocument = { uri, languageId: 'melt', version: 0, text };
    await connection.sendNotification('textDocument/didOpen', { textDocument });
    for (let version = 1; version <= A_PAGE && edit < EDITS; version++, edit++) {
      const line = weighed[random.whole(0, weighed.length - 1)]!;
      const character = lines[line]!.search(/\d g/);
      const range = { start: { line, character }, end: { line, character: character + 1 } };
      const contentChanges = [{ range, text: `${random.whole(0, 9)}` }];
      await connection.sendNotification('textDocument/didChange', { textDocument: { uri, version }, contentChanges });
      const about = { start: { line: Math.max(0, line - 90), character: 0 }, end: { line: line + 90, character: 0 } };
      await connection.sendRequest('textDocument/inlayHint', { textDocument: { uri }, range: about });
    }
    await connection.sendNotification('textDocument/didClose', { textDocument: { uri } });
    memory.push(usage().residentMb ?? Number.NaN);
    if (memory.length % Math.ceil(EDITS / A_PAGE / 20) === 0)
      console.log(
        `${`${edit}`.padStart(7)} edits, ${((Date.now() - start) / 1000).toFixed(0).padStart(5)} s: ${figure(memory.at(-1))} MB`,
      );
  }
  const half = memory.length >> 1;
  const [first, second] = [median(memory.slice(half >> 1, half)), median(memory.slice(half + (half >> 1)))];
  console.log(
    `second quarter ${figure(first)} MB, last quarter ${figure(second)} MB: ${(100 * (second / first - 1)).toFixed(1)} %`,
  );
};

const median = (values: readonly number[]): number => [...values].sort((a, b) => a - b)[values.length >> 1]!;
const figure = (value: number | undefined): string => (value ?? Number.NaN).toFixed(0);

(async () => {
  const root = mkdtempSync(join(tmpdir(), 'fineweight-soak-'));
  const pages = [...makeJournal(LINES, Math.max(1, Math.round(LINES / 833)))];
  for (const [name, text] of pages) writeFileSync(join(root, name), text);
  writeFileSync(join(root, 'workshop.yaml'), WORKSHOP);
  const server = startServer(resolve(__dirname, '../../server/dist/lsp.js'), OUR_FLAGS);
  try {
    await soak(server, root, pages);
  } finally {
    server.stop();
    rmSync(root, { recursive: true, force: true });
  }
})();
