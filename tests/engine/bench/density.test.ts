import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  alloyDensity,
  goldByDensity,
  heavyFraction,
  hydrostaticDensity,
  mixtureDensity,
  roundBeadGrams,
  waterKilogramsPerCubicMetre,
} from '../../../server/engine/bench/density';
import { exactly } from '../../../server/engine/bench/result';
import { close, given, grams, ordered, refused, within } from './properties';

describe('water', () => {
  test('is densest at 4 °C and lighter on both sides', () => {
    const at = (celsius: number): number => given(waterKilogramsPerCubicMetre(celsius));
    fc.assert(fc.property(within(4, 39), (celsius) => void expect(at(celsius)).toBeGreaterThan(at(celsius + 1))));
    fc.assert(fc.property(within(0, 3), (celsius) => void expect(at(celsius)).toBeLessThan(at(celsius + 0.9))));
  });

  test('has no figure outside of 0 to 40 °C', () => {
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
    refused(heavyFraction(20, 19.3, 10.5));
  });
});

describe('gold by density', () => {
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
  });
});

test('a bead of twice the diameter weighs eight times as much', () => {
  fc.assert(
    fc.property(within(0.1, 10), (wide) => close(roundBeadGrams(2 * wide, 19.3), 8 * roundBeadGrams(wide, 19.3))),
  );
});
