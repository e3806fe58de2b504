/** What is left out of the library of decimal numbers in the bundle is asked for nowhere, and changes no sum. */
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { Decimal } from 'decimal.js';
import { build } from 'esbuild';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { ALSO_LEFT_OUT, decimalAlone, LEFT_OUT } from '../../server/decimal-alone.mjs';

const SERVER = resolve(__dirname, '../../server');
const ALL = [...LEFT_OUT, ...ALSO_LEFT_OUT];
let folder = '';
let Bundled: typeof Decimal;

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'fineweight-decimal-'));
  const outfile = join(folder, 'decimal.cjs');
  const stdin = { contents: `export { Decimal } from 'decimal.js';`, resolveDir: SERVER };
  await build({ stdin, outfile, bundle: true, platform: 'browser', format: 'cjs', plugins: [decimalAlone] });
  Bundled = createRequire(outfile)(outfile).Decimal;
});

afterAll(() => rmSync(folder, { recursive: true, force: true }));

test('no source asks a decimal number for what is left out', () => {
  const asks = new RegExp(String.raw`(?<!\bMath)\.(?:${ALL.join('|')})\(`);
  const sources = readdirSync(SERVER, { recursive: true, encoding: 'utf8' }).filter((name) => name.endsWith('.ts'));
  expect(sources.length).toBeGreaterThan(500);
  expect(sources.filter((name) => asks.test(readFileSync(join(SERVER, name), 'utf8')))).toEqual([]);
  expect('grams.sin()').toMatch(asks);
});

test('what is left does the same sums', () => {
  for (const name of ALL) expect(name in Bundled.prototype || name in Bundled).toBe(false);
  const sums = (Of: typeof Decimal): string[] =>
    ['0.001', '2.5', '31.1034768', '1234567.89', '-7.25'].flatMap((text) => {
      const one = new Of(text);
      const [size, other] = [one.abs(), new Of('3.3')];
      return [one.plus(other), one.minus(other), one.times(other), one.div(other), size.sqrt(), one.pow(3)]
        .concat([size.pow(-2), new Of(10).pow(-9), one.toDP(1), one.toSD(2), one.mod(other)])
        .map((result) => result.toString());
    });
  expect(sums(Bundled)).toEqual(sums(Decimal));
});
