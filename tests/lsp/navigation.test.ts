/** Finding one's way and writing, over the protocol. */
import { afterEach, describe, expect, test } from 'vitest';
import type {
  CallHierarchyItem,
  CallHierarchyOutgoingCall,
  CodeAction,
  CodeLens,
  CompletionList,
  DocumentHighlight,
  FoldingRange,
  InlayHint,
  InlayHintLabelPart,
  Location,
  SelectionRange,
  TextEdit,
  WorkspaceEdit,
  WorkspaceSymbol,
} from 'vscode-languageserver/node';
import {
  applied,
  CAPABILITIES,
  type Client,
  endClients,
  find,
  hints,
  open,
  startClient,
  uriOf,
} from '../support/client';

afterEach(endClients);

const MAY = `2026-05-04

receive A1
  61.37 g
  photo a1.jpg

cast C1
  in A1 61.37 g
  out B1 61.30 g bar
`;
const JUNE = '2026-06-01\n\ncast C2\n  in B1 61.30 g\n  out B2 61.30 g bar\n';
const FILES = { 'workshop.yaml': 'shop: { name: Tarn End }\n', 'may.melt': MAY, 'june.melt': JUNE };

const started = async (settings?: unknown, options: Readonly<Record<string, unknown>> = {}): Promise<Client> => {
  const completionItem = { snippetSupport: true, labelDetailsSupport: true };
  const snippets = { textDocument: { completion: { completionItem } } };
  const capabilities = { ...CAPABILITIES, textDocument: { ...CAPABILITIES.textDocument, ...snippets.textDocument } };
  const client = await startClient({ files: FILES, capabilities, settings, options: { cursor: true, ...options } });
  await open(client, 'june.melt', JUNE);
  return client;
};

const ask = <Answer>(client: Client, method: string, sought: string, more: object = {}): Promise<Answer> =>
  client.connection.sendRequest(method, {
    textDocument: { uri: uriOf(client, 'june.melt') },
    position: find(client, 'june.melt', sought),
    ...more,
  });

const where = (client: Client, { uri, range }: Location): string =>
  `${uri.slice(uriOf(client, '').length + 1)}:${range.start.line}:${range.start.character}`;

test('a hint leads to the other weight that it speaks of', async () => {
  const { textDocument } = CAPABILITIES;
  const inlayHint = { resolveSupport: { properties: ['tooltip', 'label.location'] } };
  const capabilities = { ...CAPABILITIES, textDocument: { ...textDocument, inlayHint } };
  const june = JUNE.replace('61.30', '61.03');
  const client = await startClient({ files: { ...FILES, 'june.melt': june }, capabilities });
  await open(client, 'june.melt', june);
  const hint = (await hints(client, 'june.melt')).find(({ position }) => position.line === 3)!;
  expect(hint.label).toHaveLength(1);
  const resolved = await client.connection.sendRequest<InlayHint>('inlayHint/resolve', hint);
  const [part] = resolved.label as InlayHintLabelPart[];
  expect(part!.value).toBe((hint.label as InlayHintLabelPart[])[0]!.value);
  expect(where(client, part!.location!)).toBe('may.melt:8:9');
});

test('an entry can be rewritten, where somebody asks for it and not at every move of the cursor', async () => {
  const client = await started();
  const at = find(client, 'june.melt', 'cast');
  const ask = async (context: object): Promise<readonly CodeAction[]> =>
    client.connection.sendRequest('textDocument/codeAction', {
      textDocument: { uri: uriOf(client, 'june.melt') },
      range: { start: at, end: at },
      context: { diagnostics: [], ...context },
    });
  const byHand = await ask({ triggerKind: 1 });
  expect(byHand.map(({ kind, title }) => [kind, title])).toEqual([
    ['refactor.extract', 'Plan it again for today: “plan cast C3”'],
  ]);
  expect(applied(client, 'june.melt', byHand[0]!)).toMatch(
    /\n\n\d{4}-\d\d-\d\d\n\nplan cast C3\n {2}in B2\n {2}out B3 bar\n$/,
  );
  expect(await ask({ triggerKind: 2 })).toEqual([]);
  expect(await ask({ only: ['refactor'] })).toHaveLength(1);
  expect(await ask({ only: ['refactor.rewrite'] })).toEqual([]);
});

describe('a name', () => {
  test('leads to where it was given, and to every use, over all files', async () => {
    const client = await started();
    const given = await ask<Location[]>(client, 'textDocument/definition', 'B1');
    expect(given.map((one) => where(client, one))).toEqual(['may.melt:8:6']);
    const uses = await ask<Location[]>(client, 'textDocument/references', 'B1', {
      context: { includeDeclaration: false },
    });
    expect(uses.map((one) => where(client, one))).toEqual(['june.melt:3:5']);
    const here = await ask<DocumentHighlight[]>(client, 'textDocument/documentHighlight', 'B2');
    expect(here.map(({ kind }) => kind)).toEqual([3]);
  });

  test('is changed in all files at once, or refused with a sentence', async () => {
    const client = await started();
    const edit = await ask<WorkspaceEdit>(client, 'textDocument/rename', 'B1', { newName: 'BAR-1' });
    expect(JSON.stringify(edit).match(/"newText":"BAR-1"/g)).toHaveLength(2);
    await expect(ask(client, 'textDocument/rename', 'B1', { newName: 'A1' })).rejects.toThrow('A1 is taken');
    await expect(ask(client, 'textDocument/prepareRename', '61.30')).rejects.toThrow('no name here');
  });

  test('has a family', async () => {
    const client = await started();
    const [item] = await ask<CallHierarchyItem[]>(client, 'textDocument/prepareCallHierarchy', 'B1');
    expect(item).toMatchObject({ name: 'B1', detail: '61.30 g bar, cast C1, 2026-05-04' });
    const to = await client.connection.sendRequest<CallHierarchyOutgoingCall[]>('callHierarchy/outgoingCalls', {
      item,
    });
    expect(to.map((one) => one.to.name)).toEqual(['B2']);
    const from = await client.connection.sendRequest<{ from: CallHierarchyItem }[]>('callHierarchy/incomingCalls', {
      item,
    });
    expect(from.map((one) => one.from.name)).toEqual(['A1']);
  });

  test('is found from anywhere', async () => {
    const client = await started();
    const found = await client.connection.sendRequest<WorkspaceSymbol[]>('workspace/symbol', { query: 'b' });
    expect(found.map(({ name }) => name)).toEqual(['B2', 'B1']);
  });
});

describe('a page', () => {
  test('folds, widens a selection, links its photos', async () => {
    const client = await started();
    const folds = await ask<FoldingRange[]>(client, 'textDocument/foldingRange', 'cast');
    expect(folds.map(({ startLine, endLine }) => [startLine, endLine])).toEqual([
      [0, 4],
      [2, 4],
    ]);
    const [selection] = await ask<SelectionRange[]>(client, 'textDocument/selectionRange', 'cast', {
      positions: [find(client, 'june.melt', '61.30')],
    });
    expect(selection?.range.start).toEqual({ line: 3, character: 8 });
    expect(selection?.parent?.range.end).toEqual({ line: 3, character: 15 });
    const links = await client.connection.sendRequest<{ target: string }[]>('textDocument/documentLink', {
      textDocument: { uri: uriOf(client, 'may.melt') },
    });
    expect(links.map(({ target }) => target)).toEqual([uriOf(client, 'a1.jpg')]);
  });

  test('offers what fits at the cursor; behind a blank only values', async () => {
    const client = await started();
    const asked = await ask<CompletionList>(client, 'textDocument/completion', 'B1 61.30');
    const detail = '61.30 g bar';
    expect(asked.items[0]).toMatchObject({ label: 'B1', detail, labelDetails: { description: detail } });
    const unasked = await ask<CompletionList>(client, 'textDocument/completion', 'in B1', {
      context: { triggerKind: 2, triggerCharacter: ' ' },
    });
    expect(unasked.items).toEqual([]);
    const verbs = await ask<CompletionList>(client, 'textDocument/completion', 'cast');
    expect(verbs.items.find(({ label }) => label === 'cast')?.insertTextFormat).toBe(2);
  });
});

describe('every capability that is announced', () => {
  /** The method that each provider answers. */
  const METHODS: Readonly<Record<string, string>> = {
    hoverProvider: 'textDocument/hover',
    documentSymbolProvider: 'textDocument/documentSymbol',
    inlayHintProvider: 'textDocument/inlayHint',
    codeActionProvider: 'textDocument/codeAction',
    completionProvider: 'textDocument/completion',
    signatureHelpProvider: 'textDocument/signatureHelp',
    semanticTokensProvider: 'textDocument/semanticTokens/full',
    codeLensProvider: 'textDocument/codeLens',
    documentFormattingProvider: 'textDocument/formatting',
    documentRangeFormattingProvider: 'textDocument/rangeFormatting',
    documentOnTypeFormattingProvider: 'textDocument/onTypeFormatting',
    definitionProvider: 'textDocument/definition',
    referencesProvider: 'textDocument/references',
    documentHighlightProvider: 'textDocument/documentHighlight',
    renameProvider: 'textDocument/prepareRename',
    foldingRangeProvider: 'textDocument/foldingRange',
    selectionRangeProvider: 'textDocument/selectionRange',
    documentLinkProvider: 'textDocument/documentLink',
    workspaceSymbolProvider: 'workspace/symbol',
    callHierarchyProvider: 'textDocument/prepareCallHierarchy',
  };

  test('is answered without an error', async () => {
    const client = await started();
    const announced = Object.keys(client.initialized.capabilities).filter((name) => name.endsWith('Provider'));
    expect(announced.sort()).toEqual(Object.keys(METHODS).sort());
    // Asked in the tests of the record.
    expect(Object.keys(client.initialized.capabilities.workspace?.fileOperations ?? {})).toEqual(['willRename']);
    const position = find(client, 'june.melt', 'B1');
    const params = {
      textDocument: { uri: uriOf(client, 'june.melt') },
      position,
      positions: [position],
      range: { start: { line: 0, character: 0 }, end: position },
      context: { diagnostics: [], includeDeclaration: true },
      options: { tabSize: 2, insertSpaces: true },
      query: 'b',
    };
    for (const method of Object.values(METHODS)) {
      const answer = await client.connection.sendRequest(method, params);
      expect(answer, method).toBeDefined();
    }
  });

  test('some lines are put in form, each once however they are asked for', async () => {
    const page = '2026-05-04\nreceive  A1  1.00 g\nreceive  A2  2.00 g\nreceive  A3  3.00 g\n';
    const client = await startClient({ files: { 'may.melt': page } });
    await open(client, 'may.melt', page);
    const line = (at: number) => ({ start: { line: at, character: 0 }, end: { line: at, character: 18 } });
    const edits = await client.connection.sendRequest<TextEdit[]>('textDocument/rangesFormatting', {
      textDocument: { uri: uriOf(client, 'may.melt') },
      ranges: [line(1), line(1), line(3)],
      options: { tabSize: 2, insertSpaces: true },
    });
    expect([...new Set(edits.map(({ range }) => range.start.line))]).toEqual([1, 3]);
    expect(new Set(edits.map((edit) => JSON.stringify(edit))).size).toBe(edits.length);
  });

  test('lenses lead on where the client has their commands', async () => {
    const settings = { lenses: { enabled: true, balance: false } };
    const lenses = async (options: Readonly<Record<string, unknown>>): Promise<string[]> => {
      const client = await started(settings, options);
      const uri = { textDocument: { uri: uriOf(client, 'may.melt') } };
      const found = await client.connection.sendRequest<CodeLens[]>('textDocument/codeLens', uri);
      return found.map(({ command }) => `${command!.title} → ${command!.command} ${command!.arguments?.[2] ?? ''}`);
    };
    expect(await lenses({ commands: true })).toEqual([
      expect.stringMatching(/^used once → fineweight\.showPlaces /),
      expect.stringMatching(/^trace B1 → fineweight\.trace /),
      'summary → fineweight.summary C1',
    ]);
    expect(await lenses({})).toEqual([expect.stringMatching(/^used once → {2}/)]);
  });

  test('tokens come whole, in part, and as a difference', async () => {
    const client = await started();
    const uri = { textDocument: { uri: uriOf(client, 'june.melt') } };
    const whole = await client.connection.sendRequest<{ data: number[]; resultId: string }>(
      'textDocument/semanticTokens/full',
      uri,
    );
    expect(whole.data.length).toBe(5 * 3);
    const changes = await client.connection.sendRequest<{ edits: unknown[] }>(
      'textDocument/semanticTokens/full/delta',
      {
        ...uri,
        previousResultId: whole.resultId,
      },
    );
    expect(changes.edits).toEqual([]);
    const view = await client.connection.sendRequest<{ label: string }[]>('fineweight/view', { view: 'onHand' });
    expect(view.map(({ label }) => label)).toEqual(['the shop']);
  });
});
