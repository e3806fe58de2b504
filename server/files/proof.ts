/** The bytes of a photo or paper below a folder. What leads out of the folder, or is no file, is not read. */
import { readdirSync, readFileSync, statSync } from 'node:fs';
import { dirname, join, sep } from 'node:path';
import { MEGABYTE } from './decoded';
import { isJournalFile } from './names';
import { realPathOf } from './walk';

/** A picture of more than that is no proof that anybody keeps beside a page. */
export const LARGEST_PROOF = 200 * MEGABYTE;

export type Proof =
  | { readonly kind: 'bytes'; readonly bytes: Uint8Array }
  | { readonly kind: 'missing' }
  /** There, but not to be read: too large, not a file, outside of the folder, or without permission. */
  | { readonly kind: 'unread' };

/** `path` is below the folder, with forward slashes. Never throws. */
export const readProof = (root: string, path: string): Proof => {
  const realRoot = realPathOf(root);
  const real = realPathOf(join(root, path));
  if (realRoot === undefined || real === undefined) return { kind: 'missing' };
  if (!real.startsWith(realRoot.endsWith(sep) ? realRoot : `${realRoot}${sep}`)) return { kind: 'unread' };
  try {
    const status = statSync(real);
    if (!status.isFile() || status.size > LARGEST_PROOF) return { kind: 'unread' };
    return { kind: 'bytes', bytes: readFileSync(real) };
  } catch {
    return { kind: 'unread' };
  }
};

/** So many files are looked through for one that is gone. */
const MOST_BESIDE = 300;

/** Other files in the folder of one, as paths from the root; pages and what is hidden left out. */
export const pathsBeside = (root: string, path: string): readonly string[] => {
  const folder = dirname(path);
  const real = realPathOf(join(root, folder));
  if (real === undefined) return [];
  try {
    const names = readdirSync(real, { withFileTypes: true }).flatMap((one) => (one.isFile() ? one.name : []));
    return besideAmong(names, folder);
  } catch {
    return [];
  }
};

/** The same of names that are known. */
export const besideAmong = (names: readonly string[], folder: string): readonly string[] =>
  names
    .filter((name) => !name.startsWith('.') && !isJournalFile(name))
    .sort()
    .slice(0, MOST_BESIDE)
    .map((name) => (folder === '.' ? name : `${folder}/${name}`));

/** What shows that a file may have changed: its size and the time of its last change; none where it is not there. */
export const stampOfProof = (root: string, path: string): string | undefined => {
  const real = realPathOf(join(root, path));
  if (real === undefined) return undefined;
  try {
    const { size, mtimeMs } = statSync(real);
    return `${size} ${mtimeMs}`;
  } catch {
    return undefined;
  }
};
