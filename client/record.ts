/** Commands for the record: a seal as a new page, and the open page against the last commit. What git must tell is asked of the editor's own git. */
import { type Disposable, EventEmitter, l10n, Uri, WorkspaceEdit, window, workspace } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { formerSeals } from './former-seals';
import { repositoryOf } from './git';

type SealAnswer = { readonly name: string; readonly text: string } | { readonly refused: string };

const openPage = (): Uri | undefined => {
  const document = window.activeTextEditor?.document;
  return document?.languageId === 'melt' ? document.uri : undefined;
};

export const seal = async (client: BaseLanguageClient): Promise<void> => {
  const uri = openPage();
  if (!uri) return void window.showInformationMessage(l10n.t('Open a page of the journal that is to be sealed.'));
  const date = await window.showInputBox({
    title: l10n.t('Seal the record'),
    prompt: l10n.t(
      'The last day that is closed, year first. What stands up to it is then corrected, no longer changed.',
    ),
    value: lastOfMonthBefore(),
    validateInput: (text) =>
      /^\d{4}-\d\d-\d\d$/.test(text.trim()) ? undefined : l10n.t('A date, year first: 2026-05-31'),
  });
  if (date === undefined) return;
  const answer = await client.sendRequest<SealAnswer>('fineweight/seal', {
    textDocument: { uri: uri.toString() },
    date: date.trim(),
    former: await formerSeals(uri),
  });
  if ('refused' in answer) return void window.showWarningMessage(answer.refused);
  const page = Uri.joinPath(uri, '..', answer.name);
  const edit = new WorkspaceEdit();
  edit.createFile(page, { overwrite: false, contents: new TextEncoder().encode(answer.text) });
  if (!(await workspace.applyEdit(edit)))
    return void window.showWarningMessage(l10n.t('{0} is there already. Nothing was written.', answer.name));
  await window.showTextDocument(page);
};

const lastOfMonthBefore = (): string => {
  const now = new Date();
  const last = new Date(Date.UTC(now.getFullYear(), now.getMonth(), 0));
  return last.toISOString().slice(0, 10);
};

/** What was compared is shown to be read: no page of anybody's, which the editor would ask about. */
const SHOWN = 'fineweight-changes';

export interface Comparison extends Disposable {
  /** The open page against the last commit. In a folder that is not trusted the editor's git does not run, and nothing is compared. */
  readonly show: () => Promise<void>;
}

export const createComparison = (client: BaseLanguageClient): Comparison => {
  const contents = new Map<string, string>();
  const changed = new EventEmitter<Uri>();
  const provider = workspace.registerTextDocumentContentProvider(SHOWN, {
    onDidChange: changed.event,
    provideTextDocumentContent: (uri) => contents.get(uri.path) ?? '',
  });
  const show = async (): Promise<void> => {
    const uri = openPage();
    if (!uri) return void window.showInformationMessage(l10n.t('Open a page to be compared.'));
    const text = await lastCommitted(uri);
    if (text === undefined) return;
    const content = await client.sendRequest<string>('fineweight/changes', {
      textDocument: { uri: uri.toString() },
      text,
    });
    const page = Uri.from({ scheme: SHOWN, path: `${uri.path}: ${l10n.t('since the last commit')}` });
    contents.set(page.path, content);
    changed.fire(page);
    await window.showTextDocument(page, { preview: true });
  };
  return {
    show,
    dispose: () => {
      provider.dispose();
      changed.dispose();
    },
  };
};

/** The page as the last commit has it; undefined where that cannot be known, and it has been said why. */
const lastCommitted = async (uri: Uri): Promise<string | undefined> => {
  const refuse = (why: string): undefined => void window.showInformationMessage(why);
  if (!workspace.isTrusted) return refuse(l10n.t('In a folder that is not trusted git is not asked.'));
  const repository = await repositoryOf(uri);
  if (!repository) return refuse(l10n.t('This page is in no repository that the editor knows.'));
  try {
    return await repository.show('HEAD', uri.fsPath);
  } catch {
    return '';
  }
};
