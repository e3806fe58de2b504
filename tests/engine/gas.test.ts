import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type ChargeItem, gasGivenOff, gasLitres, molesOfGas } from '../../server/engine/gas';
import { givesOffOf, MATERIALS, type MaterialLike, material } from '../../server/vocabulary/materials';
import figures from '../fixtures/metallurgy/gas.json';

const UNKNOWN: MaterialLike = { name: 'what the dredge brought', composition: [], givesOff: [] };

describe('water', () => {
  test.each([
    ['borax-decahydrate', 0],
    ['borax-pentahydrate', 1],
  ])('%s always loses it, and surely', (name, at) => {
    const gas = gasGivenOff(charge({ [name]: 100 }));
    const { expected, tolerance } = figures.waterAndCarbonate[at]!;
    near(gas.grams / 100, expected as number, tolerance);
    expect([gas.low, gas.high]).toEqual([gas.grams, gas.grams]);
    expect(gas.u).toBe(0);
  });

  test('bare borax may hold all of the water, or none', () => {
    const gas = gasGivenOff(charge({ borax: 60 }));
    near(gas.grams, 28.34, 0.01);
    expect(gas.low).toBe(0);
    expect(gas.high).toBe(gas.grams);
    // Every value between none and all as likely as another: √3 from the end.
    near(gas.u, 28.34 / Math.sqrt(3), 0.01);
  });

  test('the uncertainty of the weighing goes with the share that leaves', () => {
    const gas = gasGivenOff([{ material: material('borax-decahydrate')!, massGrams: 100, u: 0.5 }]);
    near(gas.u, 0.2362, 0.0001);
  });
});

describe('carbonate', () => {
  test('100 g soda ash with silica enough', () => {
    const gas = gasGivenOff(charge({ 'soda-ash': 100, silica: 100 }));
    const { expected, tolerance } = figures.waterAndCarbonate[3]!;
    near(gas.grams, expected as number, tolerance);
    near(gas.low, expected as number, tolerance);
    near(gas.high, expected as number, tolerance);
  });

  test.each([
    ['bicarbonate', 4],
    ['potash', 5],
  ])('%s with silica enough', (name, at) => {
    const { expected, tolerance } = figures.waterAndCarbonate[at]!;
    near(gasGivenOff(charge({ [name]: 1, silica: 2 })).grams, expected as number, tolerance);
  });

  test('alone it melts and keeps its carbon dioxide; limestone does not', () => {
    expect(gasGivenOff(charge({ 'soda-ash': 100 }))).toMatchObject({ grams: 0, low: 0, high: 0 });
    expect(gasGivenOff(charge({ 'soda-ash': 100, salt: 20, gold: 50 })).grams).toBe(0);
    // 1 - 56.077/100.086, by the atomic weights.
    near(gasGivenOff(charge({ limestone: 100 })).grams, 43.97, 0.01);
  });

  test('bicarbonate alone goes as far as the carbonate', () => {
    near(gasGivenOff(charge({ bicarbonate: 100 })).grams, 36.9, 0.05);
  });

  test('50 g silica takes the soda of 88.5 g soda ash, the bisilicate, and hardly more', () => {
    const needed = figures.waterAndCarbonate[8]!;
    const share = (soda: number) => gasGivenOff(charge({ 'soda-ash': soda, silica: 50 })).grams / soda;
    const allOfIt = share(50);
    near(share((needed.expected as number) - needed.tolerance), allOfIt, 1e-9);
    near(share(2 * 88.24), allOfIt / 2, 1e-3);
  });

  test('borax glass is an acid too: (6 - 2)/2 mol silica per mol', () => {
    // 0.1 mol of borax glass, 0.4 mol of soda ash: half of it to the ratio 2, all of it to the ratio 1.
    const gas = gasGivenOff(charge({ 'borax-glass': 20.12, 'soda-ash': 42.395 }));
    near(gas.grams, 0.2 * 44.009, 0.002);
    near(gas.high, 0.4 * 44.009, 0.002);
  });

  test('a feed of unknown make may bring the acid, or take it', () => {
    const without = gasGivenOff(charge({ 'soda-ash': 50, silica: 20 }));
    const item = { material: UNKNOWN, massGrams: 40, u: 0 };
    const gas = gasGivenOff([...charge({ 'soda-ash': 50, silica: 20 }), item]);
    expect(gas.grams).toBe(without.grams);
    expect(gas.low).toBeLessThan(without.low);
    expect(gas.u).toBeGreaterThan(without.u);
    near(gasGivenOff([...charge({ 'soda-ash': 50 }), item]).high, 50 * 0.41523, 0.01);
  });

  test('a charge of litharge may keep the silica from the soda', () => {
    const gas = gasGivenOff(charge({ 'soda-ash': 30, silica: 20, litharge: 100 }));
    expect(gas.low).toBe(0);
    near(gas.high, 30 * 0.41523, 0.01);
  });
});

describe('oxygen', () => {
  test('niter gives between its nitrogen and all that it can', () => {
    const gas = gasGivenOff(charge({ niter: 100, gold: 50 }));
    near(gas.low, 13.85, 0.01);
    near(gas.high, 53.42, 0.01);
    near(gas.grams, (13.85 + 53.42) / 2, 0.01);
    near(gas.u, (53.42 - 13.85) / Math.sqrt(12), 0.01);
  });

  test('copper in plenty keeps the practical part of its oxygen', () => {
    const gas = gasGivenOff(charge({ niter: 10, copper: 500 }));
    const [practical, theory] = [figures.oxygen[3]!.expected as number, figures.oxygen[4]!.expected as number];
    const oxygen = 5.3418 - 1.3854;
    near(gas.grams, 1.3854 + oxygen * (1 - practical / theory), 0.001);
    expect(gas.low).toBeLessThan(gas.grams);
  });

  test('carbon carries the oxygen of niter away', () => {
    const gas = gasGivenOff(charge({ niter: 10, charcoal: 10 }));
    near(partGrams(gas, 'O2'), 5.3418 - 1.3854, 0.001);
  });

  test('flour takes the oxygen of the lead that it brings down, and no more than there is', () => {
    const lead = 4 * (figures.oxygen[1]!.expected as number);
    const plenty = gasGivenOff(charge({ litharge: 75, flour: 4 }));
    near(partGrams(plenty, 'O'), lead * (1.07721525 - 1), 0.005);
    const scarce = gasGivenOff(charge({ litharge: 5, flour: 4 }));
    near(partGrams(scarce, 'O'), 5 * (1 - 1 / 1.07721525), 0.001);
    expect(partGrams(gasGivenOff(charge({ silica: 5, flour: 4 })), 'O')).toBe(0);
  });

  test('red lead gives up to its spare oxygen', () => {
    // 15.999/685.596, by the atomic weights.
    near(gasGivenOff(charge({ 'red-lead': 100 })).high, 2.3336, 0.001);
  });
});

describe('room', () => {
  test('100 g soda ash at 1100 °C', () => {
    const { expected, tolerance } = figures.waterAndCarbonate[7]!;
    const gas = gasGivenOff(charge({ 'soda-ash': 100, silica: 100 }));
    near(gas.moles, 0.9435, 0.0002);
    near(gasLitres(gas.moles, 1100), expected as number, tolerance);
  });

  test('nitrous fume of 100 g silver in strong acid, at 20 °C', () => {
    const { expected, tolerance } = figures.silver[7]!;
    near(gasLitres(100 / 107.8682, 20), expected as number, tolerance);
  });

  test('a mole of ideal gas at 0 °C and one atmosphere is 22.414 L (CODATA)', () => {
    near(gasLitres(1, 0), 22.41396954, 1e-6);
  });

  test('burnt starch makes six of carbon dioxide and five of water', () => {
    near(molesOfGas('C6H10O5', 162.141), 11, 0.001);
    expect(molesOfGas('O', 16)).toBe(0);
    expect(molesOfGas('grandmother', 16)).toBe(0);
  });
});

describe('whatever the charge', () => {
  const item = fc.record({
    material: fc.constantFrom<MaterialLike>(...MATERIALS, UNKNOWN, workshopFlux()),
    massGrams: fc.double({ min: 0, max: 500, noNaN: true }),
    u: fc.double({ min: 0, max: 1, noNaN: true }),
  });
  const charges = fc.array(item, { maxLength: 8 });

  test('the best value stands between its bounds, and no more leaves than was charged', () => {
    fc.assert(
      fc.property(charges, (items) => {
        const gas = gasGivenOff(items);
        const whole = items.reduce((sum, each) => sum + each.massGrams, 0);
        expect(gas.low).toBeGreaterThanOrEqual(0);
        expect(gas.low).toBeLessThanOrEqual(gas.grams + 1e-9);
        expect(gas.grams).toBeLessThanOrEqual(gas.high + 1e-9);
        expect(gas.high).toBeLessThanOrEqual(whole + 1e-9);
        expect(Number.isFinite(gas.u) && Number.isFinite(gas.moles)).toBe(true);
      }),
    );
  });

  test('twice the charge gives twice the gas, in any order', () => {
    fc.assert(
      fc.property(charges, (items) => {
        const once = gasGivenOff(items);
        const twice = gasGivenOff(items.map((each) => ({ ...each, massGrams: each.massGrams * 2 })).reverse());
        near(twice.grams, once.grams * 2, 1e-6);
        near(twice.high, once.high * 2, 1e-6);
        near(twice.low, once.low * 2, 1e-6);
      }),
    );
  });

  test('more silica never keeps carbon dioxide back', () => {
    fc.assert(
      fc.property(charges, fc.double({ min: 0, max: 300, noNaN: true }), (items, silica) => {
        const more = gasGivenOff([...items, ...charge({ silica })]);
        expect(more.grams).toBeGreaterThanOrEqual(gasGivenOff(items).grams - 1e-9);
      }),
    );
  });
});

function charge(grams: Record<string, number>): ChargeItem[] {
  return Object.entries(grams).map(([name, massGrams]) => ({ material: material(name)!, massGrams, u: 0 }));
}

function workshopFlux(): MaterialLike {
  const composition = [
    { what: 'Na2B4O7·5H2O', fraction: 0.5 },
    { what: 'Na2CO3', fraction: 0.3 },
    { what: 'SiO2', fraction: 0.1 },
  ];
  return { name: 'shop-flux', composition, givesOff: givesOffOf(composition) };
}

function partGrams(gas: ReturnType<typeof gasGivenOff>, what: string): number {
  return gas.parts.filter((part) => part.what === what).reduce((sum, part) => sum + part.grams, 0);
}

function near(found: number, expected: number, tolerance: number): void {
  expect(Math.abs(found - expected), `${found} against ${expected}`).toBeLessThanOrEqual(tolerance);
}
