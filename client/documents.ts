/** Documents beside the page: the server makes them, this shows them, asks again when page or cursor has moved, and writes one where told to. */
import { l10n, type Memento, type QuickPickItem, Uri, ViewColumn, type WebviewPanel, window, workspace } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';

type Choice = Readonly<Record<string, string>>;

interface Kind {
  readonly code: string;
  readonly title: string;
  readonly means: string;
  readonly atCursor: Choice | null;
}

interface Candidate {
  readonly label: string;
  readonly detail: string;
  readonly choice: Choice;
}

interface Answer {
  readonly title?: string;
  readonly text?: string;
  readonly choice?: Choice;
  readonly refused?: string;
}

/** What is shown: of one thing, or of whatever the cursor is on. */
interface Shown {
  readonly kind: string;
  readonly choice: Choice | undefined;
  /** The page from which it was asked for last, and where. */
  at: At;
  /** Of what it was made last. */
  made: Choice | undefined;
  /** As it stands there. */
  text: string;
  readonly panel: WebviewPanel;
}

/** What is remembered of it with the folder. */
type Kept = Pick<Shown, 'kind' | 'choice' | 'at'>;

interface At {
  readonly textDocument: { readonly uri: string };
  readonly position: { readonly line: number; readonly character: number };
}

export interface Documents {
  /** Asks which, and shows it beside the page. */
  readonly show: () => Promise<void>;
  /** Shows the sheet of a step, which an entry at a place names. */
  readonly sheet: (uri: string, position: At['position'], entry: string) => Promise<void>;
  /** Writes what is shown, where and in the form that is picked. */
  readonly save: () => Promise<void>;
  /** The journal, or the cursor, has moved. */
  readonly refresh: () => void;
  /** What stood in a panel before the window was loaded anew stands there again, as soon as the journal has been read. */
  readonly restore: (panel: WebviewPanel) => void;
  readonly dispose: () => void;
}

/** So long after the last change a document is asked for again. */
const REST_MS = 300;

export const PANEL = 'fineweight.document';
/** No script, no form, and of commands the one that opens a line of the journal. */
const PANEL_OPTIONS = {
  enableScripts: false,
  enableForms: false,
  enableCommandUris: ['fineweight.goTo'],
  localResourceRoots: [],
};

const formats = (): readonly (QuickPickItem & { readonly format: string })[] => [
  { label: 'HTML', description: l10n.t('one file, to print or to send'), format: 'html' },
  { label: 'Markdown', description: l10n.t('to keep beside the journal'), format: 'md' },
  { label: 'CSV', description: l10n.t('every figure on a line'), format: 'csv' },
  { label: 'JSON', description: l10n.t('for other programs'), format: 'json' },
];

/** `memory` is the folder's own: what is shown is kept there. */
export const createDocuments = (client: BaseLanguageClient, memory: Memento): Documents => {
  let shown: Shown | undefined;
  let timer: ReturnType<typeof setTimeout> | undefined;

  const ask = (method: string, params: object): Promise<unknown> => client.sendRequest(`fineweight/${method}`, params);

  const render = async (one: Shown): Promise<Answer> => {
    if (!client.isRunning()) return {};
    one.at = cursor() ?? one.at;
    const answer = (await ask('document', { ...one.at, kind: one.kind, choice: one.choice })) as Answer;
    if (shown !== one || answer.text === undefined) return answer;
    one.made = answer.choice;
    const { kind, choice, at } = one;
    void memory.update(PANEL, { kind, choice, at } satisfies Kept);
    one.panel.title = answer.title ?? one.panel.title;
    // What is loaded anew may take the keyboard from a list that has just been opened.
    if (answer.text !== one.text) one.panel.webview.html = answer.text;
    one.text = answer.text;
    return answer;
  };

  const show = async (): Promise<void> => {
    const at = cursor();
    if (!at)
      return void window.showInformationMessage(l10n.t('Open a page of a journal: a document is made from its notes.'));
    const { kinds } = (await ask('documentKinds', at)) as { readonly kinds: readonly Kind[] };
    const items = kinds.map((kind) => ({ label: kind.title, detail: kind.means, of: kind }));
    const picked = await window.showQuickPick(items, { placeHolder: l10n.t('Which document?'), matchOnDetail: true });
    if (!picked) return;
    const choice = await choose(picked.of, at);
    if (choice !== 'none') await open(picked.of, choice, at);
  };

  const sheet: Documents['sheet'] = (uri, position, entry) =>
    open({ code: 'melt-sheet', title: entry }, { entry }, { textDocument: { uri }, position });

  const open = async (kind: Pick<Kind, 'code' | 'title'>, choice: Choice | undefined, at: At): Promise<void> => {
    const { panel = create(kind.title), text = '' } = shown ?? {};
    const one: Shown = { kind: kind.code, choice, at, made: undefined, text, panel };
    shown = one;
    if (!panel.visible) panel.reveal(undefined, true);
    const answer = await render(one);
    if (answer.refused !== undefined) void window.showInformationMessage(answer.refused);
    if (one.text === '') panel.dispose();
  };

  /** One for all documents: the next takes the place of the one before. */
  const create = (title: string): WebviewPanel => {
    const where = { viewColumn: ViewColumn.Beside, preserveFocus: true };
    const panel = window.createWebviewPanel(PANEL, title, where, PANEL_OPTIONS);
    forgetWith(panel);
    return panel;
  };

  const forgetWith = (panel: WebviewPanel): void => {
    panel.onDidDispose(() => {
      if (shown?.panel === panel) shown = undefined;
    });
  };

  const refresh = (): void => {
    clearTimeout(timer);
    timer = setTimeout(() => shown?.panel.visible && void render(shown).catch(() => {}), REST_MS);
  };

  const restore = (panel: WebviewPanel): void => {
    const kept = memory.get<Kept>(PANEL);
    if (!kept || shown) {
      panel.dispose();
      return;
    }
    panel.webview.options = PANEL_OPTIONS;
    forgetWith(panel);
    shown = { ...kept, made: undefined, text: '', panel };
    // The journal may have been read before the editor brought the panel.
    refresh();
  };

  /** Undefined to follow the cursor. */
  const choose = async ({ code, title, atCursor }: Kind, at: At): Promise<Choice | undefined | 'none'> => {
    const { candidates } = (await ask('documentCandidates', { ...at, kind: code })) as {
      readonly candidates: readonly Candidate[];
    };
    const here = atCursor ? Object.values(atCursor).join(' – ') || l10n.t('the whole record') : undefined;
    const items = [
      ...(here === undefined
        ? []
        : [{ label: l10n.t('Follow the cursor'), description: l10n.t('now {0}', here), choice: undefined }]),
      ...candidates.map(({ label, detail, choice }) => ({ label, description: detail, choice })),
    ];
    if (items.length === 0) {
      void window.showInformationMessage(l10n.t('Nothing in this journal makes this document yet: {0}.', title));
      return 'none';
    }
    const picked = await window.showQuickPick(items, { placeHolder: l10n.t('{0} of what?', title) });
    return picked ? picked.choice : 'none';
  };

  const save = async (): Promise<void> => {
    const one = shown;
    if (!one?.made)
      return void window.showInformationMessage(l10n.t('Show a document first: Fineweight: Show a Document…'));
    const picked = await window.showQuickPick(formats(), { placeHolder: l10n.t('In which form?') });
    if (!picked) return;
    const name = [one.kind, ...Object.values(one.made)].join('-').replaceAll(/[^\w.-]+/g, '-');
    const page = Uri.parse(one.at.textDocument.uri);
    const target = await window.showSaveDialog({
      defaultUri: Uri.joinPath(page, '..', `${name}.${picked.format}`),
      filters: { [picked.label]: [picked.format] },
    });
    if (!target) return;
    const params = { ...one.at, kind: one.kind, choice: one.made, format: picked.format, out: target.toString() };
    const answer = (await ask('document', params)) as Answer;
    if (answer.text === undefined)
      return void window.showErrorMessage(answer.refused ?? l10n.t('There is no such document now.'));
    await workspace.fs.writeFile(target, new TextEncoder().encode(answer.text));
  };

  return {
    show,
    sheet,
    save,
    restore,
    refresh,
    dispose: () => {
      clearTimeout(timer);
      shown?.panel.dispose();
    },
  };
};

/** Where somebody writes; undefined while no page has the focus. */
const cursor = (): At | undefined => {
  const editor = window.activeTextEditor;
  if (editor?.document.languageId !== 'melt') return undefined;
  const { line, character } = editor.selection.active;
  return { textDocument: { uri: editor.document.uri.toString() }, position: { line, character } };
};
