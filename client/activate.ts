/** The extension, wherever its server runs: tells the server where the cursor is, and shows how it stands. Computes nothing. */
import {
  ConfigurationTarget,
  commands,
  type ExtensionContext,
  type LanguageStatusItem,
  LanguageStatusSeverity,
  Location,
  type LogOutputChannel,
  l10n,
  languages,
  Position,
  Range,
  Uri,
  window,
  workspace,
} from 'vscode';
import type { BaseLanguageClient, LanguageClientOptions, Middleware } from 'vscode-languageclient';
import { createDocuments, PANEL } from './documents';
import { newJournal } from './new-journal';
import { createComparison, seal } from './record';
import { rememberSealed } from './sealed';
import { createViews } from './views';

/** No scheme: files, untitled pages, pages of other file systems and notebook cells alike. */
const PAGES = { language: 'melt' };
const SHOP = { pattern: '**/workshop.yaml' };
const SELECTOR = [PAGES, SHOP];

let client: BaseLanguageClient | undefined;
/** The reading was stopped: a document that is shown then stays as it is, as to make it anew would read on. */
let isStopped = false;

/** Makes a client whose server is not yet started. */
export type MakeClient = (options: LanguageClientOptions) => BaseLanguageClient;

/** Ends before the server has started: the editor waits for whoever is being activated. */
export const activateWith = (context: ExtensionContext, make: MakeClient): void => {
  const output = window.createOutputChannel('Fineweight', { log: true });
  const status = languages.createLanguageStatusItem('fineweight.status', SELECTOR);
  status.name = 'Fineweight';
  const rulesPage = Uri.joinPath(context.extensionUri, 'server', 'RULES.md');
  const options: Options = {
    cursor: true,
    status: true,
    commands: true,
    rulesPage: rulesPage.toString(),
    ruleLines: {},
  };
  client = createClient(options, make, output, status);
  const views = createViews(client);
  const documents = createDocuments(client, context.workspaceState);
  const comparison = createComparison(client);
  const refreshDocuments = (): void => {
    if (!isStopped) documents.refresh();
  };
  client.onNotification('fineweight/changed', () => {
    views.refreshAll();
    refreshDocuments();
  });
  context.subscriptions.push(
    output,
    status,
    commands.registerCommand('fineweight.restart', () => restart(output)),
    commands.registerCommand('fineweight.readOn', () => client?.sendNotification('fineweight/readOn')),
    commands.registerCommand('fineweight.showLog', () => output.show()),
    commands.registerCommand('fineweight.toggleHints', toggleHints),
    commands.registerCommand('fineweight.newJournal', newJournal),
    commands.registerCommand('fineweight.goTo', goTo),
    commands.registerCommand('fineweight.showPlaces', showPlaces),
    commands.registerCommand('fineweight.showDocument', documents.show),
    commands.registerCommand('fineweight.saveDocument', documents.save),
    commands.registerCommand('fineweight.summary', documents.sheet),
    commands.registerCommand('fineweight.trace', trace),
    commands.registerCommand('fineweight.groupByPlace', () => views.group('places')),
    commands.registerCommand('fineweight.groupByOwner', () => views.group('onHand')),
    views,
    commands.registerCommand('fineweight.seal', () => client && seal(client)),
    commands.registerCommand('fineweight.compareWithCommit', comparison.show),
    documents,
    window.registerWebviewPanelSerializer(PANEL, {
      deserializeWebviewPanel: async (panel) => documents.restore(panel),
    }),
    comparison,
    rememberSealed(client),
    ...followCursor(() => {
      views.refreshMoved();
      refreshDocuments();
    }),
  );
  void readRuleLines(rulesPage).then((lines) => {
    options.ruleLines = lines;
    return start(output);
  });
};

/** What the server is told of its client when it starts. */
interface Options {
  readonly cursor: boolean;
  readonly status: boolean;
  readonly commands: boolean;
  readonly rulesPage: string;
  ruleLines: Record<string, number>;
}

export const deactivate = async (): Promise<void> => {
  await client?.stop();
};

const createClient = (
  initializationOptions: Options,
  make: MakeClient,
  output: LogOutputChannel,
  status: LanguageStatusItem,
): BaseLanguageClient => {
  const made = make({
    documentSelector: SELECTOR,
    middleware: { provideInlayHints: upToDate },
    outputChannel: output,
    initializationOptions,
  });
  made.onNotification('fineweight/status', (told: Status) => showStatus(status, told));
  return made;
};

/** A page that is typed in while it is asked about is asked about again, so often. */
const MOST_ASKED = 4;

/** The editor shows an answer on the text as it then is, also one that was made for the text before: a line off, where Enter came between. */
const upToDate: NonNullable<Middleware['provideInlayHints']> = async (page, range, token, next) => {
  for (let asked = 1; ; asked++) {
    const { version } = page;
    const hints = await next(page, range, token);
    if (page.version === version || asked === MOST_ASKED || token.isCancellationRequested) return hints;
  }
};

/** The line (from 1) of each rule's heading, so that a code opens the page at its rule. */
const readRuleLines = async (page: Uri): Promise<Record<string, number>> => {
  try {
    const text = new TextDecoder().decode(await workspace.fs.readFile(page));
    const headings = text.split('\n').map((line, index) => [line.trim(), index + 1] as const);
    return Object.fromEntries(
      headings.filter(([line]) => line.startsWith('## ')).map(([line, at]) => [line.slice(3).replaceAll('`', ''), at]),
    );
  } catch {
    return {};
  }
};

const restart = async (output: LogOutputChannel): Promise<void> => {
  if (client?.isRunning()) await client.stop();
  await start(output);
};

const start = async (output: LogOutputChannel): Promise<void> => {
  try {
    await client?.start();
  } catch (error) {
    output.error(l10n.t('The server did not start: {0}', String(error)));
    output.show(true);
  }
};

const toggleHints = async (): Promise<void> => {
  const hints = workspace.getConfiguration('fineweight.hints');
  await hints.update('enabled', hints.get('enabled') === false, ConfigurationTarget.Global);
};

/** From a row of a side view to the line that it speaks of. */
const goTo = async (uri: string, { start, end }: Range): Promise<void> => {
  const selection = new Range(start.line, start.character, end.line, end.character);
  // From a document beside the page: the line belongs where the pages are.
  const beside =
    window.activeTextEditor ?? window.visibleTextEditors.find(({ document }) => document.languageId === 'melt');
  await window.showTextDocument(Uri.parse(uri), { selection, viewColumn: beside?.viewColumn });
};

/** From a lens to the family of a lot, which the side view shows of the name under the cursor. */
const trace = async (uri: string, at: Position): Promise<void> => {
  const place = new Position(at.line, at.character);
  await window.showTextDocument(Uri.parse(uri), { selection: new Range(place, place) });
  await commands.executeCommand('fineweight.family.focus');
};

/** From a lens to the places that it counts. */
const showPlaces = async (uri: string, at: Position, places: readonly Location[]): Promise<void> => {
  const range = ({ start, end }: Range) => new Range(start.line, start.character, end.line, end.character);
  const shown = places.map((place) => new Location(Uri.parse(String(place.uri)), range(place.range)));
  await commands.executeCommand(
    'editor.action.showReferences',
    Uri.parse(uri),
    new Position(at.line, at.character),
    shown,
  );
};

/** Tells the server when the cursor comes to another line, so that an entry is judged once it has been left. */
const followCursor = (moved: () => void) => {
  let last = '';
  const tell = (): void => {
    const editor = window.activeTextEditor;
    const isOurs = editor !== undefined && languages.match(SELECTOR, editor.document) > 0;
    const line = isOurs ? editor.selection.active.line : 0;
    const uri = isOurs ? editor.document.uri.toString() : '';
    if (last === `${uri} ${line}` || !client?.isRunning()) return;
    last = `${uri} ${line}`;
    moved();
    void client.sendNotification('fineweight/cursor', { uri, line });
  };
  // The change of text that moved the cursor goes first.
  const later = (): void => void setTimeout(tell, 0);
  return [window.onDidChangeTextEditorSelection(later), window.onDidChangeActiveTextEditor(later)];
};

interface Status {
  readonly state: 'reading' | 'ready' | 'stopped';
  readonly pages: number;
  /** Of them, those that are taken in, where that was stopped. */
  readonly read?: number;
  readonly errors: number;
  readonly warnings: number;
  readonly workshops: number;
  /** The last day that is sealed. */
  readonly sealed?: string;
  readonly notes: readonly string[];
  readonly milliseconds: number;
}

const showStatus = (item: LanguageStatusItem, told: Status): void => {
  const { state, pages, read, errors, warnings, workshops, sealed, notes, milliseconds } = told;
  item.busy = state === 'reading';
  isStopped = state === 'stopped';
  const isWhole = notes.length === 0 && !isStopped;
  item.severity = isWhole ? LanguageStatusSeverity.Information : LanguageStatusSeverity.Warning;
  void commands.executeCommand('setContext', 'fineweight.stopped', isStopped);
  item.text = item.busy
    ? l10n.t('Reading the journal')
    : [
        errors === 1 ? l10n.t('1 error') : l10n.t('{0} errors', errors),
        warnings === 1 ? l10n.t('1 warning') : l10n.t('{0} warnings', warnings),
      ].join(', ');
  const detail = [
    pages === 1 ? l10n.t('1 file') : l10n.t('{0} files', pages),
    workshops === 0 ? l10n.t('no workshop.yaml') : undefined,
    sealed === undefined ? undefined : l10n.t('sealed to {0}', sealed),
    `${milliseconds} ms`,
  ];
  item.detail = notes[0] ?? detail.filter((one) => one !== undefined).join(' · ');
  item.command = { command: 'fineweight.showLog', title: l10n.t('Show the log') };
  if (read === undefined) return;
  item.text = l10n.t('Reading was stopped: {0} of {1} files are read', read, pages);
  item.command = { command: 'fineweight.readOn', title: l10n.t('Read on') };
};
