/** The bytes of a photo or paper below a folder. What leads out of the folder, or is no file, is not read. */
import { readFileSync, statSync } from 'node:fs';
import { join, sep } from 'node:path';
import { MEGABYTE } from './decoded';
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
