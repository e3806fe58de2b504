/** What the extension says to its user can be translated: the client's words stand in one list, the manifest's in another. */
import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, test } from 'vitest';
import words from '../../client/package.nls.json';
import manifest from '../../package.json';

const ROOT = resolve(__dirname, '../..');
const CLIENT = join(ROOT, 'client');

const source = readdirSync(CLIENT)
  .filter((name) => name.endsWith('.ts'))
  .map((name) => readFileSync(join(CLIENT, name), 'utf8'))
  .join('\n');

test('every sentence stands in the list for translators', async () => {
  const words = [...source.matchAll(/\bl10n\.t\(\s*'([^']+)'/g)].map(([, word]) => word!);
  expect(words.length).toBe([...source.matchAll(/\bl10n\.t\(/g)].length);
  const list = Object.fromEntries([...new Set(words)].sort().map((word) => [word, word]));
  await expect(`${JSON.stringify(list, null, 2)}\n`).toMatchFileSnapshot(join(ROOT, manifest.l10n, 'bundle.l10n.json'));
});

test('no message is shown but by way of that list, or as the server words it', () => {
  const shown = [...source.matchAll(/\.show(?:Information|Warning|Error)Message\(\s*(\S+)/g)].map(([, first]) => first);
  expect(shown.length).toBeGreaterThan(5);
  for (const first of shown) expect(first).toMatch(/^(l10n\.t\(|answer\.refused|why\))/);
});

describe('the words of the manifest', () => {
  /** Every text in the manifest, with the name of the field that it stands in. */
  const textsIn = (value: unknown, field: string): (readonly [field: string, text: string])[] => {
    if (typeof value === 'string') return [[field, value]];
    if (Array.isArray(value)) return value.flatMap((one) => textsIn(one, field));
    if (typeof value !== 'object' || value === null) return [];
    return Object.entries(value).flatMap(([name, one]) => textsIn(one, name));
  };
  const texts = textsIn(manifest, '');

  test('each has a key, and each key its word', () => {
    const keys = texts.flatMap(([, text]) => [...text.matchAll(/%([^%\s]+)%/g)].map(([, key]) => key!));
    expect([...keys].sort()).toEqual(Object.keys(words).sort());
    for (const word of Object.values(words)) expect(word.trim()).toBe(word);
  });

  test('none stands there in one tongue alone', () => {
    const shown = new Set(['title', 'description', 'markdownDescription', 'contents', 'name']);
    // Names, which are the same in every tongue.
    const names = [manifest.name, manifest.displayName];
    const bare = texts.filter(([field, text]) => shown.has(field) && !text.startsWith('%') && !names.includes(text));
    expect(bare).toEqual([]);
  });

  test('they go into the package', () => {
    expect(readFileSync(join(ROOT, '.vscodeignore'), 'utf8').split('\n')).toContain('!package.nls.json');
  });
});
