import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  alloyDensity,
  beadByDiameter,
  goldByDensity,
  goldInQuartz,
  heavyFraction,
  hydrostaticDensity,
  mixtureDensity,
  roundBeadGrams,
  specificGravity,
  waterKilogramsPerCubicMetre,
} from '../../../server/engine/bench/density';
import { type Estimate, exactly } from '../../../server/engine/bench/result';
import { element } from '../../../server/vocabulary/elements';
import { close, given, grams, ordered, refused, within } from './properties';

const near = (found: Estimate, low: number, best: number, high: number): void => {
  close(found.low, low, 1e-7);
  close(found.best, best, 1e-7);
  close(found.high, high, 1e-7);
};

const [GOLD, SILVER, COPPER] = ['Au', 'Ag', 'Cu'].map((symbol) => element(symbol)!.density!.value) as [
  number,
  number,
  number,
];

/** Of parts by mass, each with its density: their volumes add up. */
const piece = (...parts: readonly (readonly [number, number])[]): number =>
  parts.reduce((sum, [mass]) => sum + mass, 0) / parts.reduce((sum, [mass, density]) => sum + mass / density, 0);

describe('water', () => {
  test('is densest at 4 °C and lighter on both sides', () => {
    const at = (celsius: number): number => given(waterKilogramsPerCubicMetre(celsius));
    fc.assert(fc.property(within(4, 39), (celsius) => void expect(at(celsius)).toBeGreaterThan(at(celsius + 1))));
    fc.assert(fc.property(within(0, 3), (celsius) => void expect(at(celsius)).toBeLessThan(at(celsius + 0.9))));
  });

  test('has no figure outside of 0 to 40 °C', () => {
    given(waterKilogramsPerCubicMetre(0));
    given(waterKilogramsPerCubicMetre(40));
    refused(waterKilogramsPerCubicMetre(-1));
    refused(waterKilogramsPerCubicMetre(41));
    refused(waterKilogramsPerCubicMetre(Number.NaN));
  });
});

describe('weighing in water', () => {
  test('there and back: a piece of known density', () => {
    fc.assert(
      fc.property(within(5, 500), within(8, 21), within(5, 35), (airGrams, density, celsius) => {
        const water = given(waterKilogramsPerCubicMetre(celsius)) / 1000;
        // In air it weighs (ρ − 0.0012) of its volume, in water (ρ − water).
        const volume = airGrams / (density - 0.0012);
        const waterGrams = airGrams - volume * (water - 0.0012);
        close(given(hydrostaticDensity({ airGrams, waterGrams, celsius })).best, density, 1e-6);
      }),
    );
  });

  test('a coarser scale gives wider bounds, and too coarse a scale gives none', () => {
    const weighed = { airGrams: 31.103, waterGrams: 29.1, celsius: 22 };
    const width = (readingU: number): number => {
      const found = given(hydrostaticDensity({ ...weighed, readingU }));
      ordered(found);
      return found.high - found.low;
    };
    expect(width(0.01)).toBeGreaterThan(width(0.001));
    refused(hydrostaticDensity({ ...weighed, readingU: 0.5 }));
    refused(hydrostaticDensity({ ...weighed, waterGrams: 31.2 }));
  });
});

describe('a weighing by hand', () => {
  // Water of 20 °C weighs 0.9982067 g/cm³: 100 g that lose 6 in it are 100 · 0.9970067/6 + 0.0012.
  const weighed = { airGrams: 100, waterGrams: 94, celsius: 20 };

  test('its density, and nothing about bounds where no error is known', () => {
    const found = hydrostaticDensity(weighed);
    near(given(found), 16.6179783, 16.6179783, 16.6179783);
    expect('assumed' in found && found.assumed.some(({ says }) => says.includes('bounds'))).toBe(false);
    expect(specificGravity(100, 94)).toBeCloseTo(16.6667, 4);
  });

  test('its bounds are two standard uncertainties: 0.0380093 for readings of ± 0.01', () => {
    // (0.9970067/6²) · 0.01 · √(94² + 100²), the slopes by both readings, in Python.
    const found = hydrostaticDensity({ ...weighed, readingU: 0.01 });
    near(given(found), 16.6179783 - 2 * 0.0380093, 16.6179783, 16.6179783 + 2 * 0.0380093);
    expect('assumed' in found && found.assumed.some(({ says }) => says.includes('bounds'))).toBe(true);
    // A quarter of the density is reached at 0.01 · 16.618/4/0.0380093 = 1.0930.
    given(hydrostaticDensity({ ...weighed, readingU: 1.092 }));
    refused(hydrostaticDensity({ ...weighed, readingU: 1.094 }));
  });

  test('a piece that loses nothing in water, or weighs nothing, has none', () => {
    refused(hydrostaticDensity({ ...weighed, waterGrams: 100 }));
    refused(hydrostaticDensity({ ...weighed, airGrams: 0, waterGrams: -1 }));
    refused(hydrostaticDensity({ ...weighed, celsius: 50 }));
  });
});

describe('gold in quartz', () => {
  const native = (fineness: number): number => piece([fineness, GOLD], [1 - fineness, SILVER]);
  const tenth = (fineness: number, quartz: number): number => piece([0.1, native(fineness)], [0.9, quartz]);

  test('a tenth of native gold of 850 is 85 thousandths of gold', () => {
    const found = given(goldInQuartz(exactly(tenth(0.85, 2.65))));
    const told = goldInQuartz(exactly(3));
    expect('assumed' in told && told.assumed.map(({ says }) => says).join('; ')).toContain(
      'native gold of 65 to 98 % gold, the rest silver; the best value for 85 %',
    );
    close(found.nativeDensity, native(0.85));
    close(found.nativeFraction.best, 0.1);
    close(found.goldFraction.best, 0.085);
    ordered(found.nativeFraction);
    ordered(found.goldFraction);
  });

  test('its bounds are the ends of fineness and of quartz', () => {
    const of = (fineness: number, quartz: number) => given(goldInQuartz(exactly(tenth(fineness, quartz))));
    // The heaviest parts want the least native gold for a density, the lightest the most.
    close(of(0.98, 2.65).nativeFraction.low, 0.1);
    close(of(0.65, 2.6).nativeFraction.high, 0.1);
    close(of(0.65, 2.65).goldFraction.low, 0.065);
    close(of(0.98, 2.6).goldFraction.high, 0.098);
  });

  test('a reading that is not sure spreads it', () => {
    const density = { low: tenth(0.98, 2.65), best: 3, high: tenth(0.65, 2.6) + 0.1 };
    const found = given(goldInQuartz(density));
    close(found.nativeFraction.low, 0.1);
    expect(found.nativeFraction.high).toBeGreaterThan(
      given(goldInQuartz(exactly(density.high - 0.1))).nativeFraction.high,
    );
  });

  test('lighter than quartz or heavier than native gold there is none', () => {
    refused(goldInQuartz(exactly(2.59)));
    near(given(goldInQuartz(exactly(2.6))).nativeFraction, 0, 0, 0);
    refused(goldInQuartz(exactly(native(0.98) + 0.01)));
    close(given(goldInQuartz(exactly(native(0.98) - 1e-9))).nativeFraction.high, 1);
  });
});

describe('alloys', () => {
  test('the order and the size of the parts do not matter', () => {
    const part = fc.record({ mass: grams, gramsPerCubicCentimetre: within(2, 22) });
    fc.assert(
      fc.property(fc.array(part, { minLength: 1, maxLength: 5 }), (parts) => {
        const doubled = parts.map((each) => ({ ...each, mass: 2 * each.mass })).reverse();
        close(mixtureDensity(doubled), mixtureDensity(parts), 1e-9);
      }),
    );
  });

  test('a share by density, and the density of that share', () => {
    fc.assert(
      fc.property(within(0, 1), (gold) => {
        const density = given(
          alloyDensity(
            new Map([
              ['Au', gold],
              ['Ag', 1 - gold],
            ]),
          ),
        ).best;
        close(given(heavyFraction(Math.min(19.3, Math.max(10.5, density)), 19.3, 10.5)), gold, 1e-6);
      }),
    );
    refused(alloyDensity(new Map([['Xx', 1]])));
    // An element of which no density is known.
    refused(alloyDensity(new Map([['O', 1]])));
    refused(alloyDensity(new Map()));
    refused(alloyDensity(new Map([['Au', 0]])));
    refused(heavyFraction(20, 19.3, 10.5));
    refused(heavyFraction(8, 19.3, 10.5));
  });
});

test('an alloy from 2.1 % under to 0.9 % over its volumes, a pure metal just its own', () => {
  const own = new Map([
    ['Au', 20],
    ['Ag', 10],
  ]);
  const of = (gold: number, silver: number) =>
    given(
      alloyDensity(
        new Map([
          ['Au', gold],
          ['Ag', silver],
          ['Xx', 0],
        ]),
        own,
      ),
    );
  // A half each: 1/(0.5/20 + 0.5/10) = 40/3.
  near(of(0.5, 0.5), (0.979 * 40) / 3, 40 / 3, (1.009 * 40) / 3);
  near(of(1, 0), 20, 20, 20);
});

describe('gold by density', () => {
  const six = (silver: number): number => piece([0.6, GOLD], [0.4 * silver, SILVER], [0.4 - 0.4 * silver, COPPER]);

  test('600 with silver alone, with copper alone, and with as much of both', () => {
    const bySilver = given(goldByDensity(exactly(six(1))));
    close(bySilver.restSilver!, 0.6);
    close(bySilver.goldFraction.low, 0.6 - 0.012);
    const byCopper = given(goldByDensity(exactly(six(0))));
    close(byCopper.restCopper!, 0.6);
    close(byCopper.goldFraction.high, 0.6 + 0.012);
    // Where nobody knows, the best value lies half way.
    close(byCopper.goldFraction.best, (0.6 + byCopper.restSilver!) / 2);
    near(given(goldByDensity(exactly(six(0.5)), 0.5)).goldFraction, 0.588, 0.6, 0.612);
    near(given(goldByDensity(exactly(six(0.25)), 0.25)).goldFraction, 0.588, 0.6, 0.612);
    near(given(goldByDensity(exactly(six(1)), 1)).goldFraction, 0.588, 0.6, 0.612);
    near(given(goldByDensity(exactly(six(0)), 0)).goldFraction, 0.588, 0.6, 0.612);
  });

  test('the ends of the reading are the ends of the gold', () => {
    const reading = { low: piece([0.5, GOLD], [0.5, SILVER]), best: six(1), high: piece([0.7, GOLD], [0.3, SILVER]) };
    near(given(goldByDensity(reading, 1)).goldFraction, 0.488, 0.6, 0.712);
  });

  test('never less than none nor more than all', () => {
    near(given(goldByDensity(exactly(GOLD), 1)).goldFraction, 0.988, 1, 1);
    near(given(goldByDensity(exactly(SILVER), 1)).goldFraction, 0, 0, 0.012);
    near(given(goldByDensity(exactly(COPPER))).goldFraction, 0, 0, 0.012);
    refused(goldByDensity(exactly(COPPER - 0.01)));
    refused(goldByDensity(exactly(GOLD + 0.01)));
  });

  test('all silver is the least gold, all copper the most', () => {
    fc.assert(
      fc.property(within(10.6, 19.2), (density) => {
        const found = given(goldByDensity(exactly(density)));
        ordered(found.goldFraction);
        expect(found.restSilver!).toBeLessThanOrEqual(found.restCopper! + 1e-12);
        expect(found.goldFraction.low).toBeLessThanOrEqual(found.restSilver!);
        expect(found.goldFraction.high).toBeGreaterThanOrEqual(Math.min(1, found.restCopper!));
      }),
    );
  });

  test('measured alloys lie within the bounds', () => {
    // Rose, The Metallurgy of Gold, table XIV and text.
    for (const [density, gold] of [
      [18.08, 0.917],
      [16.03, 0.75],
      [13.6, 0.5],
      [17.48, 0.9167],
      [17.16, 0.9],
    ] as const) {
      const { low, high } = given(goldByDensity(exactly(density))).goldFraction;
      expect(low).toBeLessThanOrEqual(gold);
      expect(high).toBeGreaterThanOrEqual(gold);
    }
  });

  test('a known silver to copper ratio closes the bounds', () => {
    const open = given(goldByDensity(exactly(15))).goldFraction;
    const shut = given(goldByDensity(exactly(15), 0.5)).goldFraction;
    expect(shut.high - shut.low).toBeLessThan(open.high - open.low);
  });

  test('outside of gold and copper there is no figure, and near gold there is a word on tungsten', () => {
    refused(goldByDensity(exactly(8)));
    refused(goldByDensity(exactly(20)));
    expect(given(goldByDensity(exactly(19.25))).notes.join(' ')).toContain('Tungsten');
    expect(given(goldByDensity(exactly(16))).notes.join(' ')).not.toContain('Tungsten');
    expect(given(goldByDensity(exactly(GOLD - 0.41))).notes.join(' ')).not.toContain('Tungsten');
    expect(given(goldByDensity(exactly(GOLD - 0.39))).notes.join(' ')).toContain('Tungsten');
    const said = (silverOfRest?: number) => {
      const found = goldByDensity(exactly(16), silverOfRest);
      return 'assumed' in found ? found.assumed.map(({ says }) => says).join('; ') : '';
    };
    expect([said().includes('silver, copper or both'), said(0.4).includes('0.4 is silver')]).toEqual([true, true]);
  });
});

test('a bead by its diameter: a ball of a centimetre is π/6 of a cube, and one of twice the diameter eight times as heavy', () => {
  close(roundBeadGrams(10, 1), 0.5235987756);
  close(roundBeadGrams(1, 19.3), 0.0101054564);
  close(beadByDiameter(1.5, 2, 4), 12);
  fc.assert(
    fc.property(within(0.1, 10), (wide) => close(roundBeadGrams(2 * wide, 19.3), 8 * roundBeadGrams(wide, 19.3))),
  );
});
