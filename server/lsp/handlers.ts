/** The list of what the server answers. Each line joins a message of the protocol to a function; none computes. */
import type { InitializeResult } from 'vscode-languageserver';
import type * as byHand from './by-hand';
import { CAPABILITIES, PULLED } from './capabilities';
import { countIn, folderUrisIn, textIn } from './checks';
import { readClient } from './client';
import type { Disk } from './disk';
import type * as documents from './documents';
import { readFolders } from './folders';
import { ErrorCodes, LSPErrorCodes, WatchKind } from './protocol';
import { pulledOf, pulledOfAll } from './pulled';
import {
  allTokens,
  changedTokens,
  codeLenses,
  documentLinks,
  foldingRanges,
  highlights,
  tokensInRange,
} from './reading-aids';
import { codeActions, documentSymbols, inlayHints, resolveInlayHint } from './requests';
import { createServer, fileId, logFailure, type Server, wake } from './server';
import { fieldOf, readSettings } from './settings';
import { progressCancelled, readOn, takeIn, untilSure, untilWhole, untilWholeOrStopped } from './taking-in';
import { reviewAll } from './tick';
import { changed, closed, foldersMoved, foldersOf, opened, saved, watched, willRenameFiles, willSave } from './told';
import { cursorMoved } from './typing';
import { RefusedRequest, type Wanted, type Wire } from './wire';

/** What is not wanted from the start, a quarter of the whole: a browser fetches it when it is. */
export interface Later {
  readonly byHand: () => Promise<typeof byHand>;
  readonly documents: () => Promise<Pick<typeof documents, 'documentCandidates' | 'documentKinds' | 'documentText'>>;
}

/** What a hand asks for, by the name of what answers it. */
const BY_HAND = {
  'callHierarchy/incomingCalls': 'incoming',
  'callHierarchy/outgoingCalls': 'outgoing',
  'fineweight/changes': 'changesSince',
  'fineweight/forgotten': 'forgotten',
  'fineweight/remember': 'remember',
  'fineweight/seal': 'sealDraft',
  'fineweight/view': 'view',
  'textDocument/completion': 'completion',
  'textDocument/definition': 'definition',
  'textDocument/formatting': 'formatting',
  'textDocument/hover': 'hover',
  'textDocument/onTypeFormatting': 'formattingOnType',
  'textDocument/prepareCallHierarchy': 'prepareFamily',
  'textDocument/prepareRename': 'prepareRename',
  'textDocument/rangeFormatting': 'formatting',
  'textDocument/rangesFormatting': 'formattingRanges',
  'textDocument/references': 'references',
  'textDocument/rename': 'rename',
  'textDocument/selectionRange': 'selectionRanges',
  'textDocument/signatureHelp': 'signatureHelp',
  'workspace/symbol': 'workspaceSymbols',
} as const satisfies Readonly<Record<string, keyof typeof byHand>>;

/** Serves a client until it leaves. `now` counts milliseconds and only goes forward. */
export const serve = (connection: Wire, disk: Disk, now: () => number, later: Later): void => {
  const server = createServer(connection, readClient(undefined, undefined), disk, now);
  connection.onInitialize((params: unknown) => initialize(server, params));
  connection.onInitialized(() => start(server));
  connection.onShutdown(() => {
    server.phase = 'shut-down';
    clearTimeout(server.timer);
  });

  for (const [method, name] of Object.entries(BY_HAND))
    answer(server, method, async (...asked) => (await later.byHand())[name](...asked));
  answer(server, 'textDocument/diagnostic', pulledOf);
  answer(server, 'workspace/diagnostic', pulledOfAll);
  answer(server, 'textDocument/documentSymbol', documentSymbols);
  answer(server, 'textDocument/inlayHint', inlayHints);
  answer(server, 'inlayHint/resolve', resolveInlayHint);
  answer(server, 'textDocument/codeAction', codeActions);
  answer(server, 'textDocument/semanticTokens/full', allTokens);
  answer(server, 'textDocument/semanticTokens/full/delta', changedTokens);
  answer(server, 'textDocument/semanticTokens/range', tokensInRange);
  answer(server, 'textDocument/codeLens', codeLenses);
  answer(server, 'textDocument/documentHighlight', highlights);
  answer(server, 'workspace/willRenameFiles', willRenameFiles);
  answer(server, 'textDocument/foldingRange', foldingRanges);
  answer(server, 'textDocument/documentLink', documentLinks);

  answer(server, 'fineweight/documentKinds', async (...asked) => (await later.documents()).documentKinds(...asked));
  answer(server, 'fineweight/documentCandidates', async (...asked) =>
    (await later.documents()).documentCandidates(...asked),
  );
  answer(server, 'fineweight/document', async (...asked) => (await later.documents()).documentText(...asked));

  hear(server, 'textDocument/didOpen', opened);
  hear(server, 'textDocument/didChange', changed);
  hear(server, 'textDocument/willSave', willSave);
  hear(server, 'textDocument/didSave', saved);
  hear(server, 'textDocument/didClose', closed);
  hear(server, 'workspace/didChangeWatchedFiles', watched);
  hear(server, 'workspace/didChangeWorkspaceFolders', foldersMoved);
  hear(server, 'workspace/didChangeConfiguration', settingsChanged);
  hear(server, 'fineweight/readOn', readOn);
  hear(server, 'fineweight/cursor', (_, params) => {
    cursorMoved(server.session, fileId(server, textIn(params, 'uri')), countIn(params, 'line'));
  });
  connection.listen();
};

const answer = (server: Server, method: string, reply: (server: Server, params: unknown) => unknown): void => {
  server.connection.onRequest(method, async (params: unknown, wanted?: Wanted) => {
    const refusal = refusalIn(server);
    if (refusal) throw refusal;
    try {
      const version = versionAsked(server, params);
      if (OF_ALL_PAGES.has(method)) await untilWhole(server);
      if (OF_ALL_THERE_ARE.has(method)) await untilWholeOrStopped(server);
      await untilSure(server, fileAsked(server, params));
      if (wanted?.isCancellationRequested) throw new RefusedRequest(LSPErrorCodes.RequestCancelled, 'Cancelled.');
      if (version !== versionAsked(server, params)) {
        throw new RefusedRequest(LSPErrorCodes.ContentModified, 'The text has changed.');
      }
      return await reply(server, params);
    } catch (error) {
      if (error instanceof RefusedRequest) throw error;
      logFailure(server, method, error);
      throw new RefusedRequest(ErrorCodes.InternalError, `${method} failed; the log says why.`);
    }
  });
};

/** Answers that every page has a part in, and that an editor asks for without being told to: where the reading was stopped, it stays so. */
const OF_ALL_THERE_ARE: ReadonlySet<string> = new Set(['workspace/diagnostic', 'fineweight/view']);

/** Answers that every page has a part in, and somebody wants. */
const OF_ALL_PAGES: ReadonlySet<string> = new Set([
  'textDocument/references',
  'textDocument/prepareRename',
  'textDocument/rename',
  'workspace/willRenameFiles',
  'workspace/symbol',
  'callHierarchy/outgoingCalls',
  'fineweight/seal',
  'fineweight/changes',
  'fineweight/documentKinds',
  'fineweight/documentCandidates',
  'fineweight/document',
]);

const refusalIn = ({ phase }: Server): RefusedRequest | undefined => {
  if (phase === 'initialized') return undefined;
  if (phase === 'new') return new RefusedRequest(ErrorCodes.ServerNotInitialized, 'Not initialized.');
  return new RefusedRequest(ErrorCodes.InvalidRequest, 'Shut down.');
};

const fileAsked = (server: Server, params: unknown): string | undefined => {
  const uri = fieldOf(fieldOf(params, 'textDocument'), 'uri');
  return typeof uri === 'string' ? fileId(server, uri) : undefined;
};

const versionAsked = (server: Server, params: unknown): number | undefined => {
  const file = fileAsked(server, params);
  return file === undefined ? undefined : server.session.open.get(file)?.lines.version;
};

const hear = (server: Server, method: string, act: (server: Server, params: unknown) => void): void => {
  server.connection.onNotification(method, (params: unknown) => {
    if (server.phase !== 'initialized') return;
    try {
      act(server, params);
    } catch (error) {
      logFailure(server, method, error);
    }
    wake(server);
    void takeIn(server);
  });
};

const initialize = (server: Server, params: unknown): InitializeResult => {
  server.client = readClient(fieldOf(params, 'capabilities'), fieldOf(params, 'initializationOptions'));
  takeSettings(server, server.client.settings);
  server.session.hasCursor = server.client.hasCursor;
  server.session.folders = foldersAtStart(server, params);
  server.phase = 'initialized';
  server.ready = new Promise((resolve) => {
    server.isReady = false;
    server.session.reading = true;
    server.begin = resolve;
  });
  return {
    serverInfo: { name: 'fineweight' },
    capabilities: server.client.onlyPulls ? { ...CAPABILITIES, ...PULLED } : CAPABILITIES,
  };
};

const foldersAtStart = (server: Server, params: unknown): readonly string[] => {
  const uris = folderUrisIn(fieldOf(params, 'workspaceFolders'));
  const root = fieldOf(params, 'rootUri');
  return foldersOf(server, uris.length > 0 || typeof root !== 'string' ? uris : [root]);
};

const start = (server: Server): void => {
  const { client, session } = server;
  // Not sooner: the protocol's library takes this message for itself when it is told of the client.
  hear(server, 'window/workDoneProgress/cancel', progressCancelled);
  if (client.watchesFiles) {
    const watchers = [
      { globPattern: '**/*.melt' },
      { globPattern: '**/workshop.yaml' },
      // A folder that goes takes its files with it, and only its own going is told.
      { globPattern: '**/*', kind: WatchKind.Delete },
    ];
    register(server, 'workspace/didChangeWatchedFiles', { watchers });
  }
  if (client.watchesSettings) {
    register(server, 'workspace/didChangeConfiguration', { section: 'fineweight' });
  }
  void pullSettings(server).then(() => {
    server.begin();
    return readFolders(server, session.folders, session.folders);
  });
};

const register = (server: Server, method: string, registerOptions: object): void => {
  server.connection
    .sendRequest('client/registerCapability', { registrations: [{ id: method, method, registerOptions }] })
    .catch((error: unknown) => logFailure(server, 'registering', error));
};

const pullSettings = async (server: Server): Promise<void> => {
  if (!server.client.configuration) return;
  try {
    const items = [{ section: 'fineweight' }];
    const [sent] = (await server.connection.sendRequest('workspace/configuration', { items })) as unknown[];
    takeSettings(server, sent);
  } catch (error) {
    logFailure(server, 'asking for the settings', error);
  }
};

const takeSettings = (server: Server, sent: unknown): void => {
  server.settings = readSettings(sent);
  server.session.checksOnSave = server.settings.checksOnSave;
};

const settingsChanged = (server: Server, params: unknown): void => {
  const sent = fieldOf(fieldOf(params, 'settings'), 'fineweight');
  if (sent !== undefined) takeSettings(server, sent);
  void pullSettings(server).then(() => {
    reviewAll(server.session);
    wake(server);
  });
};
