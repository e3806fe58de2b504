/** What others wrote stands in the package with its licence, and nothing is packed that is not listed here. `npm run generate` writes the list anew. */
import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { build } from 'esbuild';
import { expect, test } from 'vitest';

const ROOT = resolve(__dirname, '..');
const ENTRIES = [
  'client/extension.ts',
  'client/browser.ts',
  'server/lsp/main.ts',
  'server/lsp/browser.ts',
  'server/cli/main.ts',
];

/** Licences that ask for no more than that their text goes along. */
const GIVEN_FREELY = new Set(['MIT', 'ISC', 'BSD-2-Clause', 'BSD-3-Clause', 'Apache-2.0', 'BlueOak-1.0.0']);

/** The folders of all packages of which some line is in a bundle. */
const packagesOf = async (entry: string): Promise<readonly string[]> => {
  const { metafile } = await build({
    absWorkingDir: ROOT,
    entryPoints: [entry],
    bundle: true,
    write: false,
    metafile: true,
    platform: entry.endsWith('browser.ts') ? 'browser' : 'node',
    external: ['vscode'],
    outdir: 'dist',
    logLevel: 'error',
  });
  const used = Object.values(metafile.outputs).flatMap(({ inputs }) =>
    Object.entries(inputs).flatMap(([path, { bytesInOutput }]) => (bytesInOutput > 0 ? [path] : [])),
  );
  return used.flatMap((path) => /.*node_modules\/(?:@[^/]+\/)?[^/]+/.exec(path)?.[0] ?? []);
};

const noticeOf = (folder: string): { readonly licence: string; readonly text: string } => {
  const { name, version, license } = JSON.parse(readFileSync(join(ROOT, folder, 'package.json'), 'utf8'));
  const file = readdirSync(join(ROOT, folder)).find((one) => /^(licen[cs]e|copying)/i.test(one));
  const words = file
    ? readFileSync(join(ROOT, folder, file), 'utf8')
        .replaceAll('\r\n', '\n')
        .trim()
    : '';
  return { licence: license, text: `${name} ${version} (${license})\n\n${words}\n` };
};

test('every package in the bundles is named with its licence, which is one that allows it', async () => {
  const folders = new Set((await Promise.all(ENTRIES.map(packagesOf))).flat());
  const notices = [...folders].map(noticeOf).sort((a, b) => (a.text < b.text ? -1 : 1));
  expect(notices.length).toBeGreaterThan(5);
  for (const { licence, text } of notices) {
    expect(GIVEN_FREELY, text).toContain(licence);
    expect(text.split('\n').length, `The licence of ${text}`).toBeGreaterThan(5);
  }
  const rule = `\n${'-'.repeat(80)}\n\n`;
  const page = `Fineweight holds parts of the following packages.\n${rule}${notices.map(({ text }) => text).join(rule)}`;
  await expect(page).toMatchFileSnapshot(join(ROOT, 'server/NOTICES.txt'));
});

test('the list goes into the package', () => {
  expect(readFileSync(join(ROOT, '.vscodeignore'), 'utf8').split('\n')).toContain('!server/NOTICES.txt');
});
