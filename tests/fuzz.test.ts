/** Pages and workshop files of the samples spoilt at random, some of the many that `npm run fuzz` tries. What broke once stands in `fixtures/broken` for good. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { brokenOf, spoiltPage } from './support/fuzz';
import { brokenWorkshop, spoiltWorkshop } from './support/fuzz-workshop';

const KEPT = join(__dirname, 'fixtures/broken');
const kept = existsSync(KEPT) ? readdirSync(KEPT) : [];

describe('a spoilt page', () => {
  test('breaks nothing', () => {
    for (let number = 0; number < 300; number++)
      expect(brokenOf(spoiltPage(number), number), `page ${number}`).toEqual([]);
  });

  test.each(kept.filter((name) => name.endsWith('.melt')))('that broke something once: %s', (name) => {
    expect(brokenOf(readFileSync(join(KEPT, name), 'utf8'), 0)).toEqual([]);
  });
});

describe('a spoilt workshop file', () => {
  test('breaks nothing', () => {
    for (let number = 0; number < 300; number++)
      expect(brokenWorkshop(spoiltWorkshop(number), number), `workshop file ${number}`).toEqual([]);
  });

  test.each(kept.filter((name) => name.endsWith('.yaml')))('that broke something once: %s', (name) => {
    expect(brokenWorkshop(readFileSync(join(KEPT, name)), 0)).toEqual([]);
  });
});
