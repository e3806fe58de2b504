/**
 * Seals that stood once and stand no more. What a seal closes is checked by the seals that stand; that the newest was taken out, or made anew over
 * what was changed, leaves no trace in the pages: git alone has it.
 */
import { existsSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { WORKSHOP_NAME } from '../files/names';
import { recordOf } from '../record/breaks';
import { sealsOf } from '../record/periods';
import { markOfSeal, saidBy } from '../record/seal';
import { visible } from '../text/visible';
import type { Workspace } from '../workspace/workspace';
import { askGit, isPassedOver } from './git';
import type { Opened } from './journals';

/** A seal as it stood once. */
export interface PastSeal {
  readonly upTo: string;
  readonly digest: string;
  /** The name of its page. */
  readonly page: string;
  /** The last commit that it came or went with, as far as that is known. */
  readonly commit: string | undefined;
}

/** Every seal that any commit brought or took, up to what is checked out and what is being merged with it; none where git has no answer. */
export const sealsInGit = (root: string): readonly PastSeal[] => {
  const merging = askGit(root, ['rev-parse', '--verify', '--quiet', 'MERGE_HEAD'])?.trim();
  const told = askGit(root, [
    ...['log', '--format=commit %h', '-p', '-U0', '--no-color', '--no-textconv', '--no-ext-diff', '--no-renames'],
    ...['--relative', '-Sdigest s', 'HEAD', ...(merging ? [merging] : []), '--', '*.melt'],
  ]);
  const found = new Map<string, PastSeal>();
  let [commit, path] = ['', ''];
  for (const row of told?.split('\n') ?? []) {
    const of = /^commit ([0-9a-f]+)$/.exec(row);
    if (of) commit = of[1]!;
    const file = /^(?:---|\+\+\+) "?[ab]\/(.*?)"?\t?$/.exec(row);
    if (file) path = file[1]!;
    const [, upTo, digest] = /^[+-]seal\s+(\d{4}-\d\d-\d\d)\s+digest\s+(s\d+-[0-9a-f]{64})(?:[\s#]|$)/i.exec(row) ?? [];
    if (upTo === undefined || digest === undefined || found.has(digest) || !isOwn(root, path)) continue;
    found.set(digest, { upTo, digest, page: path.slice(path.lastIndexOf('/') + 1), commit });
  }
  return [...found.values()].sort((a, b) => (a.upTo < b.upTo ? -1 : a.upTo > b.upTo ? 1 : 0));
};

/** Below no nearer workshop file, which would make a journal of its own. */
const isOwn = (root: string, path: string): boolean => {
  for (let folder = dirname(path); folder !== '.'; folder = dirname(folder))
    if (existsSync(join(root, folder, WORKSHOP_NAME))) return false;
  return !isPassedOver(path);
};

/** Those that neither stand nor are named by one that was openly made anew instead. */
export const goneFrom = (workspace: Workspace, past: readonly PastSeal[]): readonly PastSeal[] => {
  const known = new Set(
    sealsOf(workspace).flatMap(({ entry, section }) => [entry.digest?.name ?? '', ...saidBy(section).replaces]),
  );
  return past.filter(({ digest }) => !known.has(digest));
};

/** A sentence for each that is gone; one that a later seal misses is told there. */
export const goneWords = (workspace: Workspace, past: readonly PastSeal[]): readonly string[] => {
  const standing = new Map(sealsOf(workspace).map(({ upTo, entry }) => [upTo, entry.digest?.name]));
  const missed = new Set(
    recordOf(workspace).seals.flatMap(({ breaks }) => breaks.flatMap((one) => (one.kind === 'before' ? one.was : []))),
  );
  return goneFrom(workspace, past).flatMap(({ upTo, digest, page, commit }) => {
    const where = `${visible(page)}${commit === undefined ? '' : ` (commit ${commit})`}`;
    if (standing.has(upTo))
      return [
        `The seal up to ${upTo} was made anew: it was ${shortDigest(digest)} in ${where}, and is ${shortDigest(standing.get(upTo) ?? 'without a digest')}. Put it back; what it closed is corrected, not sealed again.`,
      ];
    if (missed.has(markOfSeal(digest))) return [];
    return [
      `The seal up to ${upTo} is gone: it stood in ${where}. Put it back; what it closed is corrected, not opened again.`,
    ];
  });
};

/** Enough to tell two digests apart by eye. */
export const shortDigest = (digest: string): string =>
  digest.length > 20 ? `${digest.slice(0, 'sn-'.length + 12)}…` : digest;

/** A check that also asks git for seals that are gone. */
export const withSealsGone = (opened: Opened): Opened => {
  const gone = opened.journals.flatMap(({ workspace }) => goneWords(workspace, sealsInGit(workspace.root)));
  return { ...opened, failures: [...opened.failures, ...gone], gone };
};
