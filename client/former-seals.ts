/** Pages with seals as the editor's git has them, before commits that changed them or took them away: the server tells which of them are gone. */
import type { Uri } from 'vscode';
import { type Repository, repositoryOf, shown } from './git';

/** As the command names them, wherever in the repository, and any page: a seal may stand on each. */
const SEAL_PAGES = ':(top,icase,glob)**/seal-*.melt';
const ANY_PAGE = ':(top,icase)*.melt';
const isPage = ({ path }: Uri): boolean => /\.melt$/i.test(path);

/** Seals are made by the month. */
const MOST_COMMITS = 100;
/** Pages are written by the day; each commit is a question to git. */
const MOST_OF_ANY_PAGE = 200;

interface Former {
  readonly uri: string;
  readonly text: string;
}

/** None where git has no answer. */
export const formerSeals = async (page: Uri): Promise<readonly Former[]> => {
  const repository = await repositoryOf(page).catch(() => undefined);
  if (!repository) return [];
  const log = (path: string, maxEntries: number) => repository.log({ path, maxEntries }).catch(() => []);
  const commits = [...(await log(SEAL_PAGES, MOST_COMMITS)), ...(await log(ANY_PAGE, MOST_OF_ANY_PAGE))];
  const all = await before(repository, 'HEAD', repository.diffWith('HEAD'));
  for (const hash of new Set(commits.map((one) => one.hash))) {
    const known =
      ofCommit.get(hash) ?? (await before(repository, `${hash}~`, repository.diffBetween(`${hash}~`, hash)));
    ofCommit.set(hash, known);
    all.push(...known);
  }
  return once(all);
};

/** A commit never changes. */
const ofCommit = new Map<string, readonly Former[]>();

/** Of pages that differ from a commit, those that bore a seal there. */
const before = async (
  repository: Repository,
  commit: string,
  asked: Promise<readonly { readonly originalUri: Uri }[]>,
): Promise<Former[]> => {
  const changes = (await asked.catch(() => [])).filter((one) => isPage(one.originalUri));
  const found: Former[] = [];
  for (const { originalUri } of changes) {
    const seals = sealLines((await shown(repository, commit, originalUri)) ?? '');
    if (seals.length > 0) found.push({ uri: originalUri.toString(), text: `${seals.join('\n')}\n` });
  }
  return found;
};

/** The first lines of seals with their digests: enough to know them by. */
const sealLines = (text: string): readonly string[] =>
  text.split('\n').filter((line) => /^\ufeff?seal\s/i.test(line) && /\sdigest\s/i.test(line));

/** A page that was written on for months bears the same seals in every commit. */
const once = (all: readonly Former[]): readonly Former[] => [
  ...new Map(all.map((one) => [`${one.uri}\n${one.text}`, one])).values(),
];
