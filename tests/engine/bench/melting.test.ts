import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { bulkVolume, chargeGas, type LooseItem } from '../../../server/engine/bench/charge';
import { colourAt, HEAT_COLOURS, heatJoules, meltingTime } from '../../../server/engine/bench/heat';
import { meltingRange, superheat } from '../../../server/engine/bench/liquidus';
import { metalMillilitres } from '../../../server/engine/bench/mould';
import { about, exactly } from '../../../server/engine/bench/result';
import { material } from '../../../server/vocabulary/materials';
import { close, given, grams, ordered, refused, within } from './properties';

const alloy = (gold: number, silver: number, copper: number) =>
  new Map([
    ['Au', gold],
    ['Ag', silver],
    ['Cu', copper],
  ]);

describe('melting range', () => {
  // Solved once with another solver from the same differences of energy between liquid and solid: agreement within 5 K.
  test.each([
    [90, 8, 2, 1026, 1007],
    [85, 12, 3, 1008, 982],
    [80, 15, 5, 977, 945],
    [70, 25, 5, 970, 930],
    [60, 30, 10, 908, 860],
    [75, 12.5, 12.5, 899, 884],
    [75, 16, 9, 928, 900],
    [75, 4.5, 20.5, 893, 887],
    [58.3, 10.4, 31.3, 885, 842],
    [58.5, 20.5, 21, 838, 826],
    [91.7, 2, 6.3, 969, 953],
    [91.7, 0, 8.3, 952, 941],
    [90, 0, 10, 939, 931],
  ])('%f gold, %f silver, %f copper', (gold, silver, copper, liquidus, solidus) => {
    const found = given(meltingRange(alloy(gold / 100, silver / 100, copper / 100)));
    expect(Math.abs(found.liquidusCelsius.best - liquidus)).toBeLessThanOrEqual(5);
    expect(Math.abs(found.solidusCelsius!.best - solidus)).toBeLessThanOrEqual(5);
  });

  test('the last of a copper-rich silver freezes at the eutectic; with gold the solidus is left open', () => {
    expect(given(meltingRange(alloy(0, 0.7, 0.3))).solidusCelsius?.best).toBe(779.1);
    const mixed = given(meltingRange(alloy(0.1, 0.5, 0.4)));
    expect(mixed.solidusCelsius).toBeUndefined();
    expect(mixed.withoutSolidus).toContain('two kinds');
  });

  test('solid below liquid, everywhere', () => {
    const share = fc.tuple(within(0.01, 1), within(0.01, 1), within(0.01, 1));
    fc.assert(
      fc.property(share, ([a, b, c]) => {
        const sum = a + b + c;
        const found = given(meltingRange(alloy(a / sum, b / sum, c / sum)));
        ordered(found.liquidusCelsius);
        expect(found.liquidusCelsius.best).toBeGreaterThan(700);
        expect(found.liquidusCelsius.best).toBeLessThan(1090);
        if (found.solidusCelsius)
          expect(found.solidusCelsius.best).toBeLessThanOrEqual(found.liquidusCelsius.best + 1e-3);
      }),
      { numRuns: 30 },
    );
  });

  test('pure metals at their points, and no figure with lead, zinc, or little of the three', () => {
    expect(given(meltingRange(alloy(1, 0, 0))).liquidusCelsius).toEqual(exactly(1064.18));
    refused(meltingRange(new Map([...alloy(0.75, 0.125, 0.115), ['Pb', 0.01]])));
    refused(meltingRange(new Map([...alloy(0.75, 0.125, 0.095), ['Zn', 0.03]])));
    refused(meltingRange(alloy(0.5, 0.2, 0.1)));
    refused(meltingRange(new Map()));
  });

  test('superheat in words', () => {
    expect(superheat(about(900, 10), about(950, 15)).verdict).toBe('not all molten');
    expect(superheat(about(945, 10), about(950, 15)).verdict).toBe('may be not all molten');
    expect(superheat(about(980, 5), about(950, 5)).verdict).toBe('cold');
    expect(superheat(about(1040, 10), about(950, 15)).verdict).toBe('usual');
    expect(superheat(about(1200, 10), about(950, 15)).verdict).toBe('hot');
  });
});

describe('heat', () => {
  const charge = (silver: number, to: number) => ({
    metalGrams: new Map([['Ag', silver]]),
    fromCelsius: 20,
    toCelsius: to,
  });

  test('twice the metal takes twice the heat, and a hotter target never less', () => {
    fc.assert(
      fc.property(grams, within(200, 1200), within(0, 200), (mass, to, more) => {
        const joules = given(heatJoules(charge(mass, to)));
        ordered(joules);
        close(given(heatJoules(charge(2 * mass, to))).best, 2 * joules.best);
        expect(given(heatJoules(charge(mass, to + more))).best).toBeGreaterThanOrEqual(joules.best - 1e-9);
      }),
    );
  });

  test('no figure for a colder target, an unknown metal, or solid slag', () => {
    refused(heatJoules({ ...charge(10, 10) }));
    refused(heatJoules({ metalGrams: new Map([['W', 1]]), fromCelsius: 20, toCelsius: 900 }));
    refused(heatJoules({ metalGrams: new Map(), slagGrams: 10, fromCelsius: 20, toCelsius: 300 }));
  });

  test('the least time is below the usual one, and halves with twice the power', () => {
    const joules = given(heatJoules(charge(1000, 1060)));
    const time = given(meltingTime(joules, 2000, 'resistance'));
    ordered(time.usualMinutes!);
    expect(time.leastMinutes).toBeLessThan(time.usualMinutes!.low);
    close(given(meltingTime(joules, 4000)).leastMinutes, time.leastMinutes / 2);
    refused(meltingTime(joules, 0));
  });

  test('colours of heat rise', () => {
    const colours = HEAT_COLOURS.map(({ celsius }) => celsius);
    expect(colours).toEqual([...colours].sort((one, other) => one - other));
    expect(HEAT_COLOURS.map(({ celsius }) => colourAt(celsius + 15))).toEqual(HEAT_COLOURS.map(({ colour }) => colour));
  });
});

describe('room', () => {
  const item = (name: string, mass: number): LooseItem => ({
    name,
    grams: mass,
    bulkDensity: material(name)?.bulkDensity,
  });

  test('more in the crucible never takes less room, and what is unknown is named', () => {
    fc.assert(
      fc.property(grams, grams, (one, other) => {
        const less = bulkVolume([item('borax', one)]).millilitres;
        const more = bulkVolume([item('borax', one), item('soda-ash', other)]).millilitres;
        ordered(more);
        for (const end of ['low', 'best', 'high'] as const) expect(more[end]).toBeGreaterThan(less[end]);
      }),
    );
    expect(bulkVolume([item('black-sand', 10), item('what the dredge brought', 5)]).unknown).toEqual([
      'what the dredge brought',
    ]);
  });

  test('crystal borax foams, dry glass does not', () => {
    const of = (name: string, massGrams: number) => [{ material: material(name)!, massGrams, u: 0 }];
    expect(chargeGas(of('borax-decahydrate', 100), 1100, 110).foaming).toBe('fierce');
    expect(chargeGas(of('glass', 100), 1100, 70).foaming).toBe('quiet');
    expect(chargeGas(of('borax-decahydrate', 100), 1100).foaming).toBe('lively');
  });
});

describe('mould', () => {
  test('twice the metal takes twice the room', () => {
    fc.assert(
      fc.property(grams, (mass) => {
        const metal = (by: number) => new Map([['Ag', by * mass]]);
        close(given(metalMillilitres(metal(2))).best, 2 * given(metalMillilitres(metal(1))).best);
      }),
    );
  });
});
