/** The client's words to its user can be translated: all of them stand in one list, which an editor in another language is given. */
import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { expect, test } from 'vitest';
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
