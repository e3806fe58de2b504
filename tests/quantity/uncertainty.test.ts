import fc from 'fast-check';
import { afterAll, describe, expect, test } from 'vitest';
import { decimal } from '../../server/quantity/decimal';
import {
  add,
  correlation,
  covariance,
  divide,
  type ErrorSource,
  exact,
  guess,
  type Measured,
  measured,
  multiply,
  multiplyNearZero,
  negate,
  scale,
  subtract,
  through,
  uncertainty,
  weightedMean,
  withError,
} from '../../server/quantity/measured';
import { cutUncertainty, placesFor, showPlaces } from '../../server/quantity/show';
import { differ, rectangular, roundingOfLoadAndZero, weighed } from '../../server/quantity/weighing';
import decisionFile from '../fixtures/measurement/decision.json';
import gumFile from '../fixtures/measurement/gum.json';
import balanceFile from '../fixtures/measurement/mass-balance.json';
import { near, openCases, same } from '../support/cases';

const gum = openCases(gumFile);
const decision = openCases(decisionFile);
const balance = openCases(balanceFile);
// What needs a distribution stands with the statistics of the engine.
afterAll(() => expect([...gum.left(), ...balance.left()]).toEqual(['gum-h1-expanded', 'gum-h1-ws', 'gum-g4']));

type Pair = readonly [number, number];
const of = ([value, u]: Pair, label = 'x'): Measured => measured(decimal(value), u, label);

describe('worked examples of combined uncertainty', () => {
  test('EURACHEM A1: a cadmium standard', () => {
    const { inputs, expected, tolerance } = gum.take<Record<string, number>, { c: number; u: number }>(
      'gum-eurachem-a1',
    );
    const mass = of([inputs.m_mg!, inputs.u_m!], 'mass');
    const purity = of([inputs.P!, inputs.u_P!], 'purity');
    const volume = of([inputs.V_mL!, inputs.u_V!], 'volume');
    const concentration = scale(divide(multiply(mass, purity), volume), decimal(1000));
    near(concentration.value.toNumber(), expected.c, tolerance);
    near(uncertainty(concentration), expected.u, tolerance);
  });

  test('GUM H.1: an end gauge', () => {
    const { inputs, expected, tolerance } = gum.take<Record<string, Pair>, number>('gum-h1-first');
    const part = (name: string): Measured => of(inputs[name]!, name);
    const standard = part('ls');
    const expansion = add(multiply(part('da'), part('theta')), multiply(part('as'), part('dtheta')));
    const length = subtract(add(standard, part('d')), multiply(standard, expansion));
    near(uncertainty(length), expected, tolerance);
  });

  test('GUM H.2: voltage, current and phase read together', () => {
    const { inputs, expected, tolerance } = gum.take<Record<string, number[]>, Record<string, number>>('gum-h2');
    const rows = inputs.V!.map((_, at): ErrorSource => ({ label: `row ${at + 1}` }));
    const [voltage, current, phase] = [inputs.V!, inputs.I_A!, inputs.phi_rad!].map((x) => meanOfRows(x, rows));
    const angle = phase!.value.toNumber();
    const cosine = through(phase!, decimal(Math.cos(angle)), -Math.sin(angle));
    const sine = through(phase!, decimal(Math.sin(angle)), Math.cos(angle));
    const impedance = divide(voltage!, current!);
    const resistance = multiply(impedance, cosine);
    const reactance = multiply(impedance, sine);
    near(resistance.value.toNumber(), expected.R!, tolerance);
    near(reactance.value.toNumber(), expected.X!, tolerance);
    near(impedance.value.toNumber(), expected.Z!, tolerance);
    near(uncertainty(resistance), expected.u_R!, tolerance);
    near(uncertainty(reactance), expected.u_X!, tolerance);
    near(uncertainty(impedance), expected.u_Z!, tolerance);
    near(correlation(resistance, reactance), expected.r_RX!, tolerance);
    near(correlation(resistance, impedance), expected.r_RZ!, tolerance);
    near(correlation(reactance, impedance), expected.r_XZ!, tolerance);
  });

  test('GUM supplement 1, 9.3: a mass calibration, where first order misses a third', () => {
    const { inputs, expected, tolerance } = gum.take<Record<string, Pair>, { dm: number; u: number }>('gum-s1-mass-1');
    const limits = ([low, high]: Pair): Measured => of([(low + high) / 2, rectangular((high - low) / 2)]);
    const reference = of(inputs.m_Rc_mg!);
    const step = of(inputs.dm_Rc_mg!);
    const air = subtract(limits(inputs.rho_a!), exact(decimal(1.2)));
    const one = exact(decimal(1));
    const lift = subtract(divide(one, limits(inputs.rho_W!)), divide(one, limits(inputs.rho_R!)));
    const mass = (product: Measured) =>
      subtract(multiply(add(reference, step), add(one, product)), exact(decimal(100_000)));
    near(mass(multiply(air, lift)).value.toNumber(), expected.dm, tolerance);
    near(uncertainty(mass(multiply(air, lift))), expected.u, tolerance);
    const second = gum.take<unknown, number>('gum-s1-mass-2');
    near(uncertainty(mass(multiplyNearZero(air, lift))), second.expected, second.tolerance);
  });

  test('GUM 7.2.6: how it is written', () => {
    const up = gum.take<{ u: string }, string>('gum-round-up');
    same(cutUncertainty(decimal(up.inputs.u), 2, 'up'), up.expected);
    const { inputs, expected } = gum.take<{ y: string; u: string }, string>('gum-round-value');
    const places = cutUncertainty(decimal(inputs.u), 2, 'half-even').decimalPlaces();
    expect(showPlaces(decimal(inputs.y), places)).toBe(expected);
    expect(placesFor(0.027)).toBe(2);
  });
});

describe('decisions', () => {
  test('two readings of 0.01 g, rounding only', () => {
    const { inputs, expected, tolerance } = decision.take<{ d: number; k: number }, number>('dec-diff-two-readings');
    near(inputs.k * roundingOfLoadAndZero(inputs.d), expected, tolerance);
    const read = (): Measured => weighed(decimal('58.16'), inputs.d, undefined, 'r');
    near(inputs.k * differ(read(), read(), inputs.k, [0, 0]).u, expected, tolerance);
  });

  test('how many times a difference exceeds its uncertainty', () => {
    const { inputs, expected, tolerance } = decision.take<Record<string, number>, number>('dec-z');
    const first = of([inputs.x1!, inputs.u1!], 'left');
    near(differ(first, of([inputs.x2!, inputs.u2!], 'entered'), 2, [0, 0]).times, expected, tolerance);
  });
});

describe('balances', () => {
  const closure = balance.take<{ in: string[]; out: string[] }, { unaccounted: number; u: number }>('mb-closure');
  const readings = (texts: readonly string[]): Measured =>
    add(
      ...texts.map((text) =>
        weighed(decimal(text), text.includes('.') ? 10 ** (text.indexOf('.') + 1 - text.length) : 1, undefined, text),
      ),
    );

  test('what is unaccounted for, from the written digits', () => {
    const { inputs, expected, tolerance } = closure;
    const rest = subtract(readings(inputs.in), readings(inputs.out));
    same(rest.value, String(expected.unaccounted));
    near(uncertainty(rest), expected.u, tolerance);
    const share = balance.take<unknown, number>('mb-closure-percent');
    near(divide(readings(inputs.out), readings(inputs.in)).value.toNumber(), share.expected, share.tolerance);
  });

  test('fine metal: the assay tells', () => {
    const { inputs, expected, tolerance } = balance.take<Record<string, number>, { fine: number; u: number }>(
      'mb-product',
    );
    const fine = multiply(of([inputs.m!, inputs.u_m!], 'mass'), of([inputs.f!, inputs.u_f!], 'fineness'));
    near(fine.value.toNumber(), expected.fine, tolerance);
    near(uncertainty(fine), expected.u, tolerance);
  });

  test('a recovery whose two weights share a bias', () => {
    const { inputs, expected, tolerance } = balance.take<Record<string, number>, { u: number }>('mb-ratio-corr');
    // Correlation r: u_out is split so that the shared source carries r of it.
    const shared = { label: 'scale' };
    const into = withError(exact(decimal(inputs.in!)), shared, inputs.u_in!);
    const own = measured(decimal(inputs.out!), inputs.u_out! * Math.sqrt(1 - inputs.r! ** 2), 'own');
    const out = withError(own, shared, inputs.u_out! * inputs.r!);
    near(correlation(out, into), inputs.r!, 1e-12);
    near(uncertainty(divide(out, into)), expected.u, tolerance);
  });

  test('recovery from three assays', () => {
    const { inputs, expected, tolerance } = balance.take<Record<string, number>, number>('mb-two-product');
    const [feed, concentrate, tails] = [inputs.f!, inputs.c!, inputs.t!].map((x) => exact(decimal(x)));
    const over = multiply(concentrate!, subtract(feed!, tails!));
    near(divide(over, multiply(feed!, subtract(concentrate!, tails!))).value.toNumber(), expected, tolerance);
  });

  test('two assays as one', () => {
    const { inputs, expected, tolerance } = balance.take<
      { x: number[]; u: number[] },
      { mean: number; u: number; birge: number }
    >('mb-weighted-mean');
    const mean = weightedMean(inputs.x.map((value, at) => of([value, inputs.u[at]!])));
    near(mean.value.toNumber(), expected.mean, tolerance);
    near(uncertainty(mean), expected.u, tolerance);
  });
});

describe('error sources', () => {
  const tare: ErrorSource = { label: 'tare' };

  test('what two weights share adds up in their sum and falls out of their difference', () => {
    const a = withError(exact(decimal(10)), tare, 0.3);
    const b = withError(exact(decimal(4)), tare, 0.3);
    near(uncertainty(add(a, b)), 0.6, 1e-15);
    expect(uncertainty(subtract(a, b))).toBe(0);
    near(covariance(a, b), 0.09, 1e-15);
    expect(correlation(a, exact(decimal(1)))).toBe(0);
  });

  test('equal labels are not one source', () => {
    near(uncertainty(add(of([1, 0.3]), of([1, 0.4]))), 0.5, 1e-15);
  });

  test('a guess marks all that follows, and nothing else does', () => {
    const g = guess(exact(decimal(2)));
    const plain = exact(decimal(3));
    for (const result of [
      add(plain, g),
      subtract(plain, g),
      negate(g),
      multiply(plain, g),
      divide(g, plain),
      scale(g, decimal(2)),
    ]) {
      expect(result.guessed).toBe(true);
    }
    expect(add(plain, plain).guessed).toBe(false);
  });

  test('an exact value wins a mean; no values have none; nothing is divided by nothing', () => {
    const sure = exact(decimal(5));
    expect(weightedMean([of([1, 0.1]), sure])).toBe(sure);
    expect(() => weightedMean([])).toThrow(RangeError);
    expect(() => divide(sure, exact(decimal(0)))).toThrow(RangeError);
  });

  const sources = Array.from({ length: 6 }, (_, at): ErrorSource => ({ label: `s${at}` }));
  const anyMeasured = fc
    .tuple(
      fc.integer({ min: -1_000_000, max: 1_000_000 }),
      fc.array(fc.tuple(fc.nat(5), fc.integer({ min: -99, max: 99 })), { maxLength: 8 }),
    )
    .map(([hundredths, terms]) =>
      terms.reduce((m, [at, size]) => withError(m, sources[at]!, size), exact(decimal(hundredths).div(100))),
    );

  test('a sum is the same in any order, all at once or one by one, however long', () => {
    fc.assert(
      fc.property(fc.array(anyMeasured, { minLength: 1, maxLength: 40 }), (values) => {
        const once = add(...values);
        for (const other of [add(...[...values].reverse()), values.reduce((total, value) => add(total, value))]) {
          expect(other.value.eq(once.value)).toBe(true);
          near(uncertainty(other), uncertainty(once), 1e-9);
        }
        expect(new Set(once.errors.map(({ source }) => source)).size).toBe(once.errors.length);
      }),
    );
  });

  test('taken away again, put back, scaled', () => {
    fc.assert(
      fc.property(anyMeasured, anyMeasured, fc.integer({ min: -50, max: 50 }), (a, b, factor) => {
        near(uncertainty(subtract(a, a)), 0, 0);
        const back = subtract(add(a, b), b);
        expect(back.value.eq(a.value)).toBe(true);
        near(uncertainty(back), uncertainty(a), 1e-9);
        near(uncertainty(scale(a, decimal(factor))), Math.abs(factor) * uncertainty(a), 1e-9);
        const sumVariance = uncertainty(a) ** 2 + uncertainty(b) ** 2 + 2 * covariance(a, b);
        near(uncertainty(add(a, b)) ** 2, sumVariance, 1e-6);
      }),
    );
  });

  test('times and divided by the same leaves both', () => {
    fc.assert(
      fc.property(anyMeasured, anyMeasured, (a, b) => {
        fc.pre(!b.value.isZero());
        const back = divide(multiply(a, b), b);
        near(back.value.toNumber(), a.value.toNumber(), 1e-9);
        near(
          uncertainty(back),
          uncertainty(a),
          1e-6 * (1 + uncertainty(a) + Math.abs(a.value.toNumber()) * uncertainty(b)),
        );
      }),
    );
  });
});

/** The mean of a column, with each row of simultaneous readings as a source: s²/n, and the rows' covariance with it (GUM 5.2.3). */
const meanOfRows = (values: readonly number[], rows: readonly ErrorSource[]): Measured => {
  const mean = values.reduce((total, value) => total + value, 0) / values.length;
  const share = Math.sqrt(values.length * (values.length - 1));
  return values.reduce((of, value, at) => withError(of, rows[at]!, (value - mean) / share), exact(decimal(mean)));
};
