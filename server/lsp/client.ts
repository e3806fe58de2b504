/** What the client said of itself at `initialize`. A capability that is not announced is not used. */
import { fieldOf } from './settings';

export interface Client {
  readonly configuration: boolean;
  /** Lets itself be asked to tell of changed settings. */
  readonly watchesSettings: boolean;
  readonly watchesFiles: boolean;
  readonly progress: boolean;
  readonly refreshesHints: boolean;
  readonly resolvesTooltips: boolean;
  /** A part of a hint's label can be a way to another place, told when it is asked for. */
  readonly resolvesPlaces: boolean;
  readonly relatedInformation: boolean;
  /** Asks for findings, and takes none unasked. */
  readonly onlyPulls: boolean;
  readonly refreshesFindings: boolean;
  readonly markdownHover: boolean;
  readonly symbolTree: boolean;
  readonly snippets: boolean;
  /** Shows words beside each row of a list, not only beside the one that is picked. */
  readonly labelDetails: boolean;
  readonly documentChanges: boolean;
  readonly annotations: boolean;
  /** Wishes to be told the state of the server (`fineweight/status`). */
  readonly wantsStatus: boolean;
  readonly hasCursor: boolean;
  /** Has the commands that lenses call. */
  readonly hasCommands: boolean;
  /** Address of the page that explains the rules, and the line (from 1) that each code stands on. */
  readonly rulesPage: string | undefined;
  readonly ruleLines: ReadonlyMap<string, number>;
  readonly settings: unknown;
}

export const readClient = (capabilities: unknown, options: unknown): Client => {
  const has = (...path: readonly string[]): boolean => deep(capabilities, path) === true;
  const lists = (value: string, ...path: readonly string[]): boolean => {
    const list = deep(capabilities, path);
    return Array.isArray(list) && list.includes(value);
  };
  const rulesPage = fieldOf(options, 'rulesPage');
  return {
    configuration: has('workspace', 'configuration'),
    watchesSettings: has('workspace', 'didChangeConfiguration', 'dynamicRegistration'),
    watchesFiles: has('workspace', 'didChangeWatchedFiles', 'dynamicRegistration'),
    progress: has('window', 'workDoneProgress'),
    refreshesHints: has('workspace', 'inlayHint', 'refreshSupport'),
    resolvesTooltips: lists('tooltip', 'textDocument', 'inlayHint', 'resolveSupport', 'properties'),
    resolvesPlaces: lists('label.location', 'textDocument', 'inlayHint', 'resolveSupport', 'properties'),
    relatedInformation:
      has('textDocument', 'publishDiagnostics', 'relatedInformation') ||
      has('textDocument', 'diagnostic', 'relatedInformation'),
    onlyPulls:
      deep(capabilities, ['textDocument', 'diagnostic']) !== undefined &&
      deep(capabilities, ['textDocument', 'publishDiagnostics']) === undefined,
    refreshesFindings: has('workspace', 'diagnostics', 'refreshSupport'),
    markdownHover: lists('markdown', 'textDocument', 'hover', 'contentFormat'),
    symbolTree: has('textDocument', 'documentSymbol', 'hierarchicalDocumentSymbolSupport'),
    snippets: has('textDocument', 'completion', 'completionItem', 'snippetSupport'),
    labelDetails: has('textDocument', 'completion', 'completionItem', 'labelDetailsSupport'),
    documentChanges: has('workspace', 'workspaceEdit', 'documentChanges'),
    annotations: deep(capabilities, ['workspace', 'workspaceEdit', 'changeAnnotationSupport']) !== undefined,
    wantsStatus: fieldOf(options, 'status') === true,
    hasCursor: fieldOf(options, 'cursor') === true,
    hasCommands: fieldOf(options, 'commands') === true,
    rulesPage: typeof rulesPage === 'string' ? rulesPage : undefined,
    ruleLines: readLines(fieldOf(options, 'ruleLines')),
    settings: fieldOf(options, 'settings'),
  };
};

const deep = (value: unknown, path: readonly string[]): unknown => path.reduce<unknown>(fieldOf, value);

const readLines = (value: unknown): ReadonlyMap<string, number> => {
  const lines = new Map<string, number>();
  for (const [code, line] of Object.entries(typeof value === 'object' && value !== null ? value : {})) {
    if (typeof line === 'number') lines.set(code, line);
  }
  return lines;
};

/** Where a rule is explained, as an address that an editor can open; at its line where that is known. */
export const rulePageOf = ({ rulesPage, ruleLines }: Client, code: string): string | undefined => {
  if (rulesPage === undefined) return undefined;
  const line = ruleLines.get(code);
  return `${rulesPage}#${line === undefined ? code : `L${line}`}`;
};
