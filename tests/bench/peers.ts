/**
 * Edits through real servers, ours beside general ones for data files and beside the floor, all over standard input and output: a digit changes in
 * the middle of the page, and the place is asked about. Wall time is until the answer; processor time is all that an edit costs the server, its
 * findings included. Prints a table; judges nothing.
 */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { performance } from 'node:perf_hooks';
import { pathToFileURL } from 'node:url';
import { makeJournal, WORKSHOP } from '../support/journal';
import { OUR_FLAGS, type ServerProcess, startServer } from './process';

const ROOT = resolve(__dirname, '../..');
const installed = createRequire(join(ROOT, 'package.json'));

interface Shape {
  readonly language: string;
  readonly ending: string;
  readonly of: (journal: string) => string;
}

/** The same lines as a document of another language, one for one. */
const asYaml = (journal: string): string => {
  let details = 0;
  return journal
    .split('\n')
    .map((line) => {
      if (/^\d/.test(line)) return `- day: ${line}`;
      if (line === '') return '';
      const said = JSON.stringify(line.trim());
      if (!line.startsWith(' ')) {
        details = 0;
        return `- entry: ${said}`;
      }
      return `  said-${++details}: ${said}`;
    })
    .join('\n');
};

const asJson = (journal: string): string => {
  let details = 0;
  let open = false;
  const lines = journal.split('\n').map((line) => {
    if (line === '') return '';
    const said = JSON.stringify(line.trim());
    if (line.startsWith(' ')) return `, "said-${++details}": ${said}`;
    const before = open ? '}, ' : '';
    open = true;
    details = 0;
    return `${before}{ "entry": ${said}`;
  });
  return `[${lines.join('\n')}}]`;
};

const MELT: Shape = { language: 'melt', ending: 'melt', of: (journal) => journal };

interface Peer {
  readonly name: string;
  readonly script: () => string;
  readonly flags?: readonly string[];
  readonly shape: Shape;
  /** Over so many pages, one of which is open. */
  readonly pages: (lines: number) => number;
}

const one = () => 1;
const PEERS: readonly Peer[] = [
  { name: 'floor', script: () => join(__dirname, 'floor.js'), shape: MELT, pages: one },
  {
    name: 'Fineweight, a page a month',
    script: () => join(ROOT, 'server/dist/lsp.js'),
    flags: OUR_FLAGS,
    shape: MELT,
    pages: (lines) => Math.max(1, Math.round(lines / 833)),
  },
  {
    name: 'Fineweight, one page',
    script: () => join(ROOT, 'server/dist/lsp.js'),
    flags: OUR_FLAGS,
    shape: MELT,
    pages: one,
  },
  {
    name: 'JSON server, one document',
    script: () => installed.resolve('vscode-json-languageserver/bin/vscode-json-languageserver'),
    shape: { language: 'json', ending: 'json', of: asJson },
    pages: one,
  },
  {
    name: 'YAML server, one document',
    script: () => installed.resolve('yaml-language-server/bin/yaml-language-server'),
    shape: { language: 'yaml', ending: 'yaml', of: asYaml },
    pages: one,
  },
];

interface Measured {
  readonly openMs: number;
  readonly answers: readonly number[];
  /** All of one edit. */
  readonly cpuMs: number | undefined;
  readonly residentMb: number | undefined;
}

/** A peer that takes longer for one edit is given up. */
const PATIENCE_MS = 60_000;
const EDITS = 25;
const WARM = 5;

const measure = async (peer: Peer, lines: number): Promise<Measured> => {
  const root = mkdtempSync(join(tmpdir(), 'fineweight-bench-'));
  const server = startServer(peer.script(), peer.flags);
  try {
    const pages = [...makeJournal(lines, peer.pages(lines))];
    for (const [name, text] of pages) writeFileSync(join(root, name), text);
    writeFileSync(join(root, 'workshop.yaml'), WORKSHOP);
    const [name, text] = pages[pages.length >> 1]!;
    const { language, ending, of } = peer.shape;
    return await follow(server, root, { name: name.replace(/melt$/, ending), language, text: of(text) });
  } finally {
    server.stop();
    rmSync(root, { recursive: true, force: true });
  }
};

const follow = async (
  { connection, usage }: ServerProcess,
  root: string,
  page: { readonly name: string; readonly language: string; readonly text: string },
): Promise<Measured> => {
  const uri = pathToFileURL(join(root, page.name)).href;
  let told = () => {};
  connection.onNotification('textDocument/publishDiagnostics', (params: { uri: string }) => {
    if (params.uri === uri) told();
  });
  connection.onRequest('client/registerCapability', () => null);
  connection.onRequest('workspace/configuration', ({ items }: { items: unknown[] }) => items.map(() => null));
  const findings = (): Promise<void> => within(new Promise((done) => (told = done)));
  await connection.sendRequest('initialize', {
    processId: process.pid,
    rootUri: pathToFileURL(root).href,
    capabilities: { textDocument: { publishDiagnostics: { versionSupport: true } } },
    workspaceFolders: [{ uri: pathToFileURL(root).href, name: 'shop' }],
  });
  await connection.sendNotification('initialized', {});
  const start = performance.now();
  const opened = findings();
  const textDocument = { uri, languageId: page.language, version: 1, text: page.text };
  await connection.sendNotification('textDocument/didOpen', { textDocument });
  await opened;
  const openMs = performance.now() - start;
  await settled(usage);
  const place = weightInMiddle(page.text);
  const answers: number[] = [];
  let before = usage().cpuMs;
  for (let edit = 0; edit < WARM + EDITS; edit++) {
    if (edit === WARM) {
      await settled(usage);
      before = usage().cpuMs;
    }
    const edited = performance.now();
    await connection.sendNotification('textDocument/didChange', {
      textDocument: { uri, version: 2 + edit },
      contentChanges: [{ range: place, text: `${1 + (edit % 9)}` }],
    });
    await within(connection.sendRequest('textDocument/hover', { textDocument: { uri }, position: place.start }));
    if (edit >= WARM) answers.push(performance.now() - edited);
    // Findings come after a pause of the server's own choosing: all of them are let finish before the next key.
    await settled(usage);
  }
  const { cpuMs, residentMb } = usage();
  return { openMs, answers, cpuMs: cpuMs === undefined ? undefined : (cpuMs - before!) / EDITS, residentMb };
};

const within = <Value>(work: Promise<Value>): Promise<Value> =>
  new Promise((done, failed) => {
    const timer = setTimeout(() => failed(new Error(`nothing within ${PATIENCE_MS / 1000} s`)), PATIENCE_MS);
    work.then(done, failed).finally(() => clearTimeout(timer));
  });

/** Longer than any of them waits before it works. */
const IDLE_MS = 700;

/** Until it has used no processor time for as long as servers wait before they work. */
const settled = async (usage: ServerProcess['usage']): Promise<void> => {
  for (let [last, since] = [usage().cpuMs, performance.now()]; performance.now() - since < IDLE_MS; ) {
    await new Promise((resume) => setTimeout(resume, 50));
    const now = usage().cpuMs;
    if (now !== last) [last, since] = [now, performance.now()];
  }
};

/** The last digit before the unit of a weight about the middle. */
const weightInMiddle = (text: string) => {
  const lines = text.split('\n');
  const line = lines.findIndex((one, at) => at >= lines.length >> 1 && /out B\d+ [\d.]+ g button/.test(one));
  const character = lines[line]!.search(/\d g button/);
  return { start: { line, character }, end: { line, character: character + 1 } };
};

const figure = (value: number | undefined, width = 9): string => (value ?? Number.NaN).toFixed(1).padStart(width);

const print = (name: string, { openMs, answers, cpuMs, residentMb }: Measured): void => {
  const sorted = [...answers].sort((a, b) => a - b);
  const at = (share: number): number => sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))]!;
  console.log(
    `  ${name.padEnd(28)}${figure(openMs)}   ${figure(at(0.5))}${figure(at(0.95))}${figure(sorted.at(-1))}   ${figure(cpuMs)}   ${figure(residentMb, 7)}`,
  );
};

const sizes = process.argv.slice(2).map(Number);
(async () => {
  console.log('Through real servers: one digit changed in mid page, and the place asked about.');
  for (const lines of sizes.length > 0 ? sizes : [1_000, 10_000, 100_000]) {
    console.log(`\n${`${lines} lines`.padEnd(30)}  open ms   answer p50      p95      max   CPU/edit ms   MB`);
    for (const peer of PEERS) {
      try {
        print(peer.name, await measure(peer, lines));
      } catch (error) {
        console.log(`  ${peer.name.padEnd(28)}  given up: ${error instanceof Error ? error.message : String(error)}`);
      }
    }
  }
})();
