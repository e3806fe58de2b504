import { describe, expect, test } from 'vitest';
import {
  deviationsFor,
  FEWEST_EARLIER,
  type Loss,
  learntFrom,
  learntWords,
  MOST_EARLIER,
} from '../../server/engine/learnt';
import { median, scaledMedianDeviation } from '../../server/engine/statistics/robust';
import { normal } from '../support/history';
import { seeded } from '../support/random';

const losses = (shares: readonly number[], u = 1e-5): Loss[] => shares.map((share) => ({ share, u, weighing: u }));

describe('the limit above the usual', () => {
  // The definition itself: one more value of the same normal spread lies above it once in two hundred.
  test.each([8, 9, 10, 12, 15, 20, 25, 30])('of %i earlier steps is passed by chance once in two hundred', (count) => {
    const random = seeded(7 + count);
    const rounds = 40_000;
    let above = 0;
    for (let round = 0; round < rounds; round++) {
      const values = Array.from({ length: count }, () => normal(random));
      if (normal(random) > median(values) + deviationsFor(count) * scaledMedianDeviation(values)) above++;
    }
    expect(above / rounds).toBeGreaterThan(0.004);
    expect(above / rounds).toBeLessThan(0.0065);
  });
});

const sayOf = (shares: readonly number[], many: string): string => learntWords(learntFrom(losses(shares))!, many);

describe('what earlier steps say', () => {
  const eight = [0.03, 0.09, 0.05, 0.06, 0.05, 0.07, 0.06, 0.08];

  test('nothing while they are few', () => {
    expect(learntFrom(losses(eight.slice(1)))).toBeUndefined();
    expect(eight.length).toBe(FEWEST_EARLIER);
  });

  // Median 0.06, deviations 0 0 0.01 0.01 0.01 0.02 0.03 0.03: MAD 0.01. 0.06 + 2.58 (1 + 6.1/4.6) 1.4826 × 0.01 = 0.1490, up to the preferred 0.1585.
  test('their range, and a limit above it', () => {
    expect(learntFrom(losses(eight))?.high).toBeCloseTo(10 ** (-16 / 20), 9);
    expect(sayOf(eight, 'dries')).toBe('8 earlier dries of this kind lost 3 to 9 %');
  });

  test('one bad step hardly widens it, and is not told as usual', () => {
    const calm = learntFrom(losses([...eight, 0.06]))!;
    const bad = learntFrom(losses([...eight, 0.6]))!;
    expect(sayOf([...eight, 0.6], 'dries')).toBe('8 of 9 earlier dries of this kind lost 3 to 9 %');
    expect(bad.high).toBeLessThan(1.25 * calm.high);
    expect(learntFrom(losses([...eight, 60]))).toEqual(bad);
  });

  test('nor do three of eight', () => {
    expect(learntFrom(losses([0.05, 0.06, 0.05, 0.06, 0.055, 0.9, 0.8, 0.95]))!.high).toBeLessThan(0.2);
  });

  // 2.58 (1 + 6.1/4.6) × 0.0001 = 0.00060.
  test('where all agree, what weighing leaves open is the spread', () => {
    const nothing = losses(Array(8).fill(0), 1e-4);
    expect(learntFrom(nothing)?.high).toBeCloseTo(10 ** (-64 / 20), 9);
    expect(learntWords(learntFrom(nothing)!, 'casts')).toBe('8 earlier casts of this kind lost 0.00 %');
  });

  test('what is taken up is said as such', () => {
    expect(sayOf([-0.02, -0.021, -0.019, -0.022, -0.018, -0.02, -0.02, -0.021], 'melts')).toBe(
      '8 earlier melts of this kind took up 1.8 to 2.2 %',
    );
    expect(sayOf([-0.02, 0.01, -0.01, 0.005, -0.005, 0, 0.002, -0.002], 'melts')).toBe(
      '8 earlier melts of this kind took up 2 % to lost 1 %',
    );
  });

  test('the order does not matter', () => {
    expect(learntFrom(losses(eight.toReversed()))).toEqual(learntFrom(losses(eight)));
    expect(MOST_EARLIER).toBeGreaterThan(FEWEST_EARLIER);
  });
});
