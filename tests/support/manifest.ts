/** The manifest as the editor shows it: each `%key%` as the word that stands for it. */

import words from '../../client/package.nls.json';
import keyed from '../../package.json';

const WORDS = new Map<string, string>(Object.entries(words));

export const manifest: typeof keyed = JSON.parse(JSON.stringify(keyed), (_, value: unknown) => {
  const key = typeof value === 'string' ? /^%(.+)%$/.exec(value)?.[1] : undefined;
  return key === undefined ? value : (WORDS.get(key) ?? value);
});
