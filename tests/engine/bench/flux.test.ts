import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { adjustTo, glassForSilica } from '../../../server/engine/bench/degree';
import { boraxCrystals, charcoalForIron, fluxFor } from '../../../server/engine/bench/flux';
import {
  forButton,
  ironForSulphide,
  leadButton,
  niterForSulphide,
  oxidePerMetal,
  REDUCING_POWERS,
  sulphideReduces,
} from '../../../server/engine/bench/oxidation';
import { degreeName, pureItem, type Slag, slagOf } from '../../../server/engine/bench/slag';
import { slagWarnings } from '../../../server/engine/bench/slag-warnings';
import type { ChargeItem } from '../../../server/engine/gas';
import { MATERIALS, material } from '../../../server/vocabulary/materials';
import { close, given, grams, ordered, refused, within } from './properties';

const of = (name: string, massGrams: number): ChargeItem => ({ material: material(name)!, massGrams, u: 0 });
const flux = fc
  .tuple(
    fc.constantFrom('borax-glass', 'soda-ash', 'silica', 'glass', 'litharge', 'limestone', 'niter', 'iron-rust'),
    grams,
  )
  .map(([name, mass]) => of(name, mass));
const codesOf = (slag: Slag): string[] => slagWarnings(slag, []).map(({ what }) => what);
const charges = fc.array(flux, { minLength: 1, maxLength: 6 });

describe('slag', () => {
  test('twice the charge makes twice the slag of the same degree, in any order', () => {
    fc.assert(
      fc.property(charges, (charge) => {
        const once = slagOf(charge);
        const twice = slagOf(charge.map((item) => ({ ...item, massGrams: 2 * item.massGrams })).reverse());
        close(twice.grams.best, 2 * once.grams.best, 1e-9);
        ordered(once.grams);
        expect(once.degree === undefined).toBe(twice.degree === undefined);
        if (once.degree && twice.degree) close(twice.degree.best, once.degree.best, 1e-9);
        if (once.degree && Number.isFinite(once.degree.high)) ordered(once.degree);
      }),
    );
  });

  test('every built-in material makes a slag without failing, and no more slag than was charged and its oxygen', () => {
    for (const row of MATERIALS) {
      const slag = slagOf([of(row.name, 100)]);
      ordered(slag.grams);
      expect(slag.grams.best, row.name).toBeLessThanOrEqual(100 + 1e-9);
    }
  });

  test('metals, carbon and sulphides are no slag', () => {
    for (const name of ['gold', 'silver', 'iron', 'salt', 'sugar']) expect(slagOf([of(name, 10)]).grams.best).toBe(0);
    expect(slagOf([pureItem('FeS2', 10)]).sulphideGrams).toBe(10);
    expect(slagOf([pureItem('FeS2', 10)]).grams.best).toBe(0);
  });

  test('lead that comes down is no flux any more', () => {
    const charge = [of('litharge', 75), of('silica', 20), of('soda-ash', 30)];
    const without = slagOf(charge).grams.best;
    // 20 g lead is 21.54 g litharge, by the atomic weights.
    close(without - slagOf(charge, { leadReducedGrams: 20 }).grams.best, 21.5443, 1e-4);
  });

  test('alumina counts against whatever there is more of', () => {
    const acid = slagOf([pureItem('SiO2', 80), pureItem('Na2O', 15), pureItem('Al2O3', 5)]);
    const bare = slagOf([pureItem('SiO2', 80), pureItem('Na2O', 15)]);
    expect(acid.degree!.best).toBeLessThan(bare.degree!.best);
    const basic = slagOf([pureItem('SiO2', 10), pureItem('CaO', 60), pureItem('Al2O3', 5)]);
    expect(basic.degree!.best).toBeGreaterThan(slagOf([pureItem('SiO2', 10), pureItem('CaO', 60)]).degree!.best);
  });

  test('names by degree', () => {
    expect([0.5, 1, 1.5, 2, 3].map(degreeName)).toEqual([
      'subsilicate',
      'monosilicate',
      'sesquisilicate',
      'bisilicate',
      'trisilicate',
    ]);
  });
});

describe('what to add', () => {
  test('a charge adjusted to a degree has that degree', () => {
    fc.assert(
      fc.property(charges, within(1, 3), (charge, degree) => {
        const slag = slagOf(charge);
        const { silicaGrams, sodaAshGrams } = given(adjustTo(slag, degree));
        expect(Math.min(silicaGrams.best, sodaAshGrams.best)).toBe(0);
        ordered(silicaGrams);
        ordered(sodaAshGrams);
        const alumina = slag.oxideGrams.has('Al2O3');
        if (alumina) return;
        const adjusted = slagOf([...charge, pureItem('SiO2', silicaGrams.best), pureItem('Na2CO3', sodaAshGrams.best)]);
        close(adjusted.degree!.best, degree, 1e-6);
      }),
    );
    refused(adjustTo(slagOf([of('silica', 1)]), 0));
  });

  test('glass stands in for silica at a bisilicate, about two for one, and not where it is acid enough itself', () => {
    const twice = given(glassForSilica(10, 2));
    expect(twice).toBeGreaterThan(18);
    expect(twice).toBeLessThan(25);
    refused(glassForSilica(10, 6));
  });

  test('borax crystals do the work of 1.9 times less glass', () => close(boraxCrystals(100), 189.53, 1e-3));

  test('magnetite takes 0.026 g carbon a gram, haematite 0.038', () => {
    const carbonIn = 0.85;
    close(charcoalForIron([pureItem('Fe3O4', 100)]).best * carbonIn, 2.6, 0.02);
    close(charcoalForIron([pureItem('Fe2O3', 100)]).best * carbonIn, 3.76, 0.02);
  });

  test('each feed gets a charge whose slag is in the preferred range', () => {
    for (const name of ['black-sand', 'quartz', 'cement', 'iron-rust']) {
      const advice = given(fluxFor([of(name, 100)]));
      for (const part of [advice.boraxCrystalsGrams, advice.sodaAshGrams, advice.silicaGrams, advice.charcoalGrams]) {
        ordered(part);
        expect(part.low, name).toBeGreaterThanOrEqual(0);
      }
      expect(advice.kind).toBe('slag-making feed');
      expect(advice.slag.degree!.best, name).toBeGreaterThanOrEqual(0.99);
      expect(advice.slag.degree!.best, name).toBeLessThanOrEqual(2.01);
    }
  });

  test('clean gold gets little flux, sulphides and the unknown none before more is known', () => {
    const clean = given(fluxFor([of('gold', 100)]));
    expect(clean.kind).toBe('clean metal');
    close(clean.boraxCrystalsGrams.best, 40);
    expect(codesOf(clean.slag)).toEqual([]);
    refused(fluxFor([of('sulphide-concentrate', 100)]));
    expect(fluxFor([of('amalgam', 100)]).reason).toContain('retort');
    refused(
      fluxFor([{ material: { name: 'what the dredge brought', composition: [], givesOff: [] }, massGrams: 10, u: 0 }]),
    );
    refused(fluxFor([]));
  });

  test('twice the feed wants twice the flux', () => {
    fc.assert(
      fc.property(grams, (mass) => {
        const [one, two] = [given(fluxFor([of('black-sand', mass)])), given(fluxFor([of('black-sand', 2 * mass)]))];
        close(two.boraxCrystalsGrams.best, 2 * one.boraxCrystalsGrams.best, 1e-9);
        close(two.silicaGrams.high, 2 * one.silicaGrams.high, 1e-9);
      }),
    );
  });
});

describe('warnings', () => {
  const codes = (charge: readonly ChargeItem[]): string[] =>
    slagWarnings(slagOf(charge), charge).map(({ what }) => what);

  test('each for its cause, and none for a sound charge', () => {
    expect(codes([of('quartz', 50), of('bicarbonate', 100), of('litharge', 35), of('borax-decahydrate', 10)])).toEqual(
      [],
    );
    expect(codes([of('quartz', 50), of('soda-ash', 20)])).toContain('too-acid');
    expect(codes([of('silica', 50)])).toContain('too-acid');
    expect(codes([of('soda-ash', 80), of('silica', 10)])).toContain('too-basic');
    expect(codes([of('iron-rust', 50), of('soda-ash', 30), of('silica', 30)])).toContain('ferric');
    expect(codes([of('iron-rust', 50), of('soda-ash', 30), of('silica', 30), of('charcoal', 2)])).not.toContain(
      'ferric',
    );
    expect(codes([of('sulphide-concentrate', 50), of('soda-ash', 50), of('silica', 20)])).toContain('sulphur-unmet');
    expect(codes([of('sulphide-concentrate', 50), of('soda-ash', 50), of('iron-nails', 20)])).not.toContain(
      'sulphur-unmet',
    );
    expect(codes([of('sulphide-concentrate', 50), of('niter', 30)])).toEqual(
      expect.arrayContaining(['niter-with-fuel', 'much-niter']),
    );
    expect(codes([pureItem('Al2O3', 30), of('soda-ash', 60), of('silica', 50)])).toContain('stiff');
  });

  test('none on an empty crucible, and every warning says what to do', () => {
    expect(codes([])).toEqual([]);
    const all = [of('sulphide-concentrate', 50), of('niter', 30), of('iron-rust', 50)];
    for (const { says, cure, source } of slagWarnings(slagOf(all), all)) {
      expect(says).toMatch(/\.$/);
      expect(cure).toMatch(/\.$/);
      expect(source).not.toBe('');
    }
  });
});

describe('oxidation and reduction', () => {
  test('flour or niter for a button brings that button, there and back', () => {
    fc.assert(
      fc.property(within(5, 60), within(0, 100), within(0, 200), (buttonGrams, redLeadGrams, oreReducesGrams) => {
        const { flourGrams, niterGrams } = given(forButton({ buttonGrams, redLeadGrams, oreReducesGrams }));
        ordered(flourGrams);
        ordered(niterGrams);
        expect(Math.min(flourGrams.best, niterGrams.best)).toBe(0);
        close(oreReducesGrams + 11 * flourGrams.best - 4 * niterGrams.best - redLeadGrams / 5, buttonGrams, 1e-9);
      }),
    );
    refused(forButton({ buttonGrams: -1 }));
  });

  test('a button is never more than the lead there is, nor less than none', () => {
    const button = (flour: number, niter: number) =>
      given(
        leadButton({
          agentGrams: new Map([
            ['flour', flour],
            ['niter', niter],
          ]),
          leadAvailableGrams: 50,
        }),
      );
    fc.assert(
      fc.property(within(0, 20), within(0, 40), (flour, niter) => {
        const found = button(flour, niter);
        ordered(found);
        expect(found.low).toBeGreaterThanOrEqual(0);
        expect(found.high).toBeLessThanOrEqual(50);
        expect(button(flour + 1, niter).best).toBeGreaterThanOrEqual(found.best);
        expect(button(flour, niter + 1).best).toBeLessThanOrEqual(found.best);
      }),
    );
    refused(leadButton({ agentGrams: new Map([['silica', 10]]) }));
  });

  test('the table of powers is in order', () => {
    for (const { agent, leadPerGram } of REDUCING_POWERS) {
      ordered(leadPerGram);
      expect(agent).not.toBe('');
    }
  });

  test.each(['FeS2', 'ZnS', 'PbS', 'CuFeS2', 'FeAsS', 'Sb2S3'])(
    '%s: niter and lead keep to one count of oxygen',
    (formula) => {
      const lead = given(sulphideReduces(formula));
      const niter = given(niterForSulphide(formula, 1));
      ordered(lead);
      ordered(niter);
      // What would bring down so much lead takes as much niter as would put that lead back, 5.1235 g/g by the equation.
      close(niter.high * 5.1235, lead.high, 0.001);
      close(niter.low * 5.1235, lead.low, 0.001);
    },
  );

  test('iron for galena is 0.233 g a gram at the least', () => {
    close(given(ironForSulphide('PbS', 1)).low, 0.2334, 0.001);
    refused(ironForSulphide('ZnS', 1));
    refused(niterForSulphide('SiO2', 1));
    refused(sulphideReduces('SiO2'));
    refused(oxidePerMetal('Cu', 'PbO'));
  });
});
