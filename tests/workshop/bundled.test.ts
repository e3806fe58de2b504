/** What is left out of the library in the bundle changes nothing of what is read from a workshop file, good or spoilt. */
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { build } from 'esbuild';
import fc from 'fast-check';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { textAlone } from '../../server/text-alone.mjs';
import { readWorkshop } from '../../server/workshop/read';

const ROOT = resolve(__dirname, '../..');
const SHOP = readFileSync(join(ROOT, 'samples/tarn-end/workshop.yaml'), 'utf8');

let folder = '';
let bundled: typeof readWorkshop;

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'fineweight-bundled-'));
  const outfile = join(folder, 'read.cjs');
  const entryPoints = [join(ROOT, 'server/workshop/read.ts')];
  await build({ entryPoints, outfile, bundle: true, platform: 'browser', format: 'cjs', plugins: [textAlone] });
  bundled = createRequire(outfile)(outfile).readWorkshop;
});

afterAll(() => rmSync(folder, { recursive: true, force: true }));

const PIECES = [
  '\n',
  '  ',
  '- ',
  '? ',
  ': ',
  '"',
  "'",
  '|\n',
  '>-\n',
  '{',
  '}',
  '[',
  ']',
  '&a',
  '*a',
  '!!int',
  '!x ',
  '<<: ',
  '%',
  '#',
  '---\n',
  '\t',
];

test('the same values and the same findings', () => {
  const spoilt = fc
    .array(fc.tuple(fc.nat(SHOP.length), fc.nat(12), fc.constantFrom('', ...PIECES)), { maxLength: 5 })
    .map((changes) => changes.reduce((text, [at, gone, put]) => text.slice(0, at) + put + text.slice(at + gone), SHOP));
  fc.assert(
    fc.property(spoilt, (text) => {
      expect(JSON.stringify(bundled('w', text))).toEqual(JSON.stringify(readWorkshop('w', text)));
    }),
    { numRuns: 300 },
  );
});
