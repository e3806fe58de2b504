/** The built server as a child process over standard input and output, and a client that speaks to it. No part of the connection is made up. */
import { type ChildProcess, spawn } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import type {
  CodeAction,
  Diagnostic,
  DocumentSymbol,
  Hover,
  InitializeResult,
  InlayHint,
  Position,
  PublishDiagnosticsParams,
  TextDocumentEdit,
} from 'vscode-languageserver/node';
import {
  createMessageConnection,
  type MessageConnection,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-languageserver/node';

export const SERVER = resolve(__dirname, '../../server/dist/lsp.js');

export interface Client {
  readonly process: ChildProcess;
  readonly connection: MessageConnection;
  readonly root: string;
  readonly initialized: InitializeResult;
  /** Everything that was published, in order. */
  readonly published: PublishDiagnosticsParams[];
  /** What was written to the log. */
  readonly log: string[];
  /** Requests of the server, by method. */
  readonly asked: Map<string, unknown[]>;
  readonly exited: Promise<number | null>;
  readonly versions: Map<string, number>;
  readonly texts: Map<string, string>;
}

export interface ClientOptions {
  /** What Node is to run; the server itself where nothing is said. */
  readonly program?: readonly string[];
  /** Files by name, written to a new folder; or a folder that is copied there. */
  readonly files?: Readonly<Record<string, string | Uint8Array>>;
  readonly folder?: string;
  readonly settings?: unknown;
  readonly capabilities?: Readonly<Record<string, unknown>>;
  readonly options?: Readonly<Record<string, unknown>>;
}

/** What an editor with everything says of itself. */
export const CAPABILITIES = {
  workspace: {
    configuration: true,
    didChangeConfiguration: { dynamicRegistration: true },
    workspaceEdit: { documentChanges: true, changeAnnotationSupport: { groupsOnLabel: true } },
    didChangeWatchedFiles: { dynamicRegistration: true },
    inlayHint: { refreshSupport: true },
  },
  textDocument: {
    publishDiagnostics: { relatedInformation: true, versionSupport: true, codeDescriptionSupport: true },
    hover: { contentFormat: ['markdown', 'plaintext'] },
    documentSymbol: { hierarchicalDocumentSymbolSupport: true },
    inlayHint: { resolveSupport: { properties: ['tooltip'] } },
    codeAction: { codeActionLiteralSupport: { codeActionKind: { valueSet: [] } } },
  },
};

const running = new Set<Client>();

/** Starts a server on a folder of files. */
export const startClient = async (options: ClientOptions = {}): Promise<Client> => {
  const root = mkdtempSync(join(tmpdir(), 'fineweight-'));
  if (options.folder) cpSync(options.folder, root, { recursive: true });
  for (const [name, content] of Object.entries(options.files ?? {})) writeInto(root, name, content);
  const child = spawn(process.execPath, [...(options.program ?? [SERVER, '--stdio'])], {
    stdio: ['pipe', 'pipe', 'pipe'],
  });
  const connection = createMessageConnection(
    new StreamMessageReader(child.stdout),
    new StreamMessageWriter(child.stdin),
  );
  const exited = new Promise<number | null>((done) => child.on('exit', done));
  const client: Omit<Client, 'initialized'> = {
    process: child,
    connection,
    root,
    published: [],
    log: [],
    asked: new Map(),
    exited,
    versions: new Map(),
    texts: new Map(),
  };
  listen(client, options);
  const initialized = await connection.sendRequest<InitializeResult>('initialize', {
    processId: process.pid,
    rootUri: null,
    capabilities: options.capabilities ?? CAPABILITIES,
    workspaceFolders: [{ uri: pathToFileURL(root).href, name: 'shop' }],
    initializationOptions: options.options ?? { cursor: true },
  });
  const made = { ...client, initialized };
  running.add(made);
  await connection.sendNotification('initialized', {});
  return made;
};

const writeInto = (root: string, name: string, content: string | Uint8Array): void => {
  const path = join(root, name);
  mkdirSync(dirname(path), { recursive: true });
  writeFileSync(path, content);
};

const listen = (client: Omit<Client, 'initialized'>, { settings }: ClientOptions): void => {
  const { connection, published, log, asked } = client;
  connection.onNotification('textDocument/publishDiagnostics', (params: PublishDiagnosticsParams) => {
    published.push(params);
  });
  connection.onNotification('window/logMessage', ({ message }: { message: string }) => void log.push(message));
  connection.onRequest((method, params) => {
    asked.set(method, [...(asked.get(method) ?? []), params]);
    return method === 'workspace/configuration' ? [settings ?? null] : null;
  });
  connection.onClose(() => {});
  connection.onError(() => {});
  connection.listen();
};

/** Ends every server that a test started, and takes its folder away. */
export const endClients = (): void => {
  for (const { process: child, connection, root } of running) {
    child.kill();
    connection.dispose();
    rmSync(root, { recursive: true, force: true });
  }
  running.clear();
};

export const uriOf = (client: Client, name: string): string => pathToFileURL(join(client.root, name)).href;

export const open = async (client: Client, name: string, text: string, languageId = 'melt'): Promise<void> => {
  const uri = name.includes(':') ? name : uriOf(client, name);
  client.versions.set(name, 1);
  client.texts.set(name, text);
  await client.connection.sendNotification('textDocument/didOpen', {
    textDocument: { uri, languageId, version: 1, text },
  });
};

/** Replaces a range; the client keeps its own copy of the text. */
export const edit = async (
  client: Client,
  name: string,
  start: Position,
  end: Position,
  text: string,
): Promise<void> => {
  const before = client.texts.get(name)!;
  const version = client.versions.get(name)! + 1;
  client.versions.set(name, version);
  client.texts.set(name, before.slice(0, offsetAt(before, start)) + text + before.slice(offsetAt(before, end)));
  await client.connection.sendNotification('textDocument/didChange', {
    textDocument: { uri: name.includes(':') ? name : uriOf(client, name), version },
    contentChanges: [{ range: { start, end }, text }],
  });
};

/** Types a text key by key behind the first place where `after` stands. */
export const type = async (client: Client, name: string, after: string, text: string): Promise<void> => {
  let at = client.texts.get(name)!.indexOf(after) + after.length;
  for (const key of text) {
    const position = positionAt(client.texts.get(name)!, at);
    await edit(client, name, position, position, key);
    at += key.length;
  }
};

/** UTF-16, as the protocol counts. */
export const positionAt = (text: string, offset: number): Position => {
  const lines = text.slice(0, offset).split('\n');
  return { line: lines.length - 1, character: lines.at(-1)!.length };
};

export const offsetAt = (text: string, { line, character }: Position): number =>
  text.split('\n').slice(0, line).join('\n').length + (line > 0 ? 1 : 0) + character;

/** Where the first place of a text begins. */
export const find = (client: Client, name: string, sought: string): Position => {
  const text = client.texts.get(name)!;
  const at = text.indexOf(sought);
  if (at < 0) throw new Error(`No "${sought}" in ${name}`);
  return positionAt(text, at);
};

export const cursor = (client: Client, name: string, line: number): Promise<void> =>
  client.connection.sendNotification('fineweight/cursor', { uri: uriOf(client, name), line });

/** Waits until a condition holds, and says which one did not. */
export const until = async (what: string, holds: () => boolean, milliseconds = 8000): Promise<void> => {
  const end = Date.now() + milliseconds;
  while (!holds()) {
    if (Date.now() > end) throw new Error(`Waited in vain for: ${what}`);
    await new Promise((wake) => setTimeout(wake, 10));
  }
};

/** The diagnostics that a client now shows for a file. */
export const shown = (client: Client, name: string): Diagnostic[] | undefined => {
  const uri = name.includes(':') ? name : uriOf(client, name);
  return client.published.findLast((one) => one.uri === uri)?.diagnostics;
};

export const codes = (client: Client, name: string): string[] | undefined =>
  shown(client, name)?.map(({ code }) => String(code));

export const hints = (client: Client, name: string, from = 0, to = 10_000): Promise<InlayHint[]> =>
  client.connection.sendRequest('textDocument/inlayHint', {
    textDocument: { uri: uriOf(client, name) },
    range: { start: { line: from, character: 0 }, end: { line: to, character: 0 } },
  });

export const hover = (client: Client, name: string, position: Position): Promise<Hover | null> =>
  client.connection.sendRequest('textDocument/hover', { textDocument: { uri: uriOf(client, name) }, position });

export const symbols = (client: Client, name: string): Promise<DocumentSymbol[]> =>
  client.connection.sendRequest('textDocument/documentSymbol', { textDocument: { uri: uriOf(client, name) } });

export const actions = (
  client: Client,
  name: string,
  at: Diagnostic['range'],
  only?: string[],
): Promise<CodeAction[]> =>
  client.connection.sendRequest('textDocument/codeAction', {
    textDocument: { uri: uriOf(client, name) },
    range: at,
    context: { diagnostics: [], ...(only ? { only } : {}) },
  });

/** The text of a file after an action, in the client's own copy. */
export const applied = (client: Client, name: string, action: CodeAction): string => {
  const changes = (action.edit?.documentChanges ?? []) as TextDocumentEdit[];
  const edits = changes
    .filter(({ textDocument }) => textDocument.uri === uriOf(client, name))
    .flatMap((one) => one.edits);
  let text = client.texts.get(name)!;
  for (const one of edits.sort((a, b) => offsetAt(text, b.range.start) - offsetAt(text, a.range.start))) {
    if (!('newText' in one)) throw new Error('A snippet where a text was expected');
    text = text.slice(0, offsetAt(text, one.range.start)) + one.newText + text.slice(offsetAt(text, one.range.end));
  }
  return text;
};

/** Asks to shut down, and leaves. */
export const leave = async (client: Client): Promise<number | null> => {
  await client.connection.sendRequest('shutdown');
  await client.connection.sendNotification('exit');
  return client.exited;
};
