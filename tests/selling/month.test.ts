/** A month of sales to two buyers, as the sample has it: what is wrong in it is found, and nothing else. */
import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, test } from 'vitest';
import { findingsOf } from '../../server/rules/findings';
import { settlementsIn } from '../../server/workspace/selling/settlements';
import { emptyWorkspace, withTexts } from '../../server/workspace/update';
import type { Workspace } from '../../server/workspace/workspace';
import { differing } from '../support/settlement';
import { textOf } from '../support/workspace';

const SAMPLE = resolve(__dirname, '../../samples/selling');

const sample = (): Workspace =>
  withTexts(
    emptyWorkspace('selling'),
    new Map(readdirSync(SAMPLE).map((name) => [name, readFileSync(join(SAMPLE, name), 'utf8')])),
  );

describe('a month of sales', () => {
  test('has six sales to two buyers', () => {
    const { entries } = sample().pages.get('2026-09.melt')!;
    const sold = entries.filter(({ verb, prefix }) => !prefix && (verb === 'settle' || verb === 'sell'));
    expect(sold.length).toBe(6);
    const parties = entries.filter(({ verb }) => verb === 'ship' || verb === 'sell').map(({ party }) => party?.name);
    expect(new Set(parties)).toEqual(new Set(['quay-refiner', 'fell-buyer']));
  });

  test('three slips in one settlement are found, each with its amount, and nothing else', () => {
    const workspace = sample();
    // Weighed 94.11 g at 90.82 %: 85.470702 g fine.
    // At 98.75 % instead of 98 %: 84.402318… g at 2530 / 31.1034768 are 6865.40, against 6813.26: 52.14.
    // At 2572 instead of 2530: 83.761288 g × 2572 / 31.1034768 = 6926.36, against 6813.26: 113.10.
    // 6813.26 + 2.77 − 40 − 35 − 23.53 = 6717.50; 6177.50 is written: 540.00.
    expect(differing(workspace)).toEqual(['S4 pays Au 52.14', 'S4 price Au 113.1', 'S4 total 540']);
    const all = [...workspace.pages.keys(), 'workshop.yaml'].flatMap((file) =>
      findingsOf(workspace, file).map((one) => `${one.code} ${textOf(workspace, one)}`),
    );
    expect(all).toEqual([
      'settled-terms pays Au 98 %',
      'settled-price price Au 2530.00 USD/ozt',
      'settled-total total 6177.50 USD',
    ]);
  });

  test('what is owed is what all of it put right would pay, less what they pay', () => {
    const slipped = settlementsIn(sample()).find(({ name }) => name === 'S4')!;
    // 84.402318… g × 2572 / 31.1034768 = 6979.37; + 2.77 − 98.53 = 6883.61; − 6177.50.
    expect(slipped.checked.right.total.amount.toString()).toBe('6883.61');
    expect(slipped.checked.owed.amount.toString()).toBe('706.11');
  });
});
