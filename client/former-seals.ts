/** Pages of seals as the editor's git has them, before commits that changed them or took them away: the server tells which of them are gone. */
import type { Uri } from 'vscode';
import { repositoryOf, shown } from './git';

/** As the command names them, wherever in the repository; a seal on another page only a terminal finds. */
const SEAL_PAGES = ':(top,icase,glob)**/seal-*.melt';
const isSealPage = ({ path }: Uri): boolean => /\/seal-[^/]*\.melt$/i.test(path);

/** Seals are made by the month. */
const MOST_COMMITS = 100;

/** None where git has no answer. */
export const formerSeals = async (page: Uri): Promise<readonly { readonly uri: string; readonly text: string }[]> => {
  const repository = await repositoryOf(page).catch(() => undefined);
  if (!repository) return [];
  const found = new Map<string, { readonly uri: string; readonly text: string }>();
  const take = async (before: string, changes: readonly { readonly originalUri: Uri }[]): Promise<void> => {
    for (const { originalUri } of changes.filter((one) => isSealPage(one.originalUri))) {
      const text = await shown(repository, before, originalUri);
      if (text !== undefined) found.set(text, { uri: originalUri.toString(), text });
    }
  };
  const changed = (asked: Promise<readonly { readonly originalUri: Uri }[]>) => asked.catch(() => []);
  await take('HEAD', await changed(repository.diffWith('HEAD')));
  for (const { hash } of await repository.log({ path: SEAL_PAGES, maxEntries: MOST_COMMITS }).catch(() => []))
    await take(`${hash}~`, await changed(repository.diffBetween(`${hash}~`, hash)));
  return [...found.values()];
};
