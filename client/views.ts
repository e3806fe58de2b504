/** Side views: the server makes their rows, these show them and ask again when the journal or the cursor has moved. */
import {
  commands,
  EventEmitter,
  type Location,
  l10n,
  type ProviderResult,
  ThemeIcon,
  type TreeDataProvider,
  TreeItem,
  TreeItemCollapsibleState,
  type TreeView,
  window,
} from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';

export type ViewKind = 'onHand' | 'day' | 'family';

/** What is on hand by owner, or by place. */
export type Grouping = 'onHand' | 'places';

interface Row {
  readonly label: string;
  readonly detail: string;
  readonly sign: 'owner' | 'place' | 'lot' | 'entry' | 'total' | 'note';
  readonly location: { readonly uri: string; readonly range: Location['range'] } | null;
  readonly children: readonly Row[];
}

const SIGNS: Readonly<Record<Row['sign'], string>> = {
  owner: 'account',
  place: 'archive',
  lot: 'circle-filled',
  entry: 'list-unordered',
  total: 'calendar',
  note: 'list-tree',
};

/** Rows of one view; a view that nobody sees asks for nothing. */
class Rows implements TreeDataProvider<Row> {
  private readonly changed = new EventEmitter<void>();
  readonly onDidChangeTreeData = this.changed.event;
  view: TreeView<Row> | undefined;
  asked: ViewKind | Grouping;

  constructor(
    private readonly kind: ViewKind,
    private readonly client: BaseLanguageClient,
  ) {
    this.asked = kind;
  }

  refresh(): void {
    if (this.view?.visible) this.changed.fire();
  }

  getTreeItem(row: Row): TreeItem {
    const hasRows = row.children.length > 0;
    const item = new TreeItem(row.label, hasRows ? TreeItemCollapsibleState.Expanded : TreeItemCollapsibleState.None);
    item.description = row.detail;
    item.tooltip = row.detail === '' ? row.label : `${row.label}: ${row.detail}`;
    item.accessibilityInformation = { label: `${row.label} ${row.detail}` };
    item.iconPath = new ThemeIcon(SIGNS[row.sign]);
    if (row.location) {
      const { uri, range } = row.location;
      item.command = { command: 'fineweight.goTo', title: l10n.t('Go to its line'), arguments: [uri, range] };
    }
    return item;
  }

  getChildren(row?: Row): ProviderResult<Row[]> {
    return row ? [...row.children] : this.ask();
  }

  private async ask(): Promise<Row[]> {
    if (!this.client.isRunning()) return [];
    const editor = window.activeTextEditor;
    const at = editor && {
      textDocument: { uri: editor.document.uri.toString() },
      position: { line: editor.selection.active.line, character: editor.selection.active.character },
    };
    if (this.kind !== 'onHand' && editor?.document.languageId !== 'melt') return [];
    return this.client.sendRequest<Row[]>('fineweight/view', { view: this.asked, ...at });
  }
}

export interface Views {
  readonly refreshAll: () => void;
  /** The cursor has moved. */
  readonly refreshMoved: () => void;
  readonly group: (by: Grouping) => void;
  readonly dispose: () => void;
}

/** So long after the last change the views are asked for again. */
const REST_MS = 300;

export const createViews = (client: BaseLanguageClient): Views => {
  const kinds: readonly ViewKind[] = ['onHand', 'day', 'family'];
  const all = kinds.map((kind) => {
    const rows = new Rows(kind, client);
    const view = window.createTreeView(`fineweight.${kind}`, { treeDataProvider: rows, showCollapseAll: true });
    rows.view = view;
    view.onDidChangeVisibility(() => rows.refresh());
    return { kind, rows, view };
  });
  const later = (which: (kind: ViewKind) => boolean): (() => void) => {
    let timer: NodeJS.Timeout | undefined;
    return () => {
      clearTimeout(timer);
      timer = setTimeout(() => {
        for (const { kind, rows } of all) if (which(kind)) rows.refresh();
      }, REST_MS);
    };
  };
  return {
    refreshAll: later(() => true),
    refreshMoved: later((kind) => kind !== 'onHand'),
    group: (by) => {
      void commands.executeCommand('setContext', 'fineweight.byPlace', by === 'places');
      for (const { kind, rows } of all) {
        if (kind !== 'onHand') continue;
        rows.asked = by;
        rows.refresh();
      }
    },
    dispose: () => {
      for (const { view } of all) view.dispose();
    },
  };
};
