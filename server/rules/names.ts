/** Names as they are written. */
import { isLanguageWord } from '../syntax/fill';

const isPlain = (name: string): boolean =>
  /^[\p{L}\p{M}_][\p{L}\p{M}\p{Nd}_./-]*$/u.test(name) && !name.includes('..') && !isLanguageWord(name);

/** A name as it must stand in a page: in quotes where it would read as something else. */
export const writeName = (name: string): string =>
  isPlain(name) || /^[A-Z]$/.test(name) || /^\d+[\p{L}_./]*-[\p{L}\p{Nd}_./-]+$/u.test(name) ? name : `"${name}"`;
