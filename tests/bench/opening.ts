/** Opens a made journal with the built server over standard input and output, as an editor does, with the last page on the screen. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { performance } from 'node:perf_hooks';
import { pathToFileURL } from 'node:url';
import type { MessageConnection } from 'vscode-languageserver/node';
import { OUR_FLAGS, type ServerProcess, startServer } from './process';

export interface Opening {
  /** From `initialize` to the first findings of the open page. */
  readonly firstMs: number;
  /** Processor time of the server by then, its start included. */
  readonly firstCpuMs: number | undefined;
  readonly firstFindings: number;
  /** Findings that were shown for the open page at any time, and no longer hold at the end; must be 0. */
  readonly untrue: number;
  /** Findings of the open page that only the whole record can tell, and that came with it. */
  readonly later: number;
  /** From `initialize` to the last findings of all pages. */
  readonly allMs: number;
  /** From `initialize` to the first answer about the open page. */
  readonly firstAnswerMs: number;
  /** Longest wait for an answer after the first one, while the rest was read. */
  readonly longestAnswerMs: number;
  readonly answers: number;
  /** Processor time of the server until then. */
  readonly cpuMs: number | undefined;
  readonly residentMb: number | undefined;
}

const SERVER = resolve(__dirname, '../../server/dist/lsp.js');

/** Swaps the digits of two weights on the page, so that there is something to find. */
const withSlips = (text: string): string => {
  let count = 0;
  return text.replace(/ (\d)(\d)(\d*\.\d\d g button)/g, (weight, first: string, second: string, rest: string) =>
    ++count % 9 === 1 ? ` ${second}${first}${rest}` : weight,
  );
};

export const measureOpening = async (pages: ReadonlyMap<string, string>, workshop: string): Promise<Opening> => {
  const root = mkdtempSync(join(tmpdir(), 'fineweight-bench-'));
  for (const [name, text] of pages) writeFileSync(join(root, name), text);
  writeFileSync(join(root, 'workshop.yaml'), workshop);
  const [name, text] = [...pages].at(-1)!;
  writeFileSync(join(root, name), withSlips(text));
  const server = startServer(SERVER, OUR_FLAGS);
  try {
    return await follow(server, root, name, withSlips(text));
  } finally {
    server.stop();
    rmSync(root, { recursive: true, force: true });
  }
};

const follow = async (
  { connection, usage }: ServerProcess,
  root: string,
  name: string,
  text: string,
): Promise<Opening> => {
  const uri = pathToFileURL(join(root, name)).href;
  const published: { at: number; cpuMs: number | undefined; found: readonly string[] }[] = [];
  connection.onNotification('textDocument/publishDiagnostics', (params: { uri: string; diagnostics: unknown[] }) => {
    const { diagnostics } = params;
    if (params.uri === uri)
      published.push({
        at: performance.now(),
        cpuMs: usage().cpuMs,
        found: diagnostics.map((one) => JSON.stringify(one)),
      });
  });
  const ready = new Promise<number>((done) => {
    connection.onNotification('fineweight/status', ({ state }: { state: string }) => {
      if (state === 'ready') done(performance.now());
    });
  });
  const start = performance.now();
  await connection.sendRequest('initialize', {
    processId: process.pid,
    rootUri: null,
    capabilities: { textDocument: { publishDiagnostics: { relatedInformation: true } } },
    workspaceFolders: [{ uri: pathToFileURL(root).href, name: 'shop' }],
    initializationOptions: { cursor: true, status: true },
  });
  await connection.sendNotification('initialized', {});
  await connection.sendNotification('textDocument/didOpen', {
    textDocument: { uri, languageId: 'melt', version: 1, text },
  });
  const waits = askUntil(connection, uri, ready);
  const end = await ready;
  const answers = await waits;
  const last = new Set(published.at(-1)!.found);
  const first = published.find(({ found }) => found.length > 0)!;
  const shown = new Set(published.flatMap(({ found }) => found));
  return {
    firstMs: first.at - start,
    firstCpuMs: first.cpuMs,
    firstFindings: first.found.length,
    untrue: [...shown].filter((one) => !last.has(one)).length,
    later: last.size - first.found.length,
    allMs: end - start,
    firstAnswerMs: answers.first - start,
    longestAnswerMs: answers.longest,
    answers: answers.count,
    ...usage(),
  };
};

/** Asks for the page's outline again and again, each time 5 ms after the answer before. */
const askUntil = async (connection: MessageConnection, uri: string, ready: Promise<unknown>) => {
  let over = false;
  void ready.then(() => {
    over = true;
  });
  let first = 0;
  let longest = 0;
  let count = 0;
  while (!over) {
    const asked = performance.now();
    await connection.sendRequest('textDocument/documentSymbol', { textDocument: { uri } });
    const answered = performance.now();
    if (count++ === 0) first = answered;
    else longest = Math.max(longest, answered - asked);
    await new Promise((resume) => setTimeout(resume, 5));
  }
  return { first, longest, count };
};
