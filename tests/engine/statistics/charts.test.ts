import { afterAll, describe, expect, test } from 'vitest';
import {
  ewmaChart,
  individualsChart,
  MEDIAN_RANGE_OF_TWO,
  RANGE_LIMIT,
  RANGE_OF_TWO,
  smallNumbers,
} from '../../../server/engine/statistics/charts';
import { cusum, cusumRunLength } from '../../../server/engine/statistics/cusum';
import { firstRun, RUN_TESTS } from '../../../server/engine/statistics/runs';
import file from '../../fixtures/measurement/charts.json';
import { near, openCases } from '../../support/cases';
import { normal } from '../../support/history';
import { seeded } from '../../support/random';

const published = openCases(file);
afterAll(() => expect(published.left()).toEqual([]));

describe('individuals and moving ranges', () => {
  test('constants for two', () => {
    const { expected, tolerance } = published.take<unknown, Record<string, number>>('cc-const');
    near(RANGE_OF_TWO, expected.d2!, tolerance);
    near(RANGE_LIMIT, expected.D4!, tolerance);
    near(3 / RANGE_OF_TWO, expected.E2!, tolerance);
    near(MEDIAN_RANGE_OF_TWO, expected.median_divisor!, tolerance);
  });

  test.each(['cc-imr-tires', 'cc-imr-flow', 'cc-imr-visc'])('%s', (id) => {
    const { inputs, expected, tolerance } = published.take<{ x: number[]; d2?: number }, Record<string, number>>(id);
    const found = individualsChart(inputs.x, inputs.d2 === undefined ? {} : { divisor: inputs.d2 });
    near(found.centre, expected.mean!, tolerance);
    near(found.meanRange, expected.mr_bar!, tolerance);
    near(found.limits!.low, expected.LCL!, tolerance);
    near(found.limits!.high, expected.UCL!, tolerance);
    if (expected.UCL_MR !== undefined) near(found.rangeLimit!, expected.UCL_MR, tolerance);
    if (expected.sigma !== undefined) near(found.sigma, expected.sigma, tolerance);
    expect([found.beyond, found.rangesBeyond]).toEqual([[], []]);
  });

  test('a slip stands out, and widens limits from the median range less', () => {
    const values = [5, 5.2, 4.9, 5.1, 5, 4.8, 5.1, 5.2, 15, 5, 4.9, 5.1];
    const [mean, median] = [individualsChart(values), individualsChart(values, { from: 'median' })];
    expect([mean.beyond, median.beyond]).toEqual([[8], [8]]);
    expect(median.rangesBeyond).toEqual([7, 8]);
    expect(median.sigma).toBeLessThan(mean.sigma / 4);
  });

  test('few figures have no limits, and it is said', () => {
    const few = individualsChart([1, 2, 1, 9]);
    expect([few.limits, few.rangeLimit, few.beyond]).toEqual([undefined, undefined, []]);
    expect(few.smallNumbers).toBe('4 figures: too few for limits, which want 8');
    expect(smallNumbers(1)).toBe('1 figure: too few for limits, which want 8');
    expect(smallNumbers(8)).toBe('8 figures: limits are rough until there are 20');
    expect(smallNumbers(12)).toBe('12 figures: limits are rough until there are 20');
    expect(smallNumbers(20)).toBeUndefined();
  });

  test('eight figures have limits; all alike they have no width, and what is on a limit is not beyond it', () => {
    const alike = individualsChart(Array(8).fill(0.25));
    expect(alike.limits).toEqual({ low: 0.25, high: 0.25 });
    expect([alike.rangeLimit, alike.beyond, alike.rangesBeyond]).toEqual([0, [], []]);
    expect(individualsChart(Array(7).fill(0.25)).limits).toBeUndefined();
  });

  test('the median of ranges that are all one is one, and sigma 1/0.95387 of it', () => {
    const steps = individualsChart([3, 4, 3, 2, 3, 4, 5, 4, 5], { from: 'median' });
    expect(steps.centre).toBe(4);
    // The median of |x − y| is √2 · 0.6744897502, the third quartile of the normal by table.
    near(steps.sigma, 1 / 0.9538725524, 1e-9);
  });

  test('of normal figures about 1 in 370 is beyond three sigma', () => {
    const random = seeded(11);
    const values = Array.from({ length: 40_000 }, () => normal(random));
    const { beyond, sigma } = individualsChart(values);
    near(sigma, 1, 0.02);
    // 108 expected, give or take three of its own √108.
    near(beyond.length, 40_000 * 0.0026998, 31);
  });
});

describe('EWMA', () => {
  test('the series', () => {
    const { inputs, expected, tolerance } = published.take<{ x: number[]; lambda: number; z0: number }, number[]>(
      'cc-ewma-nist',
    );
    const { smoothed } = ewmaChart(inputs.x, { weight: inputs.lambda, centre: inputs.z0, sigma: 1 });
    for (const [at, value] of expected.entries()) near(smoothed[at]!, value, tolerance);
  });

  test('its limits after many', () => {
    const { inputs, expected, tolerance } = published.take<
      { lambda: number; center: number; sigma: number; L: number },
      { UCL: number; LCL: number }
    >('cc-ewma-nist-limits');
    const { finalLimits } = ewmaChart([], {
      weight: inputs.lambda,
      centre: inputs.center,
      sigma: inputs.sigma,
      width: inputs.L,
    });
    near(finalLimits.high, expected.UCL, tolerance);
    near(finalLimits.low, expected.LCL, tolerance);
  });

  test('values and limits of thirty', () => {
    const { inputs, expected, tolerance } = published.take<
      { x: number[]; lambda: number; z0: number; L: number; sigma: number },
      Record<string, number>
    >('cc-ewma-mont');
    const found = ewmaChart(inputs.x, {
      weight: inputs.lambda,
      centre: inputs.z0,
      sigma: inputs.sigma,
      width: inputs.L,
    });
    near(found.smoothed[0]!, expected.z1!, tolerance);
    near(found.smoothed[1]!, expected.z2!, tolerance);
    near(found.smoothed[29]!, expected.z30!, tolerance);
    near(found.finalLimits.high, expected.UCL!, tolerance);
    near(found.finalLimits.low, expected.LCL!, tolerance);
    near(found.limits[0]!.high, expected.UCL_1!, tolerance);
    // z₂ = λ x₂ + λ(1 − λ) x₁ + …, so that of two independent figures its deviation is λ √(1 + (1 − λ)²) = 0.1 √1.81.
    near(found.limits[1]!.high, 10 + 2.7 * 0.1345362405, 1e-9);
    near(found.limits[1]!.low, 10 - 2.7 * 0.1345362405, 1e-9);
    // The thirtieth, 10.634, is above 10.619; so is the one before, (10.634 − 0.1 · 10.52)/0.9 = 10.647, and none else.
    expect(found.beyond).toEqual([28, 29]);
    const mirrored = ewmaChart(
      inputs.x.map((value) => -value),
      { weight: inputs.lambda, centre: -inputs.z0, sigma: inputs.sigma, width: inputs.L },
    );
    expect(mirrored.beyond).toEqual([28, 29]);
  });

  test('with the whole weight on the newest it is the chart of single figures', () => {
    const found = ewmaChart([1, -2, 3.5], { weight: 1, centre: 0, sigma: 1 });
    expect(found.smoothed).toEqual([1, -2, 3.5]);
    for (const limits of found.limits) expect(limits).toEqual({ low: -3, high: 3 });
    expect(found.beyond).toEqual([2]);
  });

  test('figures all alike stay on their centre, and on limits of no width', () => {
    for (const value of [0.3, 0.7, 1.1, 99.99]) {
      const alike = ewmaChart(Array(30).fill(value), { weight: 0.2, centre: value, sigma: 0 });
      expect([alike.smoothed.at(-1), alike.beyond]).toEqual([value, []]);
    }
  });

  test.each([0, -0.1, 1.1, Number.NaN])('a weight of %d is refused', (weight) => {
    expect(() => ewmaChart([], { weight, centre: 0, sigma: 1 })).toThrow(RangeError);
  });
});

describe('CUSUM', () => {
  interface Inputs {
    readonly x: number[];
    readonly target: number;
    readonly k: number;
  }
  const sums = published.take<Inputs, { high: number[]; low: number[] }>('cc-cusum-nist');

  test('the sums', () => {
    const { inputs, expected, tolerance } = sums;
    const found = cusum(inputs.x, { target: inputs.target, slack: inputs.k, limit: 1e9 });
    for (const [at, value] of expected.high.entries()) near(found.high[at]!, value, tolerance);
    for (const [at, value] of expected.low.entries()) near(found.low[at]!, value, tolerance);
    expect(found.signals).toEqual([]);
  });

  test('the signal', () => {
    const { inputs, expected } = published.take<{ h: number }, number>('cc-cusum-nist-signal');
    const { x, target, k } = sums.inputs;
    const { signals } = cusum(x, { target, slack: k, limit: inputs.h });
    expect(signals).toEqual([{ at: expected - 1, side: 'high', began: 12 }]);
  });

  test('the signal of thirty, and where it began', () => {
    const { inputs, expected } = published.take<Inputs & { h: number }, { period: number; run: number }>(
      'cc-cusum-mont-signal',
    );
    const [signal] = cusum(inputs.x, { target: inputs.target, slack: inputs.k, limit: inputs.h }).signals;
    expect([signal!.at + 1, signal!.at - signal!.began + 1]).toEqual([expected.period, expected.run]);
  });

  test('a sum at its limit is no signal, one above it is', () => {
    const rising = { target: 0, slack: 1, limit: 4 };
    expect(cusum([3, 3], rising).signals).toEqual([]);
    expect(cusum([3, 3, 1.5], rising).signals).toEqual([{ at: 2, side: 'high', began: 0 }]);
  });

  test('of signals on both sides the earlier is told first', () => {
    const { signals } = cusum([0, -9, 0, 9], { target: 0, slack: 1, limit: 4 });
    expect(signals).toEqual([
      { at: 1, side: 'low', began: 1 },
      { at: 3, side: 'high', began: 3 },
    ]);
  });

  test('run lengths', () => {
    const { inputs, expected, tolerance } = published.take<
      { k: number; h: number[]; shift: number[] },
      Record<string, number[]>
    >('cc-arl-cusum');
    for (const h of inputs.h) {
      for (const [at, shift] of inputs.shift.entries()) {
        near(cusumRunLength(inputs.k, h, shift), expected[`h${h}`]![at]!, tolerance);
      }
    }
    // The program's own figures in full: r-cran-spc 0.6.7.
    near(cusumRunLength(0.5, 4), 167.68, 0.006);
    near(cusumRunLength(0.5, 5, 1), 10.376, 0.0006);
  });

  test('run lengths are what a simulation finds', () => {
    const random = seeded(3);
    let [runs, figures] = [0, 0];
    while (runs < 3000) {
      const values = Array.from({ length: 400 }, () => 1 + normal(random));
      const { signals } = cusum(values, { target: 0, slack: 0.5, limit: 4 });
      figures += signals[0]!.at + 1;
      runs++;
    }
    near(figures / runs, cusumRunLength(0.5, 4, 1), 0.25);
    near(cusumRunLength(0.5, 4, 0, 1), 2 * cusumRunLength(0.5, 4), 1e-6);
  });
});

describe('runs', () => {
  test('nine on one side, two of three', () => {
    const nine = published.take<{ z: number[] }, number>('cc-rule-9side');
    expect(firstRun(nine.inputs.z, RUN_TESTS[1]!)! + 1).toBe(nine.expected);
    const two = published.take<{ z: number[] }, number>('cc-rule-2of3');
    expect(firstRun(two.inputs.z, RUN_TESTS[4]!)! + 1).toBe(two.expected);
  });

  test.each([
    [0, [0, -3.1], 1],
    [2, [0, 1, 2, 2.5, 2.6, 2.7], 5],
    [0, [3, -3], undefined],
    [1, Array(9).fill(-0.1), 8],
    [1, [0.1, 0.2, 0.1, 0.1, 0, 0.2, 0.1, 0.3, 0.1], undefined],
    [2, [3, 2, 1, 0.5, 0.4, 0.4, 0.3], undefined],
    [2, [3, 2, 1, 0.5, 0.4, 0.3], 5],
    [3, [...Array(7)].flatMap(() => [0.5, -0.5]), 13],
    [3, Array(14).fill(0.5), undefined],
    [4, [2, 2, 2], undefined],
    [4, [-2.1, 0, -2.2], 2],
    [5, Array(5).fill(1), undefined],
    [5, [1.1, 1.2, -2, 1.3, 1.4], 4],
    [6, [...Array(15)].map((_, at) => (at % 2 ? 0.9 : -0.9)), 14],
    // One sigma itself is neither within nor outside.
    [6, [...Array(14).fill(0.9), 1], undefined],
    [7, [...Array(8)].map((_, at) => (at % 3 ? 1.1 : -1.2)), 7],
    [7, [...Array(7).fill(1.1), -1], undefined],
  ] as const)('test %d', (index, z, at) => expect(firstRun([...z], RUN_TESTS[index]!)).toBe(at));

  test('each is a false alarm in fewer than 1 of 100 places', () => {
    const random = seeded(9);
    const z = Array.from({ length: 20_000 }, () => normal(random));
    for (const each of RUN_TESTS) {
      let alarms = 0;
      for (let end = each.length; end <= z.length; end++) if (each.holds(z.slice(end - each.length, end))) alarms++;
      expect(alarms / z.length, each.says).toBeLessThan(0.01);
    }
  });
});
