/** What an editor asks of a server about the page on the screen, one at a time and many times over. */
import { join } from 'node:path';
import { performance } from 'node:perf_hooks';
import { pathToFileURL } from 'node:url';
import type { Position, Range } from 'vscode-languageserver-types';
import type { ServerProcess } from './process';

/** An open page, and a server that knows it. */
export interface Talk {
  readonly server: ServerProcess;
  readonly uri: string;
  /** As it was opened; every ask leaves it so, but for a digit. */
  readonly text: string;
  readonly end: Position;
  /** Of a weight in the middle, its first digit. */
  readonly digit: Range;
  readonly screen: Range;
  /** What the server said that it can. */
  readonly can: Readonly<Record<string, unknown>>;
  readonly openMs: number;
  readonly findings: () => Promise<void>;
  version: number;
}

export interface Asked {
  readonly p50: number;
  readonly p95: number;
  readonly max: number;
  /** Each, with what comes after the answer. None where the system does not tell. */
  readonly cpuMs: number | undefined;
  readonly times: number;
}

interface Ask {
  readonly name: string;
  /** That the server must have said it can; none for what every server does. */
  readonly needs?: string;
  /** Until the answer. */
  readonly once: (talk: Talk, round: number) => Promise<unknown>;
  /** An edit: what it costs comes after the answer too, and is let finish. */
  readonly isEdit?: true;
  /** What sets the page right again. */
  readonly back?: Pick<Ask, 'name' | 'once'>;
}

const change = (talk: Talk, range: Range, text: string): Promise<void> =>
  talk.server.connection.sendNotification('textDocument/didChange', {
    textDocument: { uri: talk.uri, version: ++talk.version },
    contentChanges: [{ range, text }],
  });

const about = (talk: Talk, method: string, more: object): Promise<unknown> =>
  within(talk.server.connection.sendRequest(method, { textDocument: { uri: talk.uri }, ...more }));

/** Findings of the page come with each: the weight is another one, or it stands there twice. */
const typed = async (talk: Talk, round: number): Promise<void> => {
  await change(talk, talk.digit, `${1 + (round % 9)}`);
};

const paste = (talk: Talk): Promise<void> => change(talk, { start: talk.end, end: talk.end }, talk.text);

const undo = (talk: Talk): Promise<void> => {
  const lines = talk.text.split('\n');
  const end = { line: talk.end.line + lines.length - 1, character: lines.at(-1)!.length };
  return change(talk, { start: talk.end, end }, '');
};

const untilFindings = async (talk: Talk, work: () => Promise<void>): Promise<void> => {
  const told = talk.findings();
  await work();
  await told;
};

export const ASKS: readonly Ask[] = [
  {
    name: 'a digit, then what stands there',
    isEdit: true,
    once: async (talk, round) => {
      await typed(talk, round);
      await about(talk, 'textDocument/hover', { position: talk.digit.start });
    },
  },
  { name: 'a digit, findings', isEdit: true, once: (talk, round) => untilFindings(talk, () => typed(talk, round)) },
  {
    name: 'a pasted page, findings',
    isEdit: true,
    once: (talk) => untilFindings(talk, () => paste(talk)),
    back: { name: 'undone, findings', once: (talk) => untilFindings(talk, () => undo(talk)) },
  },
  {
    name: 'hover',
    needs: 'hoverProvider',
    once: (talk) => about(talk, 'textDocument/hover', { position: talk.digit.start }),
  },
  {
    name: 'completion',
    needs: 'completionProvider',
    once: (talk) => about(talk, 'textDocument/completion', { position: talk.digit.start }),
  },
  {
    name: 'hints of a screen',
    needs: 'inlayHintProvider',
    once: (talk) => about(talk, 'textDocument/inlayHint', { range: talk.screen }),
  },
  {
    name: 'colours of a screen',
    needs: 'semanticTokensProvider',
    once: (talk) => about(talk, 'textDocument/semanticTokens/range', { range: talk.screen }),
  },
  {
    name: 'format',
    needs: 'documentFormattingProvider',
    once: (talk) => about(talk, 'textDocument/formatting', { options: { tabSize: 2, insertSpaces: true } }),
  },
  {
    name: 'rename of a lot',
    needs: 'renameProvider',
    once: (talk, round) => {
      const { line } = talk.digit.start;
      return about(talk, 'textDocument/rename', { position: { line, character: 7 }, newName: `X${round}` });
    },
  },
];

/** A server that takes longer for one of them is given up. */
const PATIENCE_MS = 120_000;
/** So often each, */
const TIMES = 20;
const WARM = 3;
/** but of what takes long no more than fits into this. */
const ENOUGH_MS = 60_000;

/** By name; none where the server says that it cannot. */
export const ask = async (talk: Talk, of: Ask): Promise<ReadonlyMap<string, Asked>> => {
  const { usage } = talk.server;
  const found = new Map<string, Asked>();
  if (of.needs && !talk.can[of.needs]) return found;
  const parts = [of, ...(of.back ? [of.back] : [])].map((one) => ({ ...one, times: [] as number[], cpuMs: 0 }));
  await settled(usage);
  const began = performance.now();
  for (let round = 0; round < WARM + TIMES; round++) {
    if (performance.now() - began > ENOUGH_MS && round > 0) break;
    for (const part of parts) {
      const before = usage().cpuMs ?? Number.NaN;
      const asked = performance.now();
      await part.once(talk, round);
      const tookMs = performance.now() - asked;
      // Findings come after a rest of the server's own choosing: all of them are let finish before the next.
      if (of.isEdit) await settled(usage);
      if (round < WARM && tookMs < ENOUGH_MS / TIMES) continue;
      part.times.push(tookMs);
      part.cpuMs += (usage().cpuMs ?? Number.NaN) - before;
    }
  }
  for (const { name, times, cpuMs } of parts) found.set(name, spreadOf(times, cpuMs));
  return found;
};

const spreadOf = (times: readonly number[], cpuMs: number): Asked => {
  const sorted = [...times].sort((a, b) => a - b);
  const at = (share: number): number => sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))]!;
  return { p50: at(0.5), p95: at(0.95), max: sorted.at(-1)!, cpuMs: cpuMs / times.length, times: times.length };
};

/** Opens a page and waits for its findings. */
export const begin = async (
  server: ServerProcess,
  root: string,
  page: { readonly name: string; readonly language: string; readonly text: string },
): Promise<Talk> => {
  const { connection, usage } = server;
  const uri = pathToFileURL(join(root, page.name)).href;
  let told = () => {};
  connection.onNotification('textDocument/publishDiagnostics', (params: { uri: string }) => {
    if (params.uri === uri) told();
  });
  connection.onRequest('client/registerCapability', () => null);
  connection.onRequest('workspace/configuration', ({ items }: { items: unknown[] }) => items.map(() => null));
  const findings = (): Promise<void> =>
    within(
      new Promise((done) => {
        told = done;
      }),
    );
  const { capabilities } = await connection.sendRequest<{ capabilities: Record<string, unknown> }>('initialize', {
    processId: process.pid,
    rootUri: pathToFileURL(root).href,
    capabilities: {
      textDocument: {
        publishDiagnostics: { versionSupport: true },
        hover: { contentFormat: ['markdown'] },
        completion: {},
        inlayHint: { resolveSupport: { properties: ['tooltip', 'label.location'] } },
        rename: {},
        formatting: {},
        semanticTokens: {
          requests: { range: true, full: true },
          tokenTypes: [],
          tokenModifiers: [],
          formats: ['relative'],
        },
      },
    },
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
  const lines = page.text.split('\n');
  const digit = weightInMiddle(lines);
  const { line } = digit.start;
  const screen = {
    start: { line: Math.max(0, line - ABOUT), character: 0 },
    end: { line: Math.min(lines.length - 1, line + ABOUT), character: 0 },
  };
  const end = { line: lines.length - 1, character: lines.at(-1)!.length };
  return { server, uri, text: page.text, end, digit, screen, can: capabilities, openMs, findings, version: 1 };
};

/** An editor of 40 lines that asks for 70 more each way, as was measured. */
const ABOUT = 90;

const within = <Value>(work: Promise<Value>): Promise<Value> =>
  new Promise((done, failed) => {
    const timer = setTimeout(() => failed(new Error(`nothing within ${PATIENCE_MS / 1000} s`)), PATIENCE_MS);
    work.then(done, failed).finally(() => clearTimeout(timer));
  });

/** Longer than any of them waits before it works. */
const IDLE_MS = 800;

/** Until it has used no processor time for as long as servers wait before they work. */
const settled = async (usage: ServerProcess['usage']): Promise<void> => {
  for (let [last, since] = [usage().cpuMs, performance.now()]; performance.now() - since < IDLE_MS; ) {
    await new Promise((resume) => setTimeout(resume, 50));
    const now = usage().cpuMs;
    if (now !== last) [last, since] = [now, performance.now()];
  }
};

/** The first digit of the weight of a button about the middle. */
const weightInMiddle = (lines: readonly string[]): Range => {
  const line = lines.findIndex((one, at) => at >= lines.length >> 1 && /out B\d+ [\d.]+ g button/.test(one));
  const character = lines[line]!.search(/\d[\d.]+ g button/);
  return { start: { line, character }, end: { line, character: character + 1 } };
};
