import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { expandRecipe, findMaterial } from '../../server/engine/shelf';
import { NO_WORKSHOP } from '../../server/engine/workshop';
import { decimal } from '../../server/quantity/decimal';
import { readWorkshop } from '../../server/workshop/read';
import { permissibleError } from '../../server/workshop/verified';
import { check } from './marked';

describe('what a workshop file says', () => {
  test('a scale in one line, and in full', () => {
    const { workshop } = check(`
scales:
  bench: 0.01 g
  fine:
    division: 1 mg
    capacity: 60 g
    smallest: 0.02 g
    repeatability: 0.001 g
    tracks zero: yes
`);
    expect(workshop.declared).toBe(true);
    expect(workshop.scales.get('bench')).toMatchObject({ name: 'bench', division: decimal('0.01') });
    const fine = workshop.scales.get('fine')!;
    expect(fine.division!.toString()).toBe('0.001');
    expect(fine).toMatchObject({ repeatability: 0.001, tracksZero: true, capacity: decimal(60) });
    expect(fine.permissibleError).toBeUndefined();
  });

  test('a verified scale is held to twice the first limit, at its capacity; a stated error comes first', () => {
    const errors = (keys: string) =>
      readWorkshop('w', `scales:\n  s: { division: 0.01 g, capacity: 600 g, ${keys} }`).workshop.scales.get('s')!
        .permissibleError;
    // 600 g are 6000 intervals of 0.1 g: class II allows 1 e on first verification, 2 e in service.
    expect(errors('class: II, interval: 0.1 g, verified: yes')).toBe(0.2);
    expect(errors('class: II, interval: 0.1 g, verified: no')).toBeUndefined();
    expect(errors('class: II, verified: yes')).toBeUndefined();
    expect(errors('class: II, interval: 0.1 g, verified: yes, error: 0.03 g')).toBe(0.03);
  });

  // OIML R 76-1, table 6 (first verification), as transcribed in a student table sheet.
  test.each([
    ['II', '0.01', '50', '0.005'],
    ['II', '0.01', '50.01', '0.01'],
    ['II', '0.01', '200.01', '0.015'],
    ['III', '1', '500', '0.5'],
    ['III', '1', '501', '1'],
    ['I', '0.001', '50', '0.0005'],
    ['IIII', '5', '250', '2.5'],
  ] as const)('class %s, e = %s g, load %s g: ±%s g', (accuracy, interval, load, expected) => {
    expect(permissibleError(accuracy, decimal(interval), decimal(load)).toString()).toBe(expected);
  });

  test('tares keep their digits; the ± is a rectangle, and without it the last digit is', () => {
    const { workshop } = check(`
containers:
  tray: 38.450 g
  dish: 38.45 ±0.03 g
  unknown:
`);
    expect(workshop.containers.get('tray')!.tareGrams!.toString()).toBe('38.45');
    expect(workshop.containers.get('tray')!.tareUncertaintyGrams).toBeCloseTo(0.001 / Math.sqrt(12), 12);
    expect(workshop.containers.get('dish')!.tareUncertaintyGrams).toBeCloseTo(0.03 / Math.sqrt(3), 12);
    expect(workshop.containers.get('unknown')!.tareGrams).toBeUndefined();
  });

  test('vessels and furnaces, in any unit of theirs', () => {
    const { workshop } = check(`
crucibles:
  C4: { volume: 0.25 L, weight: 812.4 g, material: clay-graphite }
moulds:
  cone-1: 40 cm3
cupels:
  cement-3: 92 g
furnaces:
  F1: 3 kW
  F2: { power: 1800 W, highest: 2282 °F }
measures:
  spoon: 0.5 oz
`);
    expect(workshop.crucibles.get('C4')).toMatchObject({ volumeMillilitres: 250, material: 'clay-graphite' });
    expect(workshop.moulds.get('cone-1')!.volumeMillilitres).toBe(40);
    expect(workshop.cupels.get('cement-3')!.weightGrams!.toNumber()).toBe(92);
    expect(workshop.furnaces.get('F1')!.powerWatts).toBe(3000);
    expect(workshop.furnaces.get('F2')!.highestCelsius).toBe(1250);
    expect(workshop.measures.get('spoon')!.toString()).toBe('14.1747615625');
  });

  test('a material starts from a built-in one, with its own moisture', () => {
    const { workshop } = check(`
materials:
  beach-sand: black-sand
  damp-soda:
    from: soda-ash
    moisture: 10 %
    bulk density: 0.9..1.1 g/mL
    price: 4.20 USD/kg
  fritted:
    composition: { Na2B4O7: 60 %, Na2CO3: 30..40 % }
`);
    expect(workshop.materials.get('beach-sand')!.composition).toEqual(
      findMaterial(NO_WORKSHOP, 'black-sand')!.composition,
    );
    const soda = workshop.materials.get('damp-soda')!;
    expect(soda.composition).toEqual([
      { what: 'Na2CO3', fraction: 0.9 },
      { what: 'H2O', fraction: 0.1 },
    ]);
    const gas = new Map(soda.givesOff.map((of) => [of.what, of.fraction]));
    // CO2 of dry soda ash: 44.009 of 105.988.
    expect(gas.get('CO2')).toBeCloseTo(0.9 * 0.41523, 4);
    expect(gas.get('H2O')).toBe(0.1);
    expect(soda.bulkDensity).toEqual({ low: 0.9, high: 1.1 });
    expect(soda.price).toMatchObject({ currency: 'USD' });
    const fritted = workshop.materials.get('fritted')!;
    expect(fritted.group).toBe('own');
    expect(fritted.composition[1]).toEqual({ what: 'Na2CO3', fraction: 0.35, low: 0.3, high: 0.4 });
    expect(fritted.givesOff[0]!.what).toBe('CO2');
  });

  test('the own material stands before the built-in one of the same name', () => {
    const { workshop } = check('materials:\n  borax: borax-glass\n');
    expect(findMaterial(workshop, 'borax')!.composition).toEqual([{ what: 'Na2B4O7', fraction: 1 }]);
    expect(findMaterial(workshop, 'silica')!.group).toBe('flux');
    expect(findMaterial(workshop, 'silica')).toBe(findMaterial(NO_WORKSHOP, 'silica'));
    expect(findMaterial(workshop, 'grandmother')).toBeUndefined();
  });

  test('a recipe in parts, per cent or grams is taken apart by mass', () => {
    const { workshop } = check(`
recipes:
  shop-flux: { borax-glass: 5 parts, soda-ash: 2, silica: 1 part }
  cover: { borax-glass: 70 %, boric-acid: 30 % }
  jar: { borax-glass: 300 g, niter: 100 g }
`);
    const grams = (name: string) =>
      expandRecipe(workshop, name, decimal(80))!.map((part) => `${part.material} ${part.grams.toString()}`);
    expect(grams('shop-flux')).toEqual(['borax-glass 50', 'soda-ash 20', 'silica 10']);
    expect(grams('cover')).toEqual(['borax-glass 56', 'boric-acid 24']);
    expect(grams('jar')).toEqual(['borax-glass 60', 'niter 20']);
    expect(expandRecipe(workshop, 'none', decimal(80))).toBeUndefined();
    const broken = readWorkshop('w', 'recipes:\n  cover: { borax-glass: 70 %, boric-acid: }').workshop;
    expect(broken.recipes.has('cover')).toBe(true);
    expect(expandRecipe(broken, 'cover', decimal(80))).toBeUndefined();
  });

  test('parties with dated terms, the oldest first', () => {
    const { workshop } = check(`
parties:
  high-fell: customer
  harbour-refiner:
    role: refiner
    name: Harbour Refiner
    terms:
      2026-03-01:
        pays: { Au: 98.5 %, Ag: 90 % }
        less: { Au: 2 ‰ }
        charges:
          melting: 45.00 USD
          refining: 0.30 USD/g of melted
          handling: 1 % of value
        splitting: { Au: 0.15 % }
        minimum: 5 ozt
        days: 12
      2026-01-01:
        pays: { Au: 98 % }
`);
    expect(workshop.parties.get('high-fell')).toMatchObject({ role: 'customer', terms: [] });
    const [old, now] = workshop.parties.get('harbour-refiner')!.terms;
    expect(old!.from).toBe('2026-01-01');
    expect(now!.pays.get('Au')!.map(({ from, share }) => `${from} ${share}`)).toEqual(['0 0.985']);
    expect(now!.less.get('Au')!.share!.toString()).toBe('0.002');
    expect(now!.charges.get('melting')).toMatchObject({ currency: 'USD', per: undefined, of: undefined });
    expect(now!.charges.get('refining')).toMatchObject({ currency: 'USD', of: 'melted' });
    expect(now!.charges.get('handling')).toMatchObject({ currency: undefined, of: 'value' });
    expect(now!.charges.get('handling')!.amount.toString()).toBe('0.01');
    expect(now!.minimumGrams!.toString()).toBe('155.517384');
    expect(now!.days).toBe(12);
  });

  test('limits: what is not said stays as common practice has it', () => {
    const { workshop } = check(`
limits:
  coverage: 3
  closure: 0.1 %
  usual loss:
    melt: 0.4 %
    melt sweeps: 5..15 %
`);
    expect(workshop.limits.coverage).toBe(3);
    expect(workshop.limits.fill).toEqual({ low: 0.67, high: 0.75 });
    expect(workshop.limits.closure).toBe(0.001);
    expect(workshop.limits.usualLoss.get('melt')).toEqual({ low: 0, high: 0.004 });
    expect(workshop.limits.usualLoss.get('melt sweeps')).toEqual({ low: 0.05, high: 0.15 });
  });

  test('limits of running sums, and how long a crucible lasts', () => {
    const { workshop } = check(`
crucibles:
  C4: { volume: 250 mL, heats: 30, since: 2026-05-01, until: 2026-11-20 }
limits:
  cusum slack: 0.75
  cusum limit: 4
  ewma weight: 30 %
`);
    expect(workshop.crucibles.get('C4')).toMatchObject({ usualHeats: 30, since: '2026-05-01', until: '2026-11-20' });
    expect(workshop.limits).toMatchObject({ cusumSlack: 0.75, cusumLimit: 4, ewmaWeight: 0.3 });
  });

  test('an empty file, or one with bare sections, is a workshop with nothing in it', () => {
    for (const text of ['', '# nothing yet\n', 'scales:\nlimits:\n', '{}']) {
      expect(check(text).workshop).toMatchObject({ declared: true, limits: NO_WORKSHOP.limits });
    }
  });

  test('names with their places, and an outline', () => {
    const { text, names, outline } = check('shop:\n  name: Tarn End\nscales:\n  bench: 0.01 g\n  fine: 0.001 g\n');
    const slice = (of: { start: number; end: number }) => text.slice(of.start, of.end);
    expect([...names.get('scales')!].map(([name, place]) => [name, slice(place)])).toEqual([
      ['bench', 'bench'],
      ['fine', 'fine'],
    ]);
    expect(outline.map((of) => [of.section, of.names.length])).toEqual([
      ['shop', 0],
      ['scales', 2],
    ]);
    expect(slice(outline[1]!.names[0]!.whole)).toBe('bench: 0.01 g');
    expect(slice(outline[1]!.whole)).toBe('scales:\n  bench: 0.01 g\n  fine: 0.001 g');
  });

  test('the sample workshop has nothing wrong in it', () => {
    const text = readFileSync(new URL('../../samples/tarn-end/workshop.yaml', import.meta.url), 'utf8');
    const { workshop } = check(text);
    expect(workshop.scales.size).toBe(3);
    expect(workshop.recipes.get('shop-flux')!.parts).toHaveLength(3);
  });
});
