/** What no editor should send, sent to the built server: it answers, it lives, and what it says afterwards of an honest page is what it said before. */
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import fc from 'fast-check';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { type Client, codes, endClients, hints, leave, open, startClient, until, uriOf } from '../support/client';
import { makeJournal } from '../support/journal';

const WORKSHOP = 'shop: { name: Tarn End }\nscales:\n  bench: { division: 0.01 g, capacity: 2000 g }\n';

const MAY = `2026-05-04

receive A1
  61.37 g on bench

cast C1
  in A1 61.73 g on bench
  out B1 61.30 g bar on bench
`;

/** JSON-RPC 2.0, section 5.1: the fault is the server's own. No input may lead to it. */
const INTERNAL_ERROR = -32603;

let client: Client;
let honest: { readonly codes: string[] | undefined; readonly hints: number };

const now = async (): Promise<typeof honest> => ({
  codes: codes(client, 'may.melt'),
  hints: (await hints(client, 'may.melt')).length,
});

beforeEach(async () => {
  client = await startClient({ files: { 'workshop.yaml': WORKSHOP, 'may.melt': MAY } });
  await open(client, 'may.melt', MAY);
  await until('the finding', () => codes(client, 'may.melt')?.includes('weight-changed') ?? false);
  honest = await now();
  expect(honest.hints).toBeGreaterThan(0);
});

afterEach(async () => {
  try {
    // What another page lent to this one goes with it, a moment later.
    await until('the finding, alone again', () => String(codes(client, 'may.melt')) === String(honest.codes), 60_000);
    expect(await now()).toEqual(honest);
    expect(client.process.exitCode).toBeNull();
  } finally {
    endClients();
  }
}, 90_000);

const codeOf = (answer: Promise<unknown>): Promise<number | undefined> =>
  answer.then(
    () => undefined,
    ({ code }: { code: number }) => code,
  );

const send = (method: string, params: object): Promise<unknown> => client.connection.sendRequest(method, params);
const tell = (method: string, params: object): Promise<void> => client.connection.sendNotification(method, params);

/** Every request that is asked of a place, with what it wants beside the place. */
const AT_A_PLACE: readonly (readonly [string, object])[] = [
  ['textDocument/hover', {}],
  ['textDocument/completion', {}],
  ['textDocument/signatureHelp', {}],
  ['textDocument/definition', {}],
  ['textDocument/references', { context: { includeDeclaration: true } }],
  ['textDocument/documentHighlight', {}],
  ['textDocument/prepareRename', {}],
  ['textDocument/rename', { newName: 'X1' }],
  ['textDocument/prepareCallHierarchy', {}],
  ['textDocument/onTypeFormatting', { ch: '\n', options: { tabSize: 2, insertSpaces: true } }],
  ['textDocument/selectionRange', {}],
  ['fineweight/document', { kind: 'melt-sheet' }],
  ['fineweight/documentKinds', {}],
  ['fineweight/view', { view: 'day' }],
  ['fineweight/view', { view: 'family' }],
];

const OF_A_RANGE: readonly (readonly [string, object])[] = [
  ['textDocument/inlayHint', {}],
  ['textDocument/codeAction', { context: { diagnostics: [] } }],
  ['textDocument/rangesFormatting', { ranges: [], options: { tabSize: 2, insertSpaces: true } }],
  ['textDocument/rangeFormatting', { options: { tabSize: 2, insertSpaces: true } }],
  ['textDocument/semanticTokens/range', {}],
];

const OF_A_PAGE: readonly (readonly [string, object])[] = [
  ['textDocument/documentSymbol', {}],
  ['textDocument/foldingRange', {}],
  ['textDocument/documentLink', {}],
  ['textDocument/codeLens', {}],
  ['textDocument/formatting', { options: { tabSize: 2, insertSpaces: true } }],
  ['textDocument/semanticTokens/full', {}],
  ['textDocument/semanticTokens/full/delta', { previousResultId: 'never' }],
];

const askEverything = async (uri: string, place: { line: number; character: number }): Promise<void> => {
  const textDocument = { uri };
  const range = { start: place, end: { line: place.line + 1, character: place.character } };
  const asked = [
    ...AT_A_PLACE.map(([method, more]) => [method, { textDocument, position: place, positions: [place], ...more }]),
    ...OF_A_RANGE.map(([method, more]) => [method, { textDocument, range, ...more }]),
    ...OF_A_PAGE.map(([method, more]) => [method, { textDocument, ...more }]),
  ] as const;
  for (const [method, params] of asked) {
    const code = await codeOf(send(method as string, params as object));
    expect(code, `${String(method)} at ${place.line}:${place.character} of ${uri}`).not.toBe(INTERNAL_ERROR);
  }
};

describe('positions', () => {
  test('beyond the end, behind the line, between the halves of a letter, and in pages that nobody has', async () => {
    const FAR = 2 ** 31 - 1;
    await open(client, 'odd.melt', 'receive 😀 1 g\n');
    for (const name of ['may.melt', 'odd.melt', 'absent.melt'])
      for (const [line, character] of [
        [0, 0],
        [FAR, 0],
        [0, FAR],
        [FAR, FAR],
        [0, 9],
      ] as const)
        await askEverything(uriOf(client, name), { line, character });
    for (const uri of [
      '',
      'nonsense',
      'untitled:Untitled-1',
      'http://a.invalid/b.melt',
      'file:///%',
      'git:/may.melt?{}',
    ])
      await askEverything(uri, { line: 0, character: 0 });
    await tell('textDocument/didClose', { textDocument: { uri: uriOf(client, 'odd.melt') } });
  });

  test('at any place of a page of mistakes', async () => {
    const text = readFileSync(resolve(__dirname, '../../samples/mistakes/mistakes.melt'), 'utf8');
    await open(client, 'mistakes.melt', text);
    const { length } = text.split('\n');
    const places = fc.sample(fc.record({ line: fc.nat(length), character: fc.nat(60) }), {
      numRuns: 12,
      seed: 20_261_128,
    });
    for (const place of places) await askEverything(uriOf(client, 'mistakes.melt'), place);
    await tell('textDocument/didClose', { textDocument: { uri: uriOf(client, 'mistakes.melt') } });
  });
});

describe('messages', () => {
  test('of no known method are refused, and notices of none passed over', async () => {
    // JSON-RPC 2.0, section 5.1: method not found.
    expect(await codeOf(send('textDocument/melt', {}))).toBe(-32601);
    await tell('$/nothing', {});
    await tell('textDocument/melt', {});
  });

  test('without what they need are answered', async () => {
    const all = [...AT_A_PLACE, ...OF_A_RANGE, ...OF_A_PAGE, ['workspace/symbol', {}] as const];
    for (const [method] of all)
      for (const params of [{}, { textDocument: null }, { textDocument: { uri: 7 } }, [], { position: 'x' }])
        await Promise.race([codeOf(send(method, params as object)), until('never', () => false, 5000)]);
  }, 60_000);

  test('that are no JSON at all are passed over', async () => {
    const raw = (body: string): void => {
      client.process.stdin!.write(`Content-Length: ${Buffer.byteLength(body)}\r\n\r\n${body}`);
    };
    raw('{');
    raw('null');
    raw('[]');
    raw('{"jsonrpc":"2.0","id":{},"method":7}');
    raw('"\\ud800"');
  });
});

describe('changes', () => {
  const uri = (): string => uriOf(client, 'second.melt');
  const change = (version: number, changes: readonly object[]): Promise<void> =>
    tell('textDocument/didChange', { textDocument: { uri: uri(), version }, contentChanges: changes });

  test('of a page that was never opened, or was closed twice, are passed over', async () => {
    await change(2, [{ text: 'receive Z 1 g\n' }]);
    await tell('textDocument/didClose', { textDocument: { uri: uri() } });
    await tell('textDocument/didClose', { textDocument: { uri: uri() } });
    await tell('textDocument/didSave', { textDocument: { uri: uri() } });
  });

  test('with versions that go back, and ranges beyond the end', async () => {
    await open(client, 'second.melt', '2026-05-05\n\nreceive Z1\n  5.00 g on bench\n');
    const far = { line: 999, character: 999 };
    await change(9, [{ range: { start: far, end: far }, text: '\nnote end\n' }]);
    await change(3, [{ range: { start: far, end: { line: 0, character: 0 } }, text: '' }]);
    await change(4, [{ text: '2026-05-05\n\nreceive Z1\n  5.00 g on bench\n' }]);
    await until('the page anew', () => (codes(client, 'second.melt') ?? ['?']).length === 0);
    await tell('textDocument/didClose', { textDocument: { uri: uri() } });
  });

  test('to half letters, NUL, and a line of ten million letters', async () => {
    for (const text of ['receive \ud800 1 g\n', 'receive \u0000 1 g\n\u0000', `note ${'a'.repeat(10_000_000)}\n`]) {
      await open(client, 'second.melt', text);
      await askEverything(uri(), { line: 0, character: 9 });
      await tell('textDocument/didClose', { textDocument: { uri: uri() } });
    }
  }, 60_000);

  test('a page opened and closed five hundred times', async () => {
    for (let times = 0; times < 500; times++) {
      await open(client, 'second.melt', `2026-05-05\n\nreceive Z${times}\n  5.00 g on bench\n`);
      await tell('textDocument/didClose', { textDocument: { uri: uri() } });
    }
  }, 60_000);
});

describe('the end', () => {
  test('comes when the client is gone without a word', async () => {
    const other = await startClient({ files: { 'may.melt': MAY } });
    other.process.stdin!.end();
    await other.exited;
  });

  test('comes as it is asked for, in the middle of work', async () => {
    const other = await startClient({ files: { 'may.melt': MAY } });
    const [long] = makeJournal(10_000, 1).values();
    await open(other, 'may.melt', long!);
    expect(await leave(other)).toBe(0);
  });
});
