/**
 * SHA-256 (FIPS 180-4). This file alone knows the library: a browser gives its own only as a promise, and a seal is checked between two
 * keystrokes.
 */
import { sha256 as hash } from '@noble/hashes/sha2';
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils';

/** Lower-case hexadecimal, 64 characters; of a text, that of its UTF-8. */
export const sha256 = (of: string | Uint8Array): string =>
  bytesToHex(hash(typeof of === 'string' ? utf8ToBytes(of) : of));
