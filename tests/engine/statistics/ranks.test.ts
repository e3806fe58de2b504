/** Rank sums of two groups, held against a library (SciPy 1.17.1, `mannwhitneyu`) and against all ways to deal the ranks, counted one by one. */
import { describe, expect, test } from 'vitest';
import { rankSum } from '../../../server/engine/statistics/ranks';
import { near } from '../../support/cases';

describe('the chance of a rank sum', () => {
  test.each([
    [[0.64, 0.8, 0.9, 1.0, 1.1, 1.3, 1.45], [1.4, 1.5, 1.52, 1.6, 1.7], 0.005050505050505051],
    [[1, 4, 7], [2, 3, 5, 6, 8], 0.7857142857142857],
    // With ties: 6 of 35 and 6 of 126 ways to choose are as far off; where all are alike every way is.
    [[1, 1, 2], [2, 2, 3, 4], 6 / 35],
    [[1, 2, 2, 3], [3, 3, 4, 5, 6], 6 / 126],
    [[5, 5, 5], [5, 5, 5], 1],
    [[], [1, 2], 1],
  ])('of %j beside %j', (one, other, chance) => {
    near(rankSum(one, other).chance, chance, 1e-12);
    near(rankSum(other, one).chance, chance, 1e-12);
  });

  test('of many comes from the normal, which is near the exact one', () => {
    const one = Array.from({ length: 40 }, (_, at) => at + 1);
    const other = Array.from({ length: 35 }, (_, at) => at + 9.5);
    near(rankSum(one, other).chance, 0.030684018913204436, 1e-9);
    expect(Math.abs(rankSum(one, other).chance - 0.03010373968482555)).toBeLessThan(0.001);
  });

  test('of sixty is still dealt out, of one more it comes from the normal', () => {
    const chance = (count: number): number =>
      rankSum(
        [1, 2, 3],
        Array.from({ length: count - 3 }, (_, at) => at + 4),
      ).chance;
    // The three lowest or the three highest of all.
    near(chance(60), 2 / ((60 * 59 * 58) / 6), 1e-12);
    expect(chance(61)).toBeGreaterThan(2 * (2 / ((61 * 60 * 59) / 6)));
  });

  test('has a side: below nought where the first are smaller', () => {
    expect(rankSum([1, 2, 3], [4, 5, 6]).excess).toBe(-4.5);
    expect(rankSum([4, 5, 6], [1, 2, 3]).excess).toBe(4.5);
  });
});
