import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { exposureLimit, leadLimitMicrograms } from '../../../server/engine/bench/exposure';
import { CAUTIONS, caution, cautionsFor, DEFERS, type Situation } from '../../../server/engine/bench/hazards';
import type { Estimate } from '../../../server/engine/bench/result';
import {
  acidAtRates,
  acidWeight,
  airToThin,
  chlorideOf,
  dissolving,
  gasMoles,
  mostLeftByAcid,
  nitricDensity,
  nitricFor,
  nitricGrams,
  nitricMillilitres,
  nitricStrength,
  parted,
  silverBack,
  silverBySalt,
  silverInChloride,
  silverOnCopper,
  waterToThin,
} from '../../../server/engine/bench/wet';
import { element } from '../../../server/vocabulary/elements';
import { material } from '../../../server/vocabulary/materials';
import { verb } from '../../../server/vocabulary/verbs';
import { close, given, grams, ordered, refused, within } from './properties';

const STRONG = { fraction: 0.68, gramsPerMillilitre: 1.405 };

const near = (found: Estimate, low: number, best: number, high: number): void => {
  close(found.low, low, 1e-6);
  close(found.best, best, 1e-6);
  close(found.high, high, 1e-6);
};

/** By hand, with IUPAC atomic weights: HNO3 63.012, Ag 107.8682, Cu 63.546, Pb 207.2 g; a mole of gas fills 24.055 L at 20 °C. */
describe('by the mole', () => {
  test('3 Ag + 4 HNO3, Ag + 2 HNO3, 3 Cu + 8 HNO3, Cu + 4 HNO3, and lead as copper', () => {
    for (const [metal, grams, dilute, strong, no, no2] of [
      ['Ag', 107.8682, 84.016, 126.024, 1 / 3, 1],
      ['Cu', 63.546, 168.032, 252.048, 2 / 3, 2],
      ['Pb', 207.2, 168.032, 252.048, 2 / 3, 2],
    ] as const) {
      close(given(nitricFor(metal, grams, 'dilute')), dilute, 1e-4);
      close(given(nitricFor(metal, grams, 'strong')), strong, 1e-4);
      close(given(gasMoles(metal, grams, 'dilute')), no, 1e-4);
      close(given(gasMoles(metal, grams, 'strong')), no2, 1e-4);
    }
    refused(nitricFor('Au', 1, 'strong'));
    refused(gasMoles('Au', 1, 'strong'));
  });

  test('a mole of silver and half a one of copper in acid of 50 %, 1.317 g/mL', () => {
    const metals = new Map([
      ['Ag', 107.8682],
      ['Cu', 31.773],
      ['Au', 0],
    ]);
    const made = given(dissolving(metals, { fraction: 0.5, gramsPerMillilitre: 1.317 }));
    // 168.032 g of HNO3 dilute, 252.048 strong, in 0.6585 g a millilitre; 1.05 to 1.5 times of it.
    near(made.millilitres, 255.174, 1.275 * 382.761, 1.5 * 382.761);
    expect([made.route, made.gas]).toEqual(['strong', 'NO2']);
    close(made.gasLitres, 48.11, 1e-4);
    close(made.airCubicMetres, 9622, 1e-4);
    const thin = given(dissolving(metals, { fraction: 0.499, gramsPerMillilitre: 1.317 }));
    close(thin.millilitres.best, (1.275 * 168.032) / (0.499 * 1.317), 1e-4);
    expect([thin.route, thin.gas]).toEqual(['dilute', 'NO']);
    close(thin.gasLitres, 48.11 / 3, 1e-4);
    refused(dissolving(metals, { fraction: 0.5, gramsPerMillilitre: 0 }));
  });

  test('acid by volume, by weight, and by rates of the shop', () => {
    const half = { fraction: 0.5, gramsPerMillilitre: 1.3 };
    close(nitricGrams(10, half), 6.5);
    close(nitricMillilitres(6.5, half), 10);
    close(acidWeight(6.5, 0.5), 13);
    const rates = [
      { grams: 10, millilitresPerGram: 2 },
      { grams: 5, millilitresPerGram: 3 },
    ];
    close(acidAtRates(rates), 35);
    // 130 g to a quarter: as much water. As strong as it is: none.
    close(given(waterToThin(100, half, 0.25)), 130);
    close(given(waterToThin(100, half, 0.5)), 0);
    refused(waterToThin(100, half, 0));
    // 5 L in a million litres are 5 ppm.
    close(airToThin(5, 5), 1000);
  });

  test('a mole of silver wants a mole of salt or half a mole of copper', () => {
    const made = given(silverBack(107.8682));
    // NaCl 58.4398, AgCl 143.3182, AgNO3 169.8722 g; a tenth over, and up to a fifth.
    near(made.saltGrams, 58.43977, 64.283746, 70.127723);
    near(made.copperGrams, 31.773, 34.9503, 38.1276);
    close(made.chlorideGrams, 143.3182, 1e-4);
    close(made.nitrateGrams, 169.8722, 1e-4);
    close(given(silverBack(0)).nitrateGrams, 0);
    close(silverOnCopper(63.546), 215.7364, 1e-4);
    close(silverBySalt(58.4398), 107.8682, 1e-4);
    close(chlorideOf(107.8682), 143.3182, 1e-4);
  });

  test('100 g of gold and 250 of silver parted: silver kept and gold dissolved as Beringer has them', () => {
    const two = given(parted(100, 250));
    near(two.silverKeptGrams, 0.05, 0.085, 0.12);
    // Less 0.03, 0.02 and 0.01 of gold.
    near(two.goldGrams, 100.02, 100.065, 100.11);
    near(two.silverDissolvedGrams, 249.88, 249.915, 249.95);
    const one = given(parted(100, 250, 1));
    near(one.silverKeptGrams, 0.15, 0.3, 0.48);
    close(mostLeftByAcid(100), 100.47);
    given(parted(100, 170));
    refused(parted(100, 169.9));
  });
});

describe('acid', () => {
  test('strength and density, there and back', () => {
    fc.assert(
      fc.property(within(1.1, 1.423), (density) =>
        close(given(nitricDensity(given(nitricStrength(density)))), density, 1e-9),
      ),
    );
    refused(nitricStrength(1.05));
    refused(nitricDensity(0.9));
  });

  test('more metal wants more acid, and the range holds both equations', () => {
    fc.assert(
      fc.property(grams, grams, (silver, copper) => {
        const one = given(dissolving(new Map([['Ag', silver]]), STRONG));
        const both = given(
          dissolving(
            new Map([
              ['Ag', silver],
              ['Cu', copper],
            ]),
            STRONG,
          ),
        );
        ordered(both.millilitres);
        expect(both.millilitres.best).toBeGreaterThan(one.millilitres.best);
        const pure = (route: 'dilute' | 'strong') => given(nitricFor('Ag', silver, route)) / (0.68 * 1.405);
        close(one.millilitres.low, pure('dilute'), 1e-9);
        expect(one.millilitres.high).toBeGreaterThan(pure('strong'));
      }),
    );
    refused(dissolving(new Map([['Pt', 1]]), STRONG));
    refused(dissolving(new Map([['Ag', 1]]), { ...STRONG, fraction: 0 }));
  });

  test('strong acid gives brown gas, thin acid gives less of it', () => {
    const silver = new Map([['Ag', 100]]);
    const [strong, thin] = [
      given(dissolving(silver, STRONG)),
      given(dissolving(silver, { fraction: 0.32, gramsPerMillilitre: 1.2 })),
    ];
    expect([strong.gas, thin.gas]).toEqual(['NO2', 'NO']);
    close(strong.gasLitres / thin.gasLitres, 3, 1e-9);
    close(strong.airCubicMetres, airToThin(strong.gasLitres, 5), 1e-12);
  });

  test('thinned acid holds the acid that it held', () => {
    fc.assert(
      fc.property(grams, within(0.05, 0.68), (millilitres, to) => {
        const water = given(waterToThin(millilitres, STRONG, to));
        const acid = millilitres * 1.405;
        close((acid * 0.68) / (acid + water), to, 1e-9);
      }),
    );
    refused(waterToThin(10, STRONG, 0.9));
  });
});

describe('silver back', () => {
  test('copper by the equation brings down what it was reckoned for, and chloride holds it', () => {
    fc.assert(
      fc.property(grams, (silver) => {
        const { copperGrams, chlorideGrams, saltGrams } = given(silverBack(silver));
        close(silverOnCopper(copperGrams.low), silver, 1e-9);
        close(silverInChloride(chlorideGrams), silver, 1e-9);
        ordered(copperGrams);
        ordered(saltGrams);
      }),
    );
    refused(silverBack(-1));
  });
});

describe('parting', () => {
  test('gold comes out a little heavy, silver goes in short by as much', () => {
    fc.assert(
      fc.property(grams, within(1.7, 5), (gold, ratio) => {
        const found = given(parted(gold, ratio * gold));
        for (const each of [found.goldGrams, found.silverKeptGrams, found.silverDissolvedGrams]) ordered(each);
        close(found.silverKeptGrams.best + found.silverDissolvedGrams.best, ratio * gold, 1e-9);
        expect(given(parted(gold, ratio * gold, 1)).goldGrams.best).toBeGreaterThan(found.goldGrams.best);
      }),
    );
    refused(parted(10, 10));
    refused(parted(0, 10));
  });
});

describe('cautions', () => {
  const codes = (situation: Partial<Situation>): string[] =>
    cautionsFor({ materials: new Set(), substances: new Set(), ...situation }).map(({ code }) => code);

  test('each has a trigger that sets it off', () => {
    for (const { code, triggers } of CAUTIONS) {
      const first = triggers[0]!;
      const materials = new Set([...(first.materials ?? []).slice(0, 1), ...(first.with ?? []).slice(0, 1)]);
      const substances = new Set((first.substances ?? []).slice(0, 1));
      expect(codes({ verb: first.verbs?.[0], materials, substances }), code).toContain(code);
    }
  });

  test('nothing is said of nothing, and of weighing', () => {
    expect(codes({})).toEqual([]);
    expect(codes({ verb: 'split', materials: new Set(['gold']) })).toEqual([]);
  });

  test('the dangers of the trade', () => {
    expect(codes({ verb: 'cupel' })).toEqual(['lead-fume', 'water-under-metal']);
    expect(codes({ verb: 'melt', materials: new Set(['placer-gold', 'niter', 'flour']) })).toEqual(
      expect.arrayContaining(['mercury-first', 'niter-deflagrates', 'water-under-metal']),
    );
    expect(codes({ materials: new Set(['ammonia', 'silver-chloride']) })).toEqual(['fulminating-silver']);
    expect(codes({ materials: new Set(['nitric-acid', 'hydrochloric-acid']) })).toEqual(['mixed-acids']);
    expect(codes({ verb: 'melt', substances: new Set(['Cd', 'Zn']) })).toEqual(
      expect.arrayContaining(['zinc-fume', 'cadmium']),
    );
  });

  test('words of the triggers are words of the vocabulary', () => {
    /** Not materials of the shelf, but what a journal may name beside them, or what a step made. */
    const gear = new Set(['gas-furnace', 'plastic', 'filters', 'alcohol', 'retort-sponge', 'burnt sweeps']);
    for (const { triggers } of CAUTIONS) {
      for (const { verbs = [], materials = [], with: beside = [] } of triggers) {
        for (const word of verbs) expect(verb(word), word).toBeDefined();
        for (const word of [...materials, ...beside]) expect(material(word) ?? gear.has(word), word).toBeTruthy();
      }
    }
  });

  test('every text ends, every limit is known, and none reads as a permission', () => {
    expect(DEFERS).toContain('local codes');
    for (const { code, says, limits, source } of CAUTIONS) {
      expect(says, code).toMatch(/\.$/);
      expect(source, code).not.toBe('');
      expect(says, code).not.toMatch(/\b(safe|allowed|permitted|you may|harmless)\b/i);
      for (const substance of limits)
        expect(
          ['OSHA PEL', 'OSHA ceiling', 'NIOSH REL'].some((kind) => exposureLimit(substance, kind as 'OSHA PEL')),
          substance,
        ).toBe(true);
    }
    expect(caution('lead-fume')?.limits).toEqual(['lead']);
    expect(caution('no-such')).toBeUndefined();
    expect(element('Be')?.name).toBe('beryllium');
  });

  test('a longer shift has a lower limit for lead, a shorter one no higher', () => {
    expect(given(leadLimitMicrograms(8))).toBe(50);
    expect(given(leadLimitMicrograms(4))).toBe(50);
    expect(given(leadLimitMicrograms(12))).toBeCloseTo(33.33, 2);
    refused(leadLimitMicrograms(0));
  });
});
