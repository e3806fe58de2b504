import fc from 'fast-check';
import { afterAll, describe, expect, test } from 'vitest';
import * as decision from '../../../server/engine/statistics/decision';
import * as distributions from '../../../server/engine/statistics/distributions';
import * as propagation from '../../../server/engine/statistics/propagation';
import * as regression from '../../../server/engine/statistics/regression';
import * as robust from '../../../server/engine/statistics/robust';
import * as sampling from '../../../server/engine/statistics/sampling';
import { independentSeries, runningSum, unaccountedSeries } from '../../../server/engine/statistics/unaccounted';
import { decimal } from '../../../server/quantity/decimal';
import { type ErrorSource, exact, type Measured, withError } from '../../../server/quantity/measured';
import decisions from '../../fixtures/measurement/decision.json';
import reference from '../../fixtures/measurement/distributions.json';
import gum from '../../fixtures/measurement/gum.json';
import balances from '../../fixtures/measurement/mass-balance.json';
import statistics from '../../fixtures/measurement/statistics.json';
import unaccounted from '../../fixtures/measurement/unaccounted.json';
import { normal } from '../../support/history';
import { seeded } from '../../support/random';

interface Case {
  readonly id: string;
  readonly inputs: unknown;
  readonly expected: unknown;
  readonly tolerance: number;
}

const ALL: readonly Case[] = [gum, balances, decisions, statistics, unaccounted].flatMap(
  ({ cases }) => cases as Case[],
);

/** Cases that no test has taken yet. */
const left = new Set([decisions, statistics, unaccounted].flatMap(({ cases }) => cases.map(({ id }) => id)));
afterAll(() => expect([...left]).toEqual([]));

const caseOf = <Inputs, Expected>(id: string): { inputs: Inputs; expected: Expected; tolerance: number } => {
  const found = ALL.find((each) => each.id === id)!;
  left.delete(id);
  const { same_as } = found.inputs as { same_as?: string };
  const inputs = same_as ? { ...caseOf<object, unknown>(same_as).inputs, ...(found.inputs as object) } : found.inputs;
  return { inputs: inputs as Inputs, expected: found.expected as Expected, tolerance: found.tolerance };
};

const near = (found: number, expected: number, tolerance: number): void => {
  expect(Math.abs(found - expected), `${found} against ${expected}`).toBeLessThanOrEqual(tolerance);
};

const nearAll = (found: readonly number[], expected: readonly number[], tolerance: number): void => {
  expect(found.length).toBe(expected.length);
  for (const [at, value] of expected.entries()) near(found[at]!, value, tolerance);
};

describe('distributions', () => {
  test.each(reference.values)('$function $arguments', ({ function: name, arguments: [first, second], expected }) => {
    const of = distributions as unknown as Record<string, (first: number, second?: number) => number>;
    const found = of[name]!(first!, second);
    near(found, expected, 1e-10 * Math.max(1, Math.abs(expected)));
    // Small tails keep their digits.
    if (expected !== 0) near(found / expected, 1, 1e-9);
  });

  // Second opinion: scipy 1.17.1, norm.ppf, t.ppf, chi2.ppf.
  test.each([
    ['normalQuantile', 0.84, undefined, 0.994457883209753],
    ['normalQuantile', 0.9999, undefined, 3.719016485455709],
    ['studentQuantile', 0.975, 2.5, 3.5746548420036817],
    ['studentQuantile', 0.95, 4, 2.1318467863266495],
    ['studentQuantile', 0.05, 4, -2.1318467863266495],
    ['studentQuantile', 0.999, 30, 3.3851848668293045],
    ['chiSquaredQuantile', 0.05, 3, 0.35184631774927144],
    ['chiSquaredQuantile', 0.99, 28, 48.27823577031548],
    ['chiSquaredQuantile', 0.5, 1000, 999.333412403381],
    ['chiSquaredQuantile', 0.999, 2, 13.815510557964274],
  ] as const)('%s of %d with %d', (name, share, freedom, point) => {
    const of = distributions as unknown as Record<string, (share: number, freedom?: number) => number>;
    const found = of[name]!(share, freedom);
    near(found, point, 1e-11 * (1 + Math.abs(point)));
  });

  test('two squares are an exponential; one square is the normal', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.001, max: 30, noNaN: true }), (x) => {
        near(distributions.chiSquaredProbability(x, 2), 1 - Math.exp(-x / 2), 1e-13);
        const between = distributions.normalProbability(x) - distributions.normalProbability(-x);
        near(distributions.chiSquaredProbability(x * x, 1), between, 1e-13);
      }),
    );
  });

  test('there and back', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1e-9, max: 1 - 1e-9, noNaN: true }),
        fc.double({ min: 0.5, max: 500, noNaN: true }),
        (p, freedom) => {
          near(distributions.normalProbability(distributions.normalQuantile(p)), p, 1e-12);
          near(distributions.chiSquaredProbability(distributions.chiSquaredQuantile(p, freedom), freedom), p, 1e-11);
          near(distributions.studentProbability(distributions.studentQuantile(p, freedom), freedom), p, 1e-11);
        },
      ),
    );
  });

  test('chi-squared of one degree is a normal squared, Student of many is normal', () => {
    near(distributions.chiSquaredQuantile(0.95, 1), distributions.normalQuantile(0.975) ** 2, 1e-11);
    near(distributions.studentQuantile(0.975, 1e9), distributions.normalQuantile(0.975), 1e-7);
    expect(distributions.studentQuantile(0.975, Infinity)).toBe(distributions.normalQuantile(0.975));
  });

  test('chi-squared and Sidak, as published', () => {
    const point = caseOf<{ p: number; df: number }, number>('dec-chi2');
    near(distributions.chiSquaredQuantile(point.inputs.p, point.inputs.df), point.expected, point.tolerance);
    const sidak = caseOf<{ m: number; alpha: number }, number>('dec-sidak');
    near(distributions.sidakCriticalZ(sidak.inputs.alpha, sidak.inputs.m), sidak.expected, sidak.tolerance);
  });

  test('edges', () => {
    expect(distributions.normalQuantile(1)).toBe(Infinity);
    expect(distributions.chiSquaredQuantile(0, 3)).toBe(0);
    expect(distributions.sidakCriticalZ(0.05, 0)).toBe(Infinity);
    expect(() => distributions.normalQuantile(1.5)).toThrow(RangeError);
    expect(() => distributions.studentQuantile(Number.NaN, 4)).toThrow(RangeError);
    expect(() => distributions.chiSquaredQuantile(0.5, 0)).toThrow(RangeError);
  });
});

describe('propagation', () => {
  test('EURACHEM A1', () => {
    const { inputs, expected, tolerance } = caseOf<Record<string, number>, { c: number; u: number }>('gum-eurachem-a1');
    const { m_mg, u_m, P, u_P, V_mL, u_V } = inputs as Record<'m_mg' | 'u_m' | 'P' | 'u_P' | 'V_mL' | 'u_V', number>;
    const c = (1000 * m_mg * P) / V_mL;
    near(c, expected.c, tolerance);
    const parts = [
      { u: u_m, sensitivity: c / m_mg },
      { u: u_P, sensitivity: c / P },
      { u: u_V, sensitivity: -c / V_mL },
    ];
    near(propagation.combinedUncertainty(parts), expected.u, tolerance);
  });

  test('GUM H.1: end gauge', () => {
    const first = caseOf<Record<string, [number, number]>, number>('gum-h1-first');
    const { ls, d, da, theta, as, dtheta } = first.inputs as Record<
      'ls' | 'd' | 'da' | 'theta' | 'as' | 'dtheta',
      [number, number]
    >;
    const parts = [
      { u: ls[1], sensitivity: 1 - (da[0] * theta[0] + as[0] * dtheta[0]) },
      { u: d[1] },
      { u: da[1], sensitivity: -ls[0] * theta[0] },
      { u: theta[1], sensitivity: -ls[0] * da[0] },
      { u: as[1], sensitivity: -ls[0] * dtheta[0] },
      { u: dtheta[1], sensitivity: -ls[0] * as[0] },
    ];
    near(propagation.combinedUncertainty(parts), first.expected, first.tolerance);
    const wide = caseOf<{ u: number; df: number; level: number }, number>('gum-h1-expanded');
    near(
      propagation.expandedUncertainty(wide.inputs.u, wide.inputs.df, wide.inputs.level),
      wide.expected,
      wide.tolerance,
    );
    const degrees = caseOf<{ u: number[]; df: number[] }, number>('gum-h1-ws');
    const inputs = degrees.inputs.u.map((u, at) => ({ u, freedom: degrees.inputs.df[at]! }));
    near(propagation.effectiveFreedom(inputs), degrees.expected, degrees.tolerance);
  });

  test('degrees of freedom are those of the part, however its sensitivity is written', () => {
    const plain = [
      { u: 0.6, freedom: 4 },
      { u: 0.8, freedom: 9 },
    ];
    const written = [
      { u: 0.3, sensitivity: 2, freedom: 4 },
      { u: 8, sensitivity: -0.1, freedom: 9 },
    ];
    // By hand: (0.36 + 0.64)² / (0.36²/4 + 0.64²/9) = 1/(0.0324 + 0.0455111…).
    near(propagation.effectiveFreedom(plain), 12.83514, 1e-6);
    near(propagation.effectiveFreedom(written), propagation.effectiveFreedom(plain), 1e-9);
    // A single part keeps its own; what is known without doubt takes none away.
    near(propagation.effectiveFreedom([{ u: 0.3, sensitivity: 2, freedom: 7 }, { u: 0 }]), 7, 1e-9);
    expect(propagation.effectiveFreedom([{ u: 0.3 }])).toBe(Infinity);
    expect(propagation.effectiveFreedom([{ u: 0, freedom: 3 }])).toBe(Infinity);
  });

  test('GUM G.4: a product of three', () => {
    const { inputs, expected, tolerance } = caseOf<
      { rel_u_percent: number[]; n: number[] },
      { u_percent: number; df: number; t95: number }
    >('gum-g4');
    const parts = inputs.rel_u_percent.map((u, at) => ({ u, freedom: inputs.n[at]! - 1 }));
    near(propagation.combinedUncertainty(parts), expected.u_percent, tolerance);
    const freedom = propagation.effectiveFreedom(parts);
    // Printed to one decimal.
    near(freedom, expected.df, 0.05);
    near(distributions.studentQuantile(0.975, freedom), expected.t95, tolerance);
  });

  test('GUM H.2: three readings taken together', () => {
    const { inputs, expected, tolerance } = caseOf<Record<'V' | 'I_A' | 'phi_rad', number[]>, Record<string, number>>(
      'gum-h2',
    );
    const [V, I, phi] = [inputs.V, inputs.I_A, inputs.phi_rad].map(robust.mean) as [number, number, number];
    const series = [inputs.V, inputs.I_A, inputs.phi_rad];
    const u = series.map((values) => robust.standardDeviation(values) / Math.sqrt(values.length));
    const correlation = (i: number, j: number): number => propagation.meansTogether(series[i]!, series[j]!).correlation;
    nearAll(propagation.meansTogether(inputs.V, inputs.I_A).u, [u[0]!, u[1]!], 1e-12);
    const [R, X, Z] = [(V / I) * Math.cos(phi), (V / I) * Math.sin(phi), V / I];
    const uOf = (slopes: number[]): number =>
      propagation.combinedUncertainty(
        slopes.map((sensitivity, at) => ({ u: u[at]!, sensitivity })),
        correlation,
      );
    nearAll([R, X, Z], [expected.R!, expected.X!, expected.Z!], tolerance);
    nearAll(
      [uOf([R / V, -R / I, -X]), uOf([X / V, -X / I, R]), uOf([Z / V, -Z / I, 0])],
      [expected.u_R!, expected.u_X!, expected.u_Z!],
      tolerance,
    );
  });

  test('Supplement 1, 9.3: where first order misses a third', () => {
    const one = caseOf<Record<string, [number, number]> & { rho_a0: number }, { dm: number; u: number }>(
      'gum-s1-mass-1',
    );
    const { m_Rc_mg, dm_Rc_mg, rho_a, rho_W, rho_R, rho_a0 } = one.inputs as Record<
      'm_Rc_mg' | 'dm_Rc_mg' | 'rho_a' | 'rho_W' | 'rho_R',
      [number, number]
    > & { rho_a0: number };
    const middle = ([low, high]: [number, number]): number => (low + high) / 2;
    const rectangular = ([low, high]: [number, number]): number => (high - low) / Math.sqrt(12);
    const [air, weight, standard] = [rho_a, rho_W, rho_R].map(middle) as [number, number, number];
    const mass = m_Rc_mg[0] + dm_Rc_mg[0];
    const u = [m_Rc_mg[1], dm_Rc_mg[1], ...[rho_a, rho_W, rho_R].map(rectangular)];
    const slopes = [
      1 + (air - rho_a0) * (1 / weight - 1 / standard),
      1 + (air - rho_a0) * (1 / weight - 1 / standard),
      mass * (1 / weight - 1 / standard),
      (-mass * (air - rho_a0)) / weight ** 2,
      (mass * (air - rho_a0)) / standard ** 2,
    ];
    const first = propagation.combinedUncertainty(slopes.map((sensitivity, at) => ({ u: u[at]!, sensitivity })));
    near(first, one.expected.u, one.tolerance);
    const second = (i: number, j: number): number => {
      const pair = [i, j].sort((a, b) => a - b).join();
      if (pair === '2,3') return -mass / weight ** 2;
      if (pair === '2,4') return mass / standard ** 2;
      return 0;
    };
    const two = caseOf<unknown, number>('gum-s1-mass-2');
    near(Math.hypot(first, Math.sqrt(propagation.secondOrderVariance(u, second))), two.expected, two.tolerance);
  });

  test('a weighted mean and how well its parts agree', () => {
    // By hand: weights 4 : 1, mean 10.2, u = 1/√(1/0.01 + 1/0.04) = 0.0894; χ² = (0.2/0.1)² + (0.8/0.2)² = 20.
    const found = propagation.weightedMeanOf([
      { value: 10, u: 0.1 },
      { value: 11, u: 0.2 },
    ]);
    near(found.value, 10.2, 1e-12);
    near(found.u, 1 / Math.sqrt(125), 1e-12);
    near(found.chiSquared, 20, 1e-9);
    expect(found.freedom).toBe(1);
    near(found.p, 2 * distributions.normalUpperTail(Math.sqrt(20)), 1e-15);
    expect(() => propagation.weightedMeanOf([])).toThrow('mean of nothing');
  });

  test('a single value is its own mean, and nothing speaks against it', () => {
    expect(propagation.weightedMeanOf([{ value: 5, u: 0.5 }])).toEqual({
      value: 5,
      u: 0.5,
      chiSquared: 0,
      freedom: 0,
      p: 1,
    });
  });

  test.each([0, -0.1, Number.NaN])('no weight can be given to one of u %d', (u) => {
    const values = [
      { value: 1, u: 0.1 },
      { value: 1, u },
    ];
    expect(() => propagation.weightedMeanOf(values)).toThrow('a weight needs an uncertainty above zero');
  });

  test('the Birge ratio is one where three scatter by just their u', () => {
    // χ² = 1 + 0 + 1 of two degrees.
    const three = propagation.weightedMeanOf([9, 10, 11].map((value) => ({ value, u: 1 })));
    near(propagation.birgeRatio(three), 1, 1e-12);
    const twiceAsFar = propagation.weightedMeanOf([8, 10, 12].map((value) => ({ value, u: 1 })));
    near(propagation.birgeRatio(twiceAsFar), 2, 1e-12);
  });

  test('readings taken together are as much alike wherever their zero lies', () => {
    // By hand: Σaa = 2, Σbb = 14/3, Σab = 3, over 3 · 2; their likeness 3/√(28/3).
    const [first, second] = [
      [0, 1, 2],
      [0.1, 1.1, 3.1],
    ];
    for (const [up, other] of [
      [0, 0],
      [1e7, 0],
      [0, 1e7],
    ] as const) {
      const found = propagation.meansTogether(
        first.map((value) => value + up),
        second.map((value) => value + other),
      );
      nearAll(found.u, [Math.sqrt(2 / 6), Math.sqrt(14 / 18)], 1e-7);
      near(found.correlation, 0.98198051, 1e-8);
    }
  });

  test('two assays as one, and their Birge ratio', () => {
    const { inputs, expected, tolerance } = caseOf<
      { x: number[]; u: number[] },
      { mean: number; u: number; birge: number }
    >('mb-weighted-mean');
    const found = propagation.weightedMeanOf(inputs.x.map((value, at) => ({ value, u: inputs.u[at]! })));
    nearAll(
      [found.value, found.u, propagation.birgeRatio(found)],
      [expected.mean, expected.u, expected.birge],
      tolerance,
    );
  });

  test('correlation, against seeded sampling', () => {
    const random = seeded(5);
    // a and b share one error of 0.3; 2a − b then has (2·0.4)² + 0.5² + 0.3² of variance.
    const [own, shared] = [[0.4, 0.5], 0.3];
    const values = Array.from({ length: 100_000 }, () => {
      const same = shared * normal(random);
      return 2 * (own[0]! * normal(random) + same) - (own[1]! * normal(random) + same);
    });
    const u = own.map((each) => Math.hypot(each, shared));
    const parts = [
      { u: u[0]!, sensitivity: 2 },
      { u: u[1]!, sensitivity: -1 },
    ];
    const told = propagation.combinedUncertainty(parts, () => shared ** 2 / (u[0]! * u[1]!));
    near(told, Math.sqrt(0.8 ** 2 + 0.5 ** 2 + 0.3 ** 2), 1e-12);
    near(robust.standardDeviation(values) / told, 1, 0.01);
  });
});

describe('decisions', () => {
  const single: Record<string, (inputs: Record<string, number>) => number> = {
    'dec-diff-two-readings': ({ d, k }) => decision.roundingDifference(d!, k!),
    'dec-z': ({ x1, u1, x2, u2 }) => decision.differenceScore(x1!, u1!, x2!, u2!),
    'dec-en': ({ x, U, ref, U_ref }) => decision.normalisedError(x!, U!, ref!, U_ref!),
    'dec-r-limit': ({ s_r }) => decision.repeatabilityLimit(s_r!),
    'dec-guard-pfa': ({ w_over_u }) => decision.falseAcceptance(w_over_u!),
    'dec-detect': ({ sigma, alpha, beta }) => decision.detectableLoss(sigma!, alpha, beta),
    'dec-grubbs-crit1': ({ n, alpha }) => robust.grubbsLimit(n!, alpha!, 1),
  };
  test.each(Object.keys(single))('%s', (id) => {
    const { inputs, expected, tolerance } = caseOf<Record<string, number>, number>(id);
    near(single[id]!(inputs), expected, tolerance);
  });

  test('limits for repeated assays and for a loss go with their spread', () => {
    // 1.959964 · √2 · s; 1.644854 + 1.644854 standard uncertainties: the normal quantiles by table.
    near(decision.repeatabilityLimit(0.05), 0.13859, 5e-6);
    near(decision.repeatabilityLimit(3), 8.31542, 5e-5);
    near(decision.detectableLoss(0.2), 0.2 * 3.289707, 1e-6);
    near(decision.roundingDifference(0.001, 1.959964), 0.000800152, 1e-9);
    // Two readings on one scale never differ by more than a division through rounding alone.
    expect(decision.roundingDifference(0.01, 3)).toBe(0.01);
  });

  test('pooled t', () => {
    const { inputs, expected, tolerance } = caseOf<Record<string, number>, { t: number; df: number }>('dec-pooled-t');
    const { n1, mean1, sd1, n2, mean2, sd2 } = inputs as Record<
      'n1' | 'mean1' | 'sd1' | 'n2' | 'mean2' | 'sd2',
      number
    >;
    const found = decision.pooledT({ count: n1, mean: mean1, sd: sd1 }, { count: n2, mean: mean2, sd: sd2 });
    near(found.t, expected.t, tolerance);
    expect(found.freedom).toBe(expected.df);
  });

  test('Grubbs', () => {
    const { inputs, expected, tolerance } = caseOf<{ x: number[] }, number>('dec-grubbs');
    near(robust.grubbs(inputs.x), expected, tolerance);
    expect(robust.grubbs([1, 1, 1])).toBe(0);
    expect(() => robust.grubbs([1, 2])).toThrow(RangeError);
  });
});

describe('robust statistics', () => {
  const turns = (first: number, low: number, high: number): number[] => [
    first,
    ...Array.from({ length: 1000 }, (_, at) => (at % 2 === 0 ? low : high)),
  ];
  test.each(['rs-strd-lew', 'rs-strd-michelso', 'rs-strd-numacc1', 'rs-strd-numacc2', 'rs-strd-numacc4'])(
    '%s',
    (id) => {
      const { inputs, expected, tolerance } = caseOf<{ x?: number[] }, { mean: number; sd: number; r1: number }>(id);
      const built = id === 'rs-strd-numacc2' ? turns(1.2, 1.1, 1.3) : turns(10000000.2, 10000000.1, 10000000.3);
      const x = inputs.x ?? built;
      near(robust.mean(x), expected.mean, tolerance);
      near(robust.standardDeviation(x), expected.sd, tolerance);
      near(robust.lagOneCorrelation(x), expected.r1, tolerance);
    },
  );

  test('the median is the middle one, or half between the middle two', () => {
    expect(robust.median([7])).toBe(7);
    expect(robust.median([9, 1, 2])).toBe(2);
    expect(robust.median([100, 1, 2, 4])).toBe(3);
    expect(robust.median([])).toBeNaN();
  });

  test('copper: median, deviation, Huber, outlier', () => {
    const { inputs, expected, tolerance } = caseOf<{ x: number[] }, { mean: number; median: number; mad: number }>(
      'rs-chem',
    );
    near(robust.mean(inputs.x), expected.mean, tolerance);
    near(robust.median(inputs.x), expected.median, tolerance);
    near(robust.scaledMedianDeviation(inputs.x), expected.mad, tolerance);
    const huber = caseOf<{ x: number[]; k: number }, number>('rs-chem-huber');
    near(robust.huberLocation(huber.inputs.x, huber.inputs.k), huber.expected, huber.tolerance);
    const scores = caseOf<{ x: number[] }, number>('rs-modz');
    near(Math.max(...robust.modifiedScores(scores.inputs.x)), scores.expected, scores.tolerance);
  });

  test('half of them agreeing leaves no spread', () => {
    expect(robust.huberLocation([5, 5, 5, 9])).toBe(5);
    expect(robust.modifiedScores([5, 5, 5, 9])).toEqual([0, 0, 0, Infinity]);
    near(robust.modifiedScores([5, 5, 5, 5.1], 0.01)[3]!, 6.745, 1e-9);
  });

  test('Norris, and a line through the origin', () => {
    const line = caseOf<{ x: number[]; y: number[] }, Record<string, number>>('rs-strd-norris');
    const found = regression.fitLine(line.inputs.x, line.inputs.y);
    nearAll(
      [found.slope, found.intercept, found.slopeSd, found.interceptSd, found.residualSquares, found.residualSd],
      ['slope', 'intercept', 'sd_slope', 'sd_intercept', 'rss', 'residual_sd'].map((name) => line.expected[name]!),
      line.tolerance,
    );
    const origin = caseOf<{ x: number[]; y: number[] }, Record<string, number>>('rs-strd-noint1');
    const through = regression.fitThroughOrigin(origin.inputs.x, origin.inputs.y);
    nearAll(
      [through.slope, through.slopeSd, through.residualSquares],
      ['slope', 'sd_slope', 'rss'].map((name) => origin.expected[name]!),
      origin.tolerance,
    );
  });

  test('a line is as steep wherever the zero of its scales lies', () => {
    // Least squares by hand through (0.1, 0), (1.1, 1), (2.1, 3): slope 3/2, residuals 1/6, −1/3, 1/6.
    for (const [right, up] of [
      [0, 0],
      [1e7, 0],
      [0, 1e7],
    ] as const) {
      const found = regression.fitLine(
        [0.1, 1.1, 2.1].map((x) => x + right),
        [0.1, 1.1, 3.1].map((y) => y + up),
      );
      near(found.slope, 1.5, 1e-8);
      near(found.residualSquares, 1 / 6, 1e-8);
    }
  });

  test('three recoveries of the same lots', () => {
    const { inputs, expected, tolerance } = caseOf<Record<'out' | 'in', number[]>, Record<string, number>>('rs-ratio');
    const found = regression.recoveries(inputs.out, inputs.in);
    nearAll(
      [found.overall, found.meanOfEach, found.throughOrigin],
      [expected.ratio_of_sums!, expected.mean_of_ratios!, expected.ls_origin!],
      tolerance,
    );
  });
});

describe('sampling', () => {
  test.each(statistics.cases.map(({ id }) => id).filter((id) => id.startsWith('sa-horwitz')))('%s', (id) => {
    const { inputs, expected, tolerance } = caseOf<{ C: number }, number>(id);
    near(sampling.horwitzPercent(inputs.C), expected, tolerance);
  });

  test('Horwitz as amended, its branches meeting', () => {
    const low = caseOf<{ C: number }, number>('sa-thompson');
    near((100 * sampling.horwitzThompson(low.inputs.C)) / low.inputs.C, low.expected, 1e-12);
    const high = caseOf<{ C: number }, number>('sa-thompson-high');
    near(sampling.horwitzThompson(high.inputs.C), high.expected, high.tolerance);
    near(sampling.horwitzThompson(0.1380001) / sampling.horwitzThompson(0.138), 1, 0.01);
    near(sampling.horwitzThompson(1.2000001e-7) / sampling.horwitzThompson(1.1999999e-7), 1, 0.02);
    near(sampling.horwitzThompson(0.001), (sampling.horwitzPercent(0.001) / 100) * 0.001, 1e-7);
    // At the borders themselves the middle branch holds: 0.02 · C^0.8495, by mpmath at 30 digits.
    near(sampling.horwitzThompson(1.2e-7), 2.64115849701e-8, 1e-19);
    near(sampling.horwitzThompson(0.138), 0.00371841004477, 1e-14);
    expect(sampling.horwitzThompson(0)).toBe(0);
    expect(sampling.horwitzThompson(1)).toBe(0.01);
    expect(sampling.horwitzPercent(1)).toBe(2);
  });

  test.each([-0.1, 1.1, 91.6, Number.NaN])('a mass fraction of %d is refused', (fraction) => {
    expect(() => sampling.horwitzPercent(fraction)).toThrow('a mass fraction');
    expect(() => sampling.horwitzThompson(fraction)).toThrow('a mass fraction');
    expect(() => sampling.horwitzPercent(0)).toThrow('a mass fraction lies above 0');
  });

  test('duplicates', () => {
    const { inputs, expected, tolerance } = caseOf<{ pairs: [number, number][] }, number>('sa-duplicate-u');
    near(sampling.duplicateDeviation(inputs.pairs), expected, tolerance);
    near(sampling.samplingDeviation(0.5, 0.3), 0.4, 1e-12);
    expect(sampling.samplingDeviation(0.3, 0.5)).toBe(0);
  });
});

describe('unaccounted', () => {
  const { inputs, expected, tolerance } = caseOf<
    { inventory: number[]; u_inventory: number; in: number[]; out: number[]; u_transfer: number },
    number[]
  >('muf-series');
  const series = (): ReturnType<typeof unaccountedSeries> =>
    unaccountedSeries({
      inventory: inputs.inventory,
      in: inputs.in,
      out: inputs.out,
      uInventory: inputs.inventory.map(() => inputs.u_inventory),
      uTransfers: inputs.in.map(() => Math.hypot(inputs.u_transfer, inputs.u_transfer)),
    });

  test('each balance, positive for missing', () => {
    nearAll(series().each, expected, tolerance);
    const sign = caseOf<Record<'PB' | 'X' | 'Y' | 'PE', string>, string>('muf-sign');
    const { PB, X, Y, PE } = sign.inputs;
    const one = unaccountedSeries({ inventory: [+PB, +PE], in: [+X], out: [+Y], uInventory: [0, 0], uTransfers: [0] });
    near(one.each[0]!, +sign.expected, 1e-12);
  });

  test('variances, and neighbours bound by the inventory between them', () => {
    const bound = caseOf<unknown, { var: number; cov_next: number }>('muf-cov');
    const found = series();
    expect([found.variances.length, found.covarianceWithNext.length]).toEqual([3, 2]);
    for (const variance of found.variances) near(variance, bound.expected.var, bound.tolerance);
    for (const covariance of found.covarianceWithNext) near(covariance, bound.expected.cov_next, bound.tolerance);
  });

  test('each inventory by its own uncertainty', () => {
    // By hand, u² of the inventories 1, 4, 9, 16 and of what came and went 100, 400, 900.
    const found = unaccountedSeries({
      inventory: [10, 20, 30, 40],
      in: [10, 10, 10],
      out: [0, 0, 0],
      uInventory: [1, 2, 3, 4],
      uTransfers: [10, 20, 30],
    });
    expect(found.variances).toEqual([105, 413, 925]);
    expect(found.covarianceWithNext).toEqual([-4, -9]);
    nearAll(found.runningU, [Math.sqrt(105), Math.sqrt(510), Math.sqrt(1417)], 1e-12);
    // The variance of the whole sum is that of its parts and twice their covariances: 105 + 413 + 925 − 2 · (4 + 9).
    near(found.runningU[2]! ** 2, 1417, 1e-9);
  });

  test('the running sum', () => {
    const sum = caseOf<unknown, { cumuf: number[]; sd: number[] }>('muf-cum');
    const found = series();
    nearAll(found.running, sum.expected.cumuf, sum.tolerance);
    nearAll(found.runningU, sum.expected.sd, sum.tolerance);
  });

  test('the running sum, from the sources of error of each step', () => {
    const inventory = inputs.inventory.map((_, at): ErrorSource => ({ label: `inventory ${at}` }));
    const steps = series().each.map((value, at): Measured => {
      const opened = withError(exact(decimal(value)), inventory[at]!, inputs.u_inventory);
      const closed = withError(opened, inventory[at + 1]!, -inputs.u_inventory);
      return withError(closed, { label: 'transfers' }, Math.hypot(inputs.u_transfer, inputs.u_transfer));
    });
    const running = runningSum(steps);
    const sum = caseOf<unknown, { cumuf: number[]; sd: number[] }>('muf-cum');
    nearAll(
      running.map((each) => each.sum),
      sum.expected.cumuf,
      sum.tolerance,
    );
    nearAll(
      running.map((each) => each.u),
      sum.expected.sd,
      sum.tolerance,
    );
    expect(running.map(({ beyond }) => beyond)).toEqual([true, true, true]);
    // Inner inventories have fallen out.
    for (const each of running) near(each.sharedU, 0, 1e-12);
  });

  test('a bias that persists makes the limit grow with the steps, own errors with their root', () => {
    const scale: ErrorSource = { label: 'scale' };
    const step = (): Measured => withError(withError(exact(decimal('0.05')), scale, 0.03), { label: 'own' }, 0.04);
    const running = runningSum(Array.from({ length: 100 }, step));
    near(running[99]!.sum, 5, 1e-9);
    near(running[99]!.u, Math.hypot(100 * 0.03, 10 * 0.04), 1e-9);
    near(running[99]!.sharedU, 3, 1e-9);
    expect([running[0]!.sharedU, running[99]!.beyond]).toEqual([0, false]);
    near(running[0]!.p, 2 * distributions.normalUpperTail(1), 1e-9);
    // Without the scale's share the same sum would be far beyond.
    const alone = runningSum(
      Array.from({ length: 100 }, () => withError(exact(decimal('0.05')), { label: 'own' }, 0.04)),
    );
    expect(alone[99]!.beyond).toBe(true);
  });

  test('the limit of error is k of its u, and a sum at it is within', () => {
    const own = (): Measured => withError(exact(decimal(1)), { label: 'own' }, 0.5);
    const [first] = runningSum([own()]);
    expect([first!.u, first!.limitOfError, first!.score, first!.beyond]).toEqual([0.5, 1, 2, false]);
    const [wider] = runningSum([own()], 3);
    expect([wider!.limitOfError, wider!.beyond]).toEqual([1.5, false]);
    const [narrower] = runningSum([own()], 1.9);
    expect([narrower!.limitOfError, narrower!.beyond]).toEqual([0.95, true]);
    // Nothing missing where all is exact is nothing to look into.
    expect(runningSum([exact(decimal(0))])[0]!.beyond).toBe(false);
  });

  test('beyond three of its own standard deviations', () => {
    const found = series();
    const beyond = found.each.map((value, period) =>
      Math.abs(value) > 3 * Math.sqrt(found.variances[period]!) ? 1 : 0,
    );
    expect(beyond).toEqual(caseOf<unknown, number[]>('muf-3sigma').expected);
  });

  test('made independent', () => {
    // The sum of squares of the independent series is the series' own quadratic form: for two periods, by hand.
    const two = { ...series(), each: [0.2, 0.2], variances: [0.0058, 0.0058], covarianceWithNext: [-0.0004] };
    const squares = independentSeries(two).reduce((sum, each) => sum + each * each, 0);
    const determinant = 0.0058 ** 2 - 0.0004 ** 2;
    near(squares, (0.04 * (0.0058 + 0.0058) + 2 * 0.04 * 0.0004) / determinant, 1e-9);
  });
});
