import { describe, expect, test } from 'vitest';
import { inexact } from '../../../server/engine/accounts/inexact';
import { biasOf } from '../../../server/engine/longview/bias';
import { risesIn } from '../../../server/engine/longview/creep';
import { compared, medianInterval, summaryOf } from '../../../server/engine/longview/summary';
import { sequentialScores } from '../../../server/engine/statistics/sequential';
import r from '../../fixtures/measurement/long-view.json';
import { near } from '../../support/cases';
import { normal, seeded } from '../../support/random';

const upTo = (count: number): number[] => Array.from({ length: count }, (_, at) => at + 1);

describe('the interval of a median', () => {
  test('ranks and confidence are those of a coin: 2 and 9 of ten, 6 and 15 of twenty', () => {
    // 1 − 2 Σ C(10, 0..1)/2¹⁰ = 1 − 22/1024; 1 − 2 Σ C(20, 0..5)/2²⁰ = 1 − 2 · 21700/1048576.
    expect(medianInterval(upTo(10))).toMatchObject({ low: 2, high: 9 });
    near(medianInterval(upTo(10))!.confidence, 1 - 22 / 1024, 1e-12);
    expect(medianInterval(upTo(20))).toMatchObject({ low: 6, high: 15 });
    near(medianInterval(upTo(20))!.confidence, 1 - 43400 / 1048576, 1e-12);
  });

  test('six are the fewest: five leave out the median once in sixteen', () => {
    expect(medianInterval(upTo(5))).toBeUndefined();
    expect(medianInterval(upTo(6))).toMatchObject({ low: 1, high: 6 });
  });

  test('it holds the true median of a skewed loss in 95 of 100 honest samples, or more', () => {
    const random = seeded(3);
    for (const count of [6, 9, 15, 40]) {
      let held = 0;
      for (let sample = 0; sample < 2000; sample++) {
        const { low, high } = medianInterval(Array.from({ length: count }, () => Math.exp(normal(random))))!;
        if (low <= 1 && high >= 1) held++;
      }
      expect(held / 2000).toBeGreaterThan(0.94);
    }
  });
});

describe('a summary', () => {
  test('of few figures gives the range and no deviation', () => {
    expect(summaryOf([3, 1, 2])).toEqual({
      count: 3,
      median: 2,
      least: 1,
      most: 3,
      spread: undefined,
      interval: undefined,
    });
    expect(summaryOf([])).toBeUndefined();
    expect(summaryOf([1, 2, 3, 4])?.spread).toBeUndefined();
    // The median deviation of 1 to 5 is 1, and 1.4826 of it is the deviation of a normal.
    expect(summaryOf([1, 2, 3, 4, 5])?.spread).toBeCloseTo(1.4826, 4);
  });

  test('of three each, two of the twenty ways to deal them are as far apart', () => {
    expect(compared([1, 2, 3], [4, 5, 6])).toBe('cannot tell');
    expect(compared([1, 2, 3], [4, 5, 6], 0.1)).toBe('lower');
    expect(compared([1, 2, 3], [4, 5, 6], 0.0999)).toBe('cannot tell');
  });

  test('two groups are apart where chance seldom deals their ranks so, and never of one or two figures', () => {
    const [low, high] = [upTo(8), upTo(8).map((value) => value + 20)];
    expect([compared(low, high), compared(high, low), compared(low, low)]).toEqual(['lower', 'higher', 'cannot tell']);
    expect(compared([1, 2], high)).toBe('cannot tell');
    // Seven slags of 0.64 to 1.4 % and eleven of 1.4 to 4.2 %: the interval of the seven, 0.64 to 1.4, meets that of the others.
    const [white, thin] = [
      [0.64, 0.8, 0.9, 1.0, 1.1, 1.3, 1.4],
      [1.4, 1.5, 1.5, 1.6, 1.7, 1.8, 1.9, 2.1, 2.6, 3.3, 4.2],
    ];
    expect(compared(white, thin, 0.05 / 2)).toBe('lower');
  });

  test('two groups that are alike are parted no oftener than is said', () => {
    const random = seeded(11);
    const some = (count: number): number[] => Array.from({ length: count }, () => Math.exp(normal(random)));
    const parted = Array.from({ length: 2000 }, () => compared(some(5), some(11))).filter((is) => is !== 'cannot tell');
    expect(parted.length / 2000).toBeLessThan(0.06);
    expect(parted.length / 2000).toBeGreaterThan(0.02);
  });
});

describe('a bias between two assayers', () => {
  const pairs = (...differences: number[]) =>
    differences.map((difference, at) => ({
      lot: `B${at}`,
      date: '',
      own: inexact(0.9 + difference, 0.0003, { label: 'own' }),
      other: inexact(0.9, 0.0004, { label: 'other' }),
    }));

  test('mean, scatter and interval by Student', () => {
    // Mean 0.002, sd 0.001, t(0.975, 2) = 4.302653.
    const bias = biasOf(pairs(0.001, 0.002, 0.003))!;
    near(bias.mean, 0.002, 1e-12);
    near(bias.deviation!, 0.001, 1e-12);
    near(bias.interval!.low, 0.002 - (4.30265273 * 0.001) / Math.sqrt(3), 1e-9);
    near(bias.expected, 0.0005, 1e-12);
    expect(bias.shown).toBe(false);
  });

  test('is shown where the interval leaves out nought', () => {
    expect(biasOf(pairs(0.002, 0.0021, 0.0019, 0.002))!.shown).toBe(true);
  });

  test('of one pair has no interval, of none nothing', () => {
    expect(biasOf(pairs(0.002))).toMatchObject({ count: 1, interval: undefined, shown: false });
    expect(biasOf([])).toBeUndefined();
  });
});

describe('a creeping loss', () => {
  const settings = { slack: 0.5, limit: 6 };

  test('is told where it has added up, with about where it began; once', () => {
    const random = seeded(8);
    const losses = Array.from({ length: 60 }, (_, at) => 0.002 + 0.0003 * normal(random) + (at >= 25 ? 0.0007 : 0));
    const rises = risesIn(losses, settings);
    expect(rises).toHaveLength(1);
    expect(rises[0]!.began).toBeGreaterThanOrEqual(23);
    expect(rises[0]!.began).toBeLessThanOrEqual(29);
    expect(rises[0]!.told).toBeLessThan(40);
  });

  test('a single wild loss is no creep', () => {
    const random = seeded(8);
    const losses = Array.from({ length: 60 }, (_, at) => 0.002 + 0.0003 * normal(random) + (at === 30 ? 0.5 : 0));
    expect(risesIn(losses, settings)).toEqual([]);
  });
});

describe('what R makes of the same figures', () => {
  test('median, median deviation, ranks and confidence of the interval for 6 to 40 figures', () => {
    const found = summaryOf(r.losses)!;
    near(found.median, r.median[0]!, 1e-12);
    near(found.spread!, r.mad[0]!, 1e-12);
    for (const [size, low, high, confidence] of r.intervals) {
      const interval = medianInterval(upTo(size!))!;
      expect([interval.low, interval.high], `of ${size}`).toEqual([low, high]);
      near(interval.confidence, confidence!, 1e-12);
    }
  });

  test('scores by sequential ranks', () => {
    for (const [at, score] of sequentialScores(r.losses).entries()) near(score, r.sequential[at]!, 1e-9);
  });

  test('the bias of paired results', () => {
    const bias = biasOf(
      r.own.map((own, at) => ({
        lot: '',
        date: '',
        own: inexact(own / 1000, 0.001, { label: 'own' }),
        other: inexact(r.other[at]! / 1000, 0.001, { label: 'other' }),
      })),
    )!;
    const found = [bias.mean, bias.deviation!, bias.interval!.low, bias.interval!.high];
    for (const [at, value] of found.entries()) near(1000 * value, r.bias[at]!, 1e-8);
  });
});
