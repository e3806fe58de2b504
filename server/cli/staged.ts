/** A journal as it goes into the next commit: what is staged, whatever the work tree has. */
import { basename, dirname, join } from 'node:path';
import { isJournalFile, WORKSHOP_NAME } from '../files/names';
import { besideAmong } from '../files/proof';
import { decodeUtf8 } from '../files/utf8';
import { UNREAD } from '../record/proofs';
import { visible } from '../text/visible';
import { blobs, git, isPassedOver } from './git';
import { type ProofReader, sha256Of } from './proofs';

export interface Staged {
  readonly texts: ReadonlyMap<string, string>;
  readonly proofs: ProofReader;
  /** Sentences on what could not be read. */
  readonly failures: readonly string[];
}

export const stagedOf = (root: string): Staged => {
  const index = indexOf(root);
  const own = [...index.files].filter(
    ([path]) => isJournalFile(path) && !isPassedOver(path) && belongsTo(path, index.files),
  );
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
  return { texts, proofs: proofsIn(root, index), failures };
};

/** As they are staged; a link is read where it leads, as on a disk: to what is staged in this folder. */
const proofsIn = (root: string, index: Index): ProofReader => {
  const bytesOf = (hash: string): Buffer => blobs(root, [hash])[0]!;
  const resolved = (path: string): string | undefined =>
    resolve(path, (at) => {
      const hash = index.links.get(at);
      return hash === undefined ? undefined : bytesOf(hash).toString('utf8');
    });
  return {
    digestOf: (_, path) => {
      const at = resolved(path);
      if (at === undefined) return UNREAD;
      const hash = index.files.get(at);
      return hash === undefined ? null : sha256Of(bytesOf(hash));
    },
    beside: (_, path) => {
      const folder = dirname(path);
      const names = [...index.files.keys()].filter((one) => dirname(one) === folder).map((one) => basename(one));
      return besideAmong(names, folder);
    },
  };
};

const MOST_LINKS = 40;

/** Where a path leads, each link on the way followed; undefined where that is out of the folder, or round in a circle. */
const resolve = (path: string, linkAt: (path: string) => string | undefined): string | undefined => {
  let [left, at] = [path.split('/'), [] as string[]];
  for (let links = 0; left.length > 0; ) {
    const [step, ...rest] = left as [string, ...string[]];
    left = rest;
    if (step === '' || step === '.') continue;
    if (step === '..') {
      if (at.pop() === undefined) return undefined;
      continue;
    }
    const target = linkAt([...at, step].join('/'));
    if (target === undefined) at = [...at, step];
    else if (target.startsWith('/') || ++links > MOST_LINKS) return undefined;
    else left = [...target.split('/'), ...rest];
  }
  return at.join('/');
};

/** By path below the folder, the objects that are staged; what is still to be merged is none. */
interface Index {
  readonly files: ReadonlyMap<string, string>;
  readonly links: ReadonlyMap<string, string>;
}

const indexOf = (root: string): Index => {
  const [files, links] = [new Map<string, string>(), new Map<string, string>()];
  for (const row of git(root, ['ls-files', '--stage', '-z', '--', '.']).toString('utf8').split('\0')) {
    const [about = '', path = ''] = row.split('\t');
    const [mode, hash = '', stage] = about.split(' ');
    if (stage === '0') (mode === '120000' ? links : files).set(path, hash);
  }
  return { files, links };
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
