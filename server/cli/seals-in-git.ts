/** Seals as git has them: in the whole repository, wherever in it a journal stood. */
import { basename, join } from 'node:path';
import { readJournalFile } from '../files/read';
import { decodeUtf8 } from '../files/utf8';
import { type SealEntry, sealsOf } from '../record/periods';
import { emptyWorkspace, withTexts } from '../workspace/update';
import { askGit, blobs, historyNote, isPassedOver } from './git';

/** A seal as it stood once. */
export interface PastSeal {
  readonly upTo: string;
  readonly digest: string;
  /** Its page, from the top of the repository, and all pages that it ever stood on. */
  readonly path: string;
  readonly paths: ReadonlySet<string>;
  /** The last commit that it came or went with, as far as that is known. */
  readonly commit: string | undefined;
  /** A commit that has it, or that took it away, and the page that it has it on. */
  readonly seenIn: string;
  readonly seenAt: string;
}

export const pageOf = ({ path }: PastSeal): string => basename(path);

/** The top of the repository that a folder is in; none where git has no answer. */
export const topOf = (root: string): string | undefined =>
  askGit(root, ['rev-parse', '--show-toplevel'])?.replace(/\r?\n$/, '') || undefined;

const EVERY_PAGE = ['--', ':(top,icase)*.melt'];
/** Pages are text, whatever the repository's attributes say of them. */
const ROWS = [
  ...[
    '-p',
    '-U0',
    '--text',
    '--no-color',
    '--no-textconv',
    '--no-ext-diff',
    '--no-renames',
    '--src-prefix=a/',
    '--dst-prefix=b/',
  ],
  ...['-i', '-Gseal[[:space:]].*digest[[:space:]]'],
];

/**
 * Every seal that any commit brought or took, up to what is checked out and what is being merged with it; one that came with a merge alone too.
 * None where git has no answer.
 */
export const sealsInGit = (root: string): readonly PastSeal[] => {
  const top = topOf(root);
  if (top === undefined) return [];
  const known = asked.get(top) ?? askedOf(top);
  asked.set(top, known);
  return known;
};

/** Journals of one repository have one history. */
const asked = new Map<string, readonly PastSeal[]>();

/** Those whose history git could not list, though there is one. */
const unread = new Set<string>();

/** Why git cannot tell all seals that ever stood, once it was asked for them. */
export const unknownHistory = (folder: string): string | undefined =>
  historyNote(folder) ??
  (unread.has(topOf(folder) ?? '')
    ? 'The history is not known (git could not list all of it: `git fsck` tells what is broken): a seal that was taken out is not missed here.'
    : undefined);

const askedOf = (root: string): readonly PastSeal[] => {
  const merging = askGit(root, ['rev-parse', '--verify', '--quiet', 'MERGE_HEAD'])?.trim();
  const heads = ['HEAD', ...(merging ? [merging] : [])];
  const told = askGit(root, ['log', '--format=commit %h', '-m', ...ROWS, ...heads, ...EVERY_PAGE]);
  const hasCommits = (): boolean => askGit(root, ['rev-parse', '--verify', '--quiet', 'HEAD']) !== undefined;
  if (told === undefined && hasCommits()) unread.add(root);
  const found = new Map<string, PastSeal>();
  // The newest commit comes first: the oldest one that brought it certainly has it.
  for (const { sign, commit, ...seal } of rowsOf(told ?? '')) {
    const known = found.get(seal.digest) ?? { ...seal, paths: new Set(), commit, seenIn: commit, seenAt: seal.path };
    const paths = new Set([...known.paths, seal.path]);
    found.set(seal.digest, { ...known, paths, ...(sign === '+' ? { seenIn: commit, seenAt: seal.path } : {}) });
  }
  return [...found.values()].sort((a, b) => (a.upTo < b.upTo ? -1 : a.upTo > b.upTo ? 1 : 0));
};

/** Those that pages of a commit bear, and those pages, as they are or as they are staged, bear no more; another page may. */
export const sealsTakenSince = (root: string, commit: string, ask: readonly string[]): readonly PastSeal[] => {
  const rows = rowsOf(askGit(root, ['diff', ...ask, ...ROWS, commit, ...EVERY_PAGE]) ?? '');
  return rows.flatMap(({ sign, ...seal }) =>
    sign === '-' ? { ...seal, paths: new Set([seal.path]), commit: undefined, seenIn: commit, seenAt: seal.path } : [],
  );
};

/** As the command names them. */
const SEAL_PAGES = ':(top,icase,glob)**/seal-*.melt';

/** Those on pages of seals that commits up to one changed or took away: asked of the names of pages alone, which is quick. */
export const sealsTakenBefore = (root: string, commit: string): readonly PastSeal[] => {
  const asked = ['log', '-z', '--format=%n%h', '-m', '--no-renames', '--diff-filter=DM', '--name-only'];
  const told = askGit(root, [...asked, commit, '--', SEAL_PAGES]) ?? '';
  const found = new Map<string, PastSeal>();
  let by = '';
  for (const row of told.split(/[\0\n]+/)) {
    if (/^[0-9a-f]+$/.test(row)) by = row;
    else if (row !== '' && !isPassedOver(row)) {
      const text = askGit(root, ['cat-file', 'blob', `${by}^:${row}`]) ?? '';
      for (const { upTo, entry } of sealsOn(text)) {
        if (!entry.digest || found.has(entry.digest.name)) continue;
        const seal = { upTo, digest: entry.digest.name, path: row, paths: new Set([row]) };
        found.set(seal.digest, { ...seal, commit: by, seenIn: by, seenAt: row });
      }
    }
  }
  return [...found.values()];
};

interface Row extends Pick<PastSeal, 'upTo' | 'digest' | 'path'> {
  readonly sign: '+' | '-';
  readonly commit: string;
}

const rowsOf = (told: string): readonly Row[] => {
  const rows: Row[] = [];
  let [commit, path] = ['', ''];
  for (const row of told.split('\n')) {
    commit = /^commit ([0-9a-f]+)$/.exec(row)?.[1] ?? commit;
    path = /^(?:---|\+\+\+) "?[ab]\/(.*?)"?\t?$/.exec(row)?.[1] ?? path;
    const sign = row.startsWith('+') ? '+' : '-';
    if (!/^[+-]\ufeff?seal\s/i.test(row) || isPassedOver(path)) continue;
    for (const { upTo, entry } of sealsOn(row.slice(1)))
      if (entry.digest) rows.push({ sign, commit, path, upTo, digest: entry.digest.name });
  }
  return rows;
};

/** The seals on a page, as a journal reads them. */
export const sealsOn = (text: string): readonly SealEntry[] =>
  sealsOf(withTexts(emptyWorkspace('/'), new Map([['/page.melt', text]])));

/** A seal with all its lines; none where git has it no more. */
export const wholeSeal = (top: string, { digest, seenIn, seenAt }: PastSeal): SealEntry | undefined => {
  for (const commit of [seenIn, `${seenIn}^`]) {
    const text = askGit(top, ['cat-file', 'blob', `${commit}:${seenAt}`]);
    const found = text === undefined ? undefined : sealsOn(text).find(({ entry }) => entry.digest?.name === digest);
    if (found) return found;
  }
  return undefined;
};

/** The pages of the repository that are not those of a journal, by their paths from the top. */
export type PagesBeside = (top: string, own: ReadonlySet<string>) => ReadonlyMap<string, string>;

/** As they are on the disk. */
export const pagesOnDisk: PagesBeside = (top, own) => {
  const listed = askGit(top, ['ls-files', '-z', '--cached', '--others', '--exclude-standard', ...EVERY_PAGE]) ?? '';
  const texts = new Map<string, string>();
  for (const path of new Set(listed.split('\0'))) {
    if (path === '' || isPassedOver(path) || own.has(`${top}/${path}`)) continue;
    const read = readJournalFile(join(top, path));
    if (read.ok) texts.set(path, read.text);
  }
  return texts;
};

/** As they are staged. */
export const pagesStaged: PagesBeside = (top, own) => {
  const rows = (askGit(top, ['ls-files', '--stage', '-z', ...EVERY_PAGE]) ?? '').split('\0').flatMap((row) => {
    const [about = '', path = ''] = row.split('\t');
    const [mode, hash = ''] = about.split(' ');
    return path === '' || mode === '120000' || isPassedOver(path) || own.has(`${top}/${path}`) ? [] : [{ path, hash }];
  });
  const bytes = blobs(
    top,
    rows.map(({ hash }) => hash),
  );
  return new Map(
    rows.flatMap(({ path }, at) => {
      const decoded = decodeUtf8(bytes[at]!);
      return decoded.ok ? [[path, decoded.text] as const] : [];
    }),
  );
};
