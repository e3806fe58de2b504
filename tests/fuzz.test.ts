/** Pages of the samples spoilt at random, some of the many that `npm run fuzz` tries. What broke once stands in `fixtures/broken` for good. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { brokenOf, spoiltPage } from './support/fuzz';

const KEPT = join(__dirname, 'fixtures/broken');

describe('a spoilt page', () => {
  test('breaks nothing', () => {
    for (let number = 0; number < 300; number++)
      expect(brokenOf(spoiltPage(number), number), `page ${number}`).toEqual([]);
  });

  const kept = existsSync(KEPT) ? readdirSync(KEPT) : [];
  test.each(kept)('that broke something once: %s', (name) => {
    expect(brokenOf(readFileSync(join(KEPT, name), 'utf8'), 0)).toEqual([]);
  });
});
