import { afterAll, describe, expect, test } from 'vitest';
import {
  airDensity,
  airDensityCipm,
  airDensityJones,
  airDensityOiml,
  buoyancyFactor,
  HECTOPASCAL_PER_MMHG,
} from '../../server/quantity/buoyancy';
import { decimal } from '../../server/quantity/decimal';
import { add, exact, measured, subtract, scale as times, uncertainty } from '../../server/quantity/measured';
import {
  checkWeightLimitMg,
  permissibleError,
  permissibleErrorInService,
  type ScaleClass,
  type WeightClass,
} from '../../server/quantity/permissible';
import {
  differ,
  leanOf,
  rectangular,
  repeated,
  roundingOfLoad,
  roundingOfLoadAndZero,
  type Scale,
  standardDeviation,
  statedUncertainty,
  weighed,
} from '../../server/quantity/weighing';
import buoyancyFile from '../fixtures/measurement/buoyancy.json';
import file from '../fixtures/measurement/weighing.json';
import { near, openCases, same } from '../support/cases';

const cases = openCases(file);
const buoyancy = openCases(buoyancyFile);
afterAll(() => expect([...cases.left(), ...buoyancy.left()]).toEqual([]));

const BENCH: Scale = { name: 'bench', division: decimal('0.01') };
const HELD: Scale = { ...BENCH, permissibleError: 0.05 };

describe('one reading', () => {
  test('rounding of the load, and of load and zero', () => {
    const load = cases.take<{ d: number }, number>('w-rect');
    near(roundingOfLoad(load.inputs.d), load.expected, load.tolerance);
    near(uncertainty(weighed(decimal('58.16'), 0.01, undefined, 'r')), load.expected, load.tolerance);
    const both = cases.take<{ d: number }, number>('w-zero-and-load');
    near(roundingOfLoadAndZero(both.inputs.d), both.expected, both.tolerance);
    near(uncertainty(weighed(decimal('58.16'), 0.01, BENCH, 'r')), both.expected, both.tolerance);
  });

  test('a stated limit is a rectangle; expanded is twice, standard once', () => {
    const { inputs, expected, tolerance } = cases.take<{ limit: number }, number>('w-linearity');
    near(rectangular(inputs.limit), expected, tolerance);
    near(statedUncertainty(inputs.limit, 'limits'), expected, tolerance);
    expect(statedUncertainty(0.02, 'expanded')).toBe(0.01);
    expect(statedUncertainty(0.02, 'standard')).toBe(0.02);
  });

  test('a named scale overrides the typed digits, and one that tracks zero rounds once', () => {
    const coarse: Scale = { name: 'floor', division: decimal('0.5'), tracksZero: true };
    near(uncertainty(weighed(decimal('58.16'), 0.01, coarse, 'r')), 0.5 / Math.sqrt(12), 1e-12);
  });

  test('repeatability and the permissible error come on top', () => {
    const full: Scale = { ...HELD, repeatability: 0.02 };
    const squares = 0.01 ** 2 / 6 + 0.02 ** 2 + 0.05 ** 2 / 3;
    near(uncertainty(weighed(decimal('58.16'), 0.01, full, 'r')), Math.sqrt(squares), 1e-12);
  });
});

describe('gross less tare, goes, repeats', () => {
  test('gross less tare counts both', () => {
    const { inputs, expected, tolerance } = cases.take<
      { gross: string; tare: string; d: number },
      { net: number; u: number }
    >('w-gross-tare');
    const net = subtract(
      weighed(decimal(inputs.gross), inputs.d, undefined, 'gross'),
      weighed(decimal(inputs.tare), inputs.d, undefined, 'tare'),
    );
    near(net.value.toNumber(), expected.net, 0);
    near(uncertainty(net), expected.u, tolerance);
  });

  test('the same three times: mean, scatter, rounding', () => {
    const { inputs, expected, tolerance } = cases.take<
      { readings: number[]; d: number },
      { mean: number; u_mean: number; u: number }
    >('w-repeats');
    const readings = inputs.readings.map((reading) => decimal(reading));
    const mean = repeated(readings, inputs.d, undefined, 'r');
    same(mean.value, String(expected.mean));
    near(standardDeviation(readings) / Math.sqrt(readings.length), expected.u_mean, tolerance);
    near(uncertainty(mean), expected.u, tolerance);
  });

  test('three equal readings are no better than the scale repeats', () => {
    const steady = [58.16, 58.16, 58.16].map((reading) => decimal(reading));
    const u = uncertainty(repeated(steady, 0.01, { ...BENCH, repeatability: 0.03 }, 'r'));
    near(u, Math.hypot(0.03 / Math.sqrt(3), 0.01 / Math.sqrt(12)), 1e-12);
    expect(() => repeated([], 0.01, undefined, 'r')).toThrow(RangeError);
  });

  test('a lean of the scale adds up over goes, and falls out of a lot weighed twice', () => {
    const read = (grams: string) => weighed(decimal(grams), 0.01, HELD, 'r');
    near(uncertainty(add(read('20.00'), read('38.16'))), Math.hypot(0.01 / Math.sqrt(3), 0.1 / Math.sqrt(3)), 1e-12);
    near(uncertainty(subtract(read('58.16'), read('58.15'))), 0.01 / Math.sqrt(3), 1e-12);
  });

  test('gross less tare keeps it', () => {
    const gross = weighed(decimal('238.42'), 0.01, HELD, 'gross');
    const net = subtract(gross, weighed(decimal('18.20'), 0.01, HELD, 'tare', 'vessel'));
    expect(uncertainty(net)).toBeGreaterThan(0.05 / Math.sqrt(3));
    expect(leanOf(HELD)).toBe(leanOf(HELD));
    expect(leanOf(HELD)).not.toBe(leanOf(HELD, 'vessel'));
    expect(leanOf(HELD)).not.toBe(leanOf({ ...HELD }));
  });
});

describe('whether weighing explains a difference', () => {
  const read = (grams: string) => weighed(decimal(grams), 0.01, undefined, 'r');

  test('one last digit is explained, by the hard limit, and two are not', () => {
    const one = differ(read('58.16'), read('58.15'), 2, [0.01, 0.01]);
    expect(one).toMatchObject({ explained: true });
    same(one.difference.value, '-0.01');
    near(one.times, 0.01 / (0.01 / Math.sqrt(6)), 1e-9);
    expect(differ(read('58.16'), read('58.18'), 2, [0.01, 0.01]).explained).toBe(false);
    // By two standard uncertainties alone it would not be.
    expect(differ(read('58.16'), read('58.15'), 2, [0, 0]).explained).toBe(false);
  });

  test('without any error, only nothing is explained', () => {
    expect(differ(exact(decimal(1)), exact(decimal(1)), 2, [0, 0])).toMatchObject({ times: 0, explained: true });
    const apart = differ(exact(decimal(1)), exact(decimal(2)), 2, [0, 0]);
    expect(apart).toMatchObject({ times: Number.POSITIVE_INFINITY, explained: false });
  });

  test('k widens what is explained', () => {
    const pair = [measured(decimal('58.16'), 0.006, 'a'), measured(decimal('58.14'), 0.006, 'b')] as const;
    expect([2, 3].map((k) => differ(...pair, k, [0, 0]).explained)).toEqual([false, true]);
  });
});

describe('permissible errors', () => {
  test.each([1, 2, 4, 5, 6, 8, 9])('of scales, case %d, and twice as much in service', (number) => {
    const { inputs, expected } = cases.take<{ class: ScaleClass; e: string; load: string }, string>(`w-mpe-${number}`);
    const limit = permissibleError(inputs.class, decimal(inputs.e), decimal(inputs.load))!;
    same(limit, expected);
    same(permissibleErrorInService(inputs.class, decimal(inputs.e), decimal(inputs.load))!, limit.times(2).toFixed());
  });

  // OIML R 76-1, Tables 3 and 6, as transcribed in a course sheet.
  test('none beyond what a class may weigh', () => {
    same(permissibleError('II', decimal('0.01'), decimal('1000'))!, '0.015');
    expect(permissibleError('II', decimal('0.01'), decimal('1000.01'))).toBeUndefined();
    expect(permissibleError('IIII', decimal('5'), decimal('5001'))).toBeUndefined();
    same(permissibleError('I', decimal('0.001'), decimal('10000'))!, '0.0015');
  });

  test.each(['100g-E2', '100g-F1', '100g-F2', '100g-M1', '20g-M1', '200g-F1', '1g-M1'])(
    'of check weights, %s',
    (name) => {
      const { inputs, expected } = cases.take<{ nominal: string; class: WeightClass }, number>(`w-weight-${name}`);
      expect(checkWeightLimitMg(inputs.class, Number.parseInt(inputs.nominal, 10))).toBe(expected);
    },
  );

  test('none for a mass that no set has', () => expect(checkWeightLimitMg('M1', 30)).toBeUndefined());
});

describe('buoyancy of air', () => {
  interface Sample {
    readonly rho_sample: number;
    readonly rho_ref: number;
    readonly rho_air: number;
  }
  const factor = ({ rho_sample, rho_ref, rho_air }: Sample): number =>
    buoyancyFactor(rho_sample, { air: rho_air, reference: rho_ref });

  test('aluminium, gold, slag', () => {
    const aluminium = buoyancy.take<Sample & { reading_mg: number }, number>('w-buoy-al');
    near(aluminium.inputs.reading_mg * factor(aluminium.inputs), aluminium.expected, aluminium.tolerance);
    const gold = buoyancy.take<Sample & { reading_g: number }, number>('w-buoy-au');
    near(gold.inputs.reading_g * factor(gold.inputs), gold.expected, gold.tolerance);
    near(gold.inputs.reading_g * buoyancyFactor(gold.inputs.rho_sample), gold.expected, gold.tolerance);
    const slag = buoyancy.take<Sample, number>('w-buoy-slag');
    near(factor(slag.inputs) - 1, slag.expected, slag.tolerance);
  });

  test.each([
    ['npl', airDensity],
    ['oiml', airDensityOiml],
  ] as const)('density of air, %s', (name, density) => {
    const { inputs, expected, tolerance } = buoyancy.take<{ p_hPa: number; rh_percent: number; t_C: number }, number>(
      `w-air-${name}`,
    );
    const weather = { celsius: inputs.t_C, hectopascal: inputs.p_hPa, humidityPercent: inputs.rh_percent };
    near(density(weather), expected, tolerance);
  });

  test('density of air, CIPM-2007', () => {
    const { inputs, expected, tolerance } = buoyancy.take<
      { p_Pa: number; t_C: number; rh: number; xCO2: number },
      number
    >('w-air-cipm');
    const weather = { celsius: inputs.t_C, hectopascal: inputs.p_Pa / 100, humidityPercent: inputs.rh * 100 };
    near(airDensityCipm(weather, inputs.xCO2), expected, tolerance);
  });

  test('density of air, NIST SOP 2', () => {
    const { inputs, expected, tolerance } = buoyancy.take<{ t_C: number; p_mmHg: number; rh_percent: number }, number>(
      'w-air-jones-1',
    );
    const hectopascal = inputs.p_mmHg * HECTOPASCAL_PER_MMHG;
    near(
      airDensityJones({ celsius: inputs.t_C, hectopascal, humidityPercent: inputs.rh_percent }),
      expected,
      tolerance,
    );
  });

  test('the four agree in a warm workshop', () => {
    for (const celsius of [18, 24, 30]) {
      const weather = { celsius, hectopascal: 980, humidityPercent: 80 };
      const best = airDensityCipm(weather);
      // What the national laboratory's note says of its simplified form.
      for (const density of [airDensity, airDensityOiml, airDensityJones]) near(density(weather) / best, 1, 4e-4);
    }
  });
});

test('a weight in another unit keeps its relative uncertainty', () => {
  const reading = weighed(decimal('58.16'), 0.01, undefined, 'r');
  const milligrams = times(reading, decimal(1000));
  near(uncertainty(milligrams) / 58160, uncertainty(reading) / 58.16, 1e-15);
});
