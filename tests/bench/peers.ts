/**
 * What an editor asks for, through real servers over standard input and output: ours beside general ones for data files and beside the floor. Wall
 * time is until the answer, or until findings come, a server's own rest before it speaks included; processor time is all that it costs the server,
 * findings included. Prints tables and how each figure grows with the length of the journal; judges nothing.
 */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { makeJournal, WORKSHOP } from '../support/journal';
import { ASKS, type Asked, ask, begin } from './asks';
import { OUR_FLAGS, startServer } from './process';

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
  readonly residentMb: number | undefined;
  readonly asked: ReadonlyMap<string, Asked>;
  /** What was not answered, and nothing was asked after it. */
  readonly gaveUp: string | undefined;
}

const wordsOf = (error: unknown): string => (error instanceof Error ? error.message : String(error));

const measure = async (peer: Peer, lines: number): Promise<Measured> => {
  const root = mkdtempSync(join(tmpdir(), 'fineweight-bench-'));
  const server = startServer(peer.script(), peer.flags);
  try {
    const pages = [...makeJournal(lines, peer.pages(lines))];
    for (const [name, text] of pages) writeFileSync(join(root, name), text);
    writeFileSync(join(root, 'workshop.yaml'), WORKSHOP);
    const [name, text] = pages[pages.length >> 1]!;
    const { language, ending, of } = peer.shape;
    const talk = await begin(server, root, { name: name.replace(/melt$/, ending), language, text: of(text) });
    const asked = new Map<string, Asked>();
    let gaveUp: string | undefined;
    for (const one of ASKS) {
      try {
        for (const [what, answered] of await ask(talk, one)) asked.set(what, answered);
      } catch (error) {
        gaveUp = `${one.name}: ${wordsOf(error)}`;
        break;
      }
    }
    return { openMs: talk.openMs, residentMb: server.usage().residentMb, asked, gaveUp };
  } finally {
    server.stop();
    rmSync(root, { recursive: true, force: true });
  }
};

const figure = (value: number | undefined, width = 9): string => (value ?? Number.NaN).toFixed(1).padStart(width);

const print = (name: string, { openMs, residentMb, asked, gaveUp }: Measured): void => {
  console.log(`  ${name}: open to findings ${figure(openMs, 0)} ms, ${figure(residentMb, 0)} MB`);
  for (const [what, { p50, p95, max, cpuMs, times }] of asked) {
    console.log(`    ${what.padEnd(38)}${figure(p50)}${figure(p95)}${figure(max)}   ${figure(cpuMs)}   ${times}`);
  }
  if (gaveUp) console.log(`    given up at ${gaveUp}`);
};

/** The power of the number of lines with which a figure grows: the slope of the line of least squares through their logarithms. */
const exponent = (points: readonly (readonly [lines: number, value: number])[]): number => {
  const logs = points.map(([lines, value]) => [Math.log(lines), Math.log(value)] as const);
  const mean = (at: 0 | 1): number => logs.reduce((so, one) => so + one[at], 0) / logs.length;
  const [x, y] = [mean(0), mean(1)];
  const slope = logs.reduce((so, one) => so + (one[0] - x) * (one[1] - y), 0);
  return slope / logs.reduce((so, one) => so + (one[0] - x) ** 2, 0);
};

const printGrowth = (found: ReadonlyMap<string, ReadonlyMap<number, Measured>>): void => {
  console.log('\nThe power of the lines with which the middle figure grows (0: not at all, 1: as the journal)');
  for (const [name, bySize] of found) {
    if (bySize.size < 2) continue;
    const powers = [...new Set([...bySize.values()].flatMap(({ asked }) => [...asked.keys()]))].flatMap((what) => {
      const points = [...bySize].flatMap(([lines, { asked }]) => {
        const p50 = asked.get(what)?.p50;
        return p50 === undefined ? [] : [[lines, p50] as const];
      });
      return points.length < 2 ? [] : [`${what} ${exponent(points).toFixed(2)}`];
    });
    console.log(`  ${name}: ${powers.join(', ')}`);
  }
};

const [sizes, only] = [process.argv[2]?.split(',').map(Number), process.argv[3]];
(async () => {
  console.log(
    'Through real servers, about the middle of an open page. Each: p50, p95 and max in ms, processor ms each, how often.',
  );
  const found = new Map<string, Map<number, Measured>>();
  for (const lines of sizes ?? [1_000, 10_000, 100_000]) {
    console.log(`\n${lines} lines`);
    for (const peer of PEERS.filter(({ name }) => name.includes(only ?? ''))) {
      try {
        const measured = await measure(peer, lines);
        print(peer.name, measured);
        found.set(peer.name, (found.get(peer.name) ?? new Map()).set(lines, measured));
      } catch (error) {
        console.log(`  ${peer.name}: given up: ${wordsOf(error)}`);
      }
    }
  }
  printGrowth(found);
})();
