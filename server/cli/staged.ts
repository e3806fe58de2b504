/** A journal as it goes into the next commit: what is staged, whatever the work tree has. */
import { createHash } from 'node:crypto';
import { dirname, join } from 'node:path';
import { isJournalFile, WORKSHOP_NAME } from '../files/names';
import { decodeUtf8 } from '../files/utf8';
import { visible } from '../text/visible';
import { blobs, git, isPassedOver } from './git';
import type { ProofReader } from './proofs';

export interface Staged {
  readonly texts: ReadonlyMap<string, string>;
  readonly digestOf: ProofReader;
  /** Sentences on what could not be read. */
  readonly failures: readonly string[];
}

export const stagedOf = (root: string): Staged => {
  const index = indexOf(root);
  const own = [...index].filter(([path]) => isJournalFile(path) && !isPassedOver(path) && belongsTo(path, index));
  const bytes = blobs(
    root,
    own.map(([, hash]) => hash),
  );
  const texts = new Map<string, string>();
  const failures: string[] = [];
  for (const [at, [path]] of own.entries()) {
    const decoded = decodeUtf8(bytes[at]!);
    if (decoded.ok) texts.set(`${root}/${path}`, decoded.text);
    else failures.push(`${visible(path)} is not UTF-8 as it is staged.`);
  }
  const digestOf: ProofReader = (_, path) => {
    const hash = index.get(path);
    return hash === undefined
      ? null
      : `sha256-${createHash('sha256')
          .update(blobs(root, [hash])[0]!)
          .digest('hex')}`;
  };
  return { texts, digestOf, failures };
};

/** By path below the folder, the object that is staged; links and what is still to be merged are none. */
const indexOf = (root: string): ReadonlyMap<string, string> => {
  const rows = git(root, ['ls-files', '--stage', '-z', '--', '.']).toString('utf8').split('\0');
  return new Map(
    rows.flatMap((row) => {
      const [about = '', path = ''] = row.split('\t');
      const [mode, hash = '', stage] = about.split(' ');
      return stage === '0' && mode !== '120000' ? [[path, hash] as const] : [];
    }),
  );
};

/** No nearer workshop file makes a journal of its own. */
const belongsTo = (path: string, index: ReadonlyMap<string, string>): boolean => {
  for (let folder = dirname(path); folder !== '.'; folder = dirname(folder))
    if (index.has(join(folder, WORKSHOP_NAME))) return false;
  return true;
};

/** The commit that the next one goes on from; the empty tree before the first one. */
export const headOf = (root: string): string => {
  try {
    return git(root, ['rev-parse', '--verify', '--quiet', 'HEAD^{commit}']).toString('utf8').trim();
  } catch {
    return git(root, ['hash-object', '-t', 'tree', '--stdin']).toString('utf8').trim();
  }
};
