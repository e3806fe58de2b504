/**
 * What a broken seal closed, as git has it: where a finding tells that something sealed was changed, the pages as they were when the seal was made are
 * handed to the server, and the finding names what changed. Nobody is asked, and nothing is shown where git has no answer.
 */
import { type Disposable, languages, Uri, workspace } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { type Repository, repositoryOf, shown } from './git';

interface ForgottenSeal {
  readonly digest: string;
  readonly uri: string;
}

/** So many commits of a seal's page are looked through for the first that has it. */
const MOST_COMMITS = 50;

export const rememberSealed = (client: BaseLanguageClient): Disposable => {
  const tried = new Set<string>();
  const followed = new Map<Repository, Disposable>();
  const lookAt = async (uri: Uri): Promise<void> => {
    const textDocument = { uri: uri.toString() };
    for (const { digest, uri: page } of await client.sendRequest<readonly ForgottenSeal[]>('fineweight/forgotten', {
      textDocument,
    })) {
      const repository = await repositoryOf(Uri.parse(page));
      if (!repository) continue;
      // A seal that is in no commit yet may be in the next one.
      if (!followed.has(repository)) followed.set(repository, repository.state.onDidChange(lookAtAll));
      const key = `${digest} ${uri} ${repository.state.HEAD?.commit}`;
      if (tried.has(key)) continue;
      tried.add(key);
      const commit = await firstWith(repository, Uri.parse(page), digest);
      const texts = commit === undefined ? [] : await textsAt(repository, commit, uri);
      if (texts.length > 0) await client.sendRequest('fineweight/remember', { textDocument, texts });
    }
  };
  const lookAtThese = (uris: readonly Uri[]): void => {
    for (const uri of uris) {
      const isBroken = languages.getDiagnostics(uri).some(({ code }) => codeOf(code) === 'seal-broken');
      // What fails here leaves the finding as it is.
      if (isBroken) void lookAt(uri).catch(() => undefined);
    }
  };
  const lookAtAll = (): void => lookAtThese(languages.getDiagnostics().map(([uri]) => uri));
  const listening = languages.onDidChangeDiagnostics(({ uris }) => lookAtThese(uris));
  return {
    dispose: () => {
      listening.dispose();
      for (const one of followed.values()) one.dispose();
    },
  };
};

const codeOf = (code: unknown): unknown =>
  typeof code === 'object' && code !== null && 'value' in code ? code.value : code;

const firstWith = async (repository: Repository, page: Uri, digest: string): Promise<string | undefined> => {
  const commits = await repository.log({ path: page.fsPath, maxEntries: MOST_COMMITS });
  for (const { hash } of commits.toReversed()) if ((await shown(repository, hash, page))?.includes(digest)) return hash;
  return undefined;
};

/** The journal's files that differ from that commit, and those that are open and may: they are not all saved. */
const textsAt = async (repository: Repository, commit: string, asked: Uri): Promise<readonly object[]> => {
  const differ = (await repository.diffWith(commit)).map(({ originalUri }) => originalUri);
  const open = workspace.textDocuments.filter(({ isDirty }) => isDirty).map(({ uri }) => uri);
  const files = new Map([...differ, ...open, asked].filter(isOfJournal).map((uri) => [uri.toString(), uri]));
  const texts = await Promise.all(
    [...files].map(async ([uri, file]) => ({ uri, text: await shown(repository, commit, file) })),
  );
  return texts.filter(({ text }) => text !== undefined);
};

const isOfJournal = ({ path }: Uri): boolean => /(?:\.melt|\/workshop\.yaml)$/.test(path);
