/** The few things that are asked of git. It is run without a shell, and so that nothing of the repository's own settings is run by it. */
import { execFileSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { dirname, join, sep } from 'node:path';
import { isJournalFile } from '../files/names';
import { decodeUtf8 } from '../files/utf8';
import { emptyWorkspace, withTexts } from '../workspace/update';
import type { Workspace } from '../workspace/workspace';
import { UsageError } from './options';

/** Nor does the user's own taste change an answer. */
const QUIET = [
  ...['core.fsmonitor=false', 'core.hooksPath=/dev/null', 'core.quotePath=false', 'core.bigFileThreshold=512m'],
  ...[
    'log.follow=false',
    'log.showSignature=false',
    'log.diffMerges=separate',
    'diff.relative=false',
    'diff.orderFile=/dev/null',
  ],
].flatMap((setting) => ['-c', setting]);
/** History as it was recorded: no commit stands for another one, or has other parents. */
const AS_RECORDED = { GIT_NO_REPLACE_OBJECTS: '1', GIT_GRAFT_FILE: '/dev/null' };
const MOST_BYTES = 1024 * 1024 * 1024;

/** Throws a UsageError that says what git said. */
export const git = (folder: string, args: readonly string[], input = ''): Buffer => {
  try {
    return execFileSync('git', [...QUIET, ...args], {
      cwd: folder,
      input,
      maxBuffer: MOST_BYTES,
      stdio: ['pipe', 'pipe', 'pipe'],
      env: { ...process.env, ...AS_RECORDED, GIT_OPTIONAL_LOCKS: '0', GIT_TERMINAL_PROMPT: '0', LC_ALL: 'C' },
    });
  } catch (error) {
    throw new UsageError(saidBy(error));
  }
};

const saidBy = (error: unknown): string => {
  if (error instanceof Error && 'code' in error && error.code === 'ENOENT') return 'git is not installed here.';
  const said = error instanceof Error && 'stderr' in error ? String(error.stderr) : '';
  const [line = ''] = said.split('\n');
  return line.trim() === '' ? 'git could not answer.' : `git says: ${line.replace(/^fatal: /, '').trim()}`;
};

/** The same as a text; undefined where git has no answer, or there is no git. */
export const askGit = (folder: string, args: readonly string[]): string | undefined => {
  try {
    return git(folder, args).toString('utf8');
  } catch {
    return undefined;
  }
};

/** Why git cannot tell all that ever stood, and what to do; nothing where it can, or where there is no repository. */
export const historyNote = (folder: string): string | undefined => {
  try {
    const isShallow = git(folder, ['rev-parse', '--is-shallow-repository']).toString('utf8').trim() === 'true';
    return isShallow
      ? 'This clone has the newest commits alone: a seal that was taken out before them is not missed here. Fetch the whole history: `git fetch --unshallow`.'
      : undefined;
  } catch (error) {
    const said = error instanceof UsageError ? error.message.replace(/\.$/, '') : String(error);
    return isInRepository(folder)
      ? `The history is not known (${said}): a seal that was taken out is not missed here.`
      : undefined;
  }
};

const isInRepository = (folder: string): boolean => {
  for (let at = folder; ; at = dirname(at)) {
    if (existsSync(join(at, '.git'))) return true;
    if (dirname(at) === at) return false;
  }
};

/** The full name of a commit. A name that begins with a dash is none: it would be an option. */
export const commitOf = (folder: string, revision: string): string => {
  if (revision.startsWith('-')) throw new UsageError(`${revision} is no commit.`);
  const commit = askGit(folder, ['rev-parse', '--verify', '--quiet', '--end-of-options', `${revision}^{commit}`]);
  if (commit !== undefined) return commit.trim();
  git(folder, ['rev-parse', '--git-dir']);
  const isFirst = askGit(folder, ['rev-parse', '--verify', '--quiet', 'HEAD']) === undefined;
  throw new UsageError(
    isFirst ? `There is no commit here yet, and so no ${revision}.` : `There is no commit ${revision} here.`,
  );
};

/** The journal below a folder as it was at a commit. */
export const journalAt = (root: string, commit: string): Workspace =>
  withTexts(emptyWorkspace(root), textsAt(root, commit));

/** Its texts, or those of the files wanted, by the ids that its files have today. */
export const textsAt = (root: string, commit: string, wanted?: ReadonlySet<string>): ReadonlyMap<string, string> => {
  const listed = git(root, ['ls-tree', '-r', '-z', '--full-tree', commit]).toString('utf8');
  const prefix = git(root, ['rev-parse', '--show-prefix']).toString('utf8').trimEnd();
  const files = listed.split('\0').flatMap((row) => {
    const [about = '', path = ''] = row.split('\t');
    const [mode, kind, hash = ''] = about.split(' ');
    const isOurs = kind === 'blob' && mode !== '120000' && path.startsWith(prefix) && isJournalFile(path);
    const within = path.slice(prefix.length);
    const isWanted = wanted === undefined || wanted.has(`${idOf(root)}/${within}`);
    return isOurs && isWanted && !isPassedOver(within) ? [{ hash, within }] : [];
  });
  const texts = new Map<string, string>();
  for (const [index, bytes] of blobs(
    root,
    files.map(({ hash }) => hash),
  ).entries()) {
    const decoded = decodeUtf8(bytes);
    if (decoded.ok) texts.set(`${idOf(root)}/${files[index]!.within}`, decoded.text);
  }
  return texts;
};

const idOf = (root: string): string => (sep === '/' ? root : root.split(sep).join('/'));

/** As the walk over a folder passes them over. */
export const isPassedOver = (path: string): boolean =>
  path.split('/').some((name) => name.startsWith('.') || name === 'node_modules');

/** What each of these objects holds, by one process. */
export const blobs = (root: string, hashes: readonly string[]): readonly Buffer[] => {
  if (hashes.length === 0) return [];
  const out = git(root, ['cat-file', '--batch'], hashes.map((hash) => `${hash}\n`).join(''));
  const found: Buffer[] = [];
  for (let at = 0; found.length < hashes.length; ) {
    const end = out.indexOf(10, at);
    const size = Number(out.subarray(at, end).toString('latin1').split(' ')[2]);
    found.push(out.subarray(end + 1, end + 1 + size));
    at = end + 1 + size + 1;
  }
  return found;
};
