import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { exposureLimit, leadLimitMicrograms } from '../../../server/engine/bench/exposure';
import { CAUTIONS, caution, cautionsFor, DEFERS, type Situation } from '../../../server/engine/bench/hazards';
import {
  airToThin,
  dissolving,
  nitricDensity,
  nitricFor,
  nitricStrength,
  parted,
  silverBack,
  silverInChloride,
  silverOnCopper,
  waterToThin,
} from '../../../server/engine/bench/wet';
import { element } from '../../../server/vocabulary/elements';
import { material } from '../../../server/vocabulary/materials';
import { verb } from '../../../server/vocabulary/verbs';
import { close, given, grams, ordered, refused, within } from './properties';

const STRONG = { fraction: 0.68, gramsPerMillilitre: 1.405 };

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
