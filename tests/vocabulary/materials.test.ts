import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { massFraction, molarMass, parseFormula } from '../../server/vocabulary/compounds';
import { ELEMENTS, element } from '../../server/vocabulary/elements';
import { givesOffOf, MATERIALS, type MaterialRow, material, ofRange } from '../../server/vocabulary/materials';
import { materialMeaning } from '../../server/vocabulary/materials/told';
import figures from '../fixtures/metallurgy/gas.json';
import library from '../fixtures/metallurgy/molar-masses.json';

const OXYGEN = molarMass('O');
const LEAD = molarMass('Pb');

describe('elements', () => {
  test('all 118 have their own symbol and stand at their number', () => {
    expect(new Set(ELEMENTS.map((row) => row.symbol)).size).toBe(118);
    expect(ELEMENTS.map((row) => row.number)).toEqual(Array.from({ length: 118 }, (_, at) => at + 1));
    expect(element('Au')?.name).toBe('gold');
    expect(element('AU')).toBeUndefined();
  });

  test('every figure has its source and is above nought', () => {
    for (const row of ELEMENTS) {
      for (const figure of [row.weight, row.density, row.meltsAtC, row.boilsAtC]) {
        if (figure) expect(figure.source, row.symbol).not.toBe('');
        if (figure) expect(figure.value, row.symbol).toBeGreaterThan(0);
      }
    }
  });

  test.each(Object.entries(figures.densities.rows))('density of %s', (symbol, density) => {
    expect(element(symbol)?.density?.value).toBe(density);
  });

  test.each(Object.entries(figures.meltingPoints.rows))('melting point of %s', (symbol, celsius) => {
    expect(element(symbol)?.meltsAtC?.value).toBe(celsius);
  });

  test.each(figures.atomicWeights)('$quantity $inputs', ({ inputs, expected, tolerance }) => {
    near(molarMass((inputs.element ?? inputs.formula)!), expected, tolerance);
  });
});

describe('formulas', () => {
  test('brackets, hydrates and their several dots', () => {
    expect(atoms('Ca3(PO4)2')).toEqual({ Ca: 3, P: 2, O: 8 });
    expect(atoms('K[Au(CN)2]')).toEqual({ K: 1, Au: 1, C: 2, N: 2 });
    for (const dot of '·•.*') expect(atoms(`Na2B4O7${dot}10H2O`)).toEqual({ Na: 2, B: 4, O: 17, H: 20 });
  });

  test.each([
    '',
    'gold',
    'Xx',
    'Na2CO',
    'Na2CO3)',
    '(Na',
    'Na0',
    '2',
    'Na2CO3·',
    '()',
    '(Na]',
    'Na99999',
    'na',
    'O-',
    'Fm',
  ])('is %s a formula', (text) => {
    if (text === 'Na2CO') expect(parseFormula(text)).toBeDefined();
    else expect(parseFormula(text)).toBeUndefined();
  });

  test('no text makes it throw or run away', () => {
    fc.assert(
      fc.property(fc.string({ unit: fc.constantFrom(...'NaClO(2)[]·.3HS') }), (text) => void parseFormula(text)),
    );
    expect(parseFormula('('.repeat(100_000))).toBeUndefined();
    expect(parseFormula(`${'('.repeat(5000)}Na${')'.repeat(5000)}`)).toBeDefined();
  });

  test('the shares of the elements sum to 1', () => {
    for (const formula of Object.keys(library.rows)) {
      const symbols = [...parseFormula(formula)!.keys()];
      near(sum(symbols.map((symbol) => massFraction(formula, symbol))), 1, 1e-12);
    }
  });

  test.each(Object.entries(library.rows))('%s weighs what an independent library says', (formula, grams) => {
    near(molarMass(formula) / grams, 1, 1e-4);
  });

  test('the list of the independent library leaves out no compound of the materials', () => {
    const used = MATERIALS.flatMap((row) => row.composition.map((constituent) => constituent.what));
    const compounds = used.filter((what) => what.length > 2);
    expect(compounds.filter((what) => !(what in library.rows))).toEqual([]);
  });

  test.each(figures.oxideRatios)('$quantity $inputs', ({ inputs, expected, tolerance }) => {
    const [metal, oxide] = [inputs.metal ?? 'Fe', inputs.oxide ?? 'Fe2O3'];
    near(1 / massFraction(oxide, metal), expected, tolerance);
  });

  test.each([
    ['HNO3 for silver, dilute', 0, () => (4 * molarMass('HNO3')) / (3 * molarMass('Ag'))],
    ['HNO3 for silver, strong', 1, () => (2 * molarMass('HNO3')) / molarMass('Ag')],
    ['HNO3 for copper, dilute', 2, () => (8 * molarMass('HNO3')) / (3 * molarMass('Cu'))],
    ['HNO3 for copper, strong', 3, () => (4 * molarMass('HNO3')) / molarMass('Cu')],
    ['silver in its chloride', 4, () => massFraction('AgCl', 'Ag')],
    ['salt for 100 g silver', 5, () => (100 * molarMass('NaCl')) / molarMass('Ag')],
    ['nitrate from 100 g silver', 6, () => (100 * molarMass('AgNO3')) / molarMass('Ag')],
  ])('%s', (_, at, computed) => {
    near(computed(), figures.silver[at]!.expected, figures.silver[at]!.tolerance);
  });

  test.each([
    ['bicarbonate for 1 g soda ash', 2, () => (2 * molarMass('NaHCO3')) / molarMass('Na2CO3')],
    ['limestone for 1 g lime', 6, () => molarMass('CaCO3') / molarMass('CaO')],
    ['soda ash for 50 g silica', 8, () => (50 * molarMass('Na2CO3')) / molarMass('SiO2')],
    ['bicarbonate for 50 g silica', 9, () => (50 * 2 * molarMass('NaHCO3')) / molarMass('SiO2')],
  ])('%s', (_, at, computed) => {
    near(computed(), figures.waterAndCarbonate[at]!.expected, figures.waterAndCarbonate[at]!.tolerance);
  });

  test.each([
    ['lead by carbon', 2, () => (2 * LEAD) / molarMass('C')],
    ['lead oxidised by niter', 4, () => (2.5 * LEAD) / molarMass('KNO3')],
    ['niter for pyrite', 5, () => (7.5 * molarMass('KNO3')) / (2.5 * molarMass('FeS2'))],
  ])('%s', (_, at, computed) => {
    near(computed(), figures.oxygen[at]!.expected as number, figures.oxygen[at]!.tolerance);
  });
});

describe('materials', () => {
  test('each name is in kebab case and given once', () => {
    const names = MATERIALS.map((row) => row.name);
    expect(new Set(names).size).toBe(names.length);
    for (const name of names) expect(name).toMatch(/^[a-z]+(-[a-z]+)*$/);
    expect(material('soda-ash')?.group).toBe('flux');
    expect(material('Soda-Ash')).toBeUndefined();
  });

  test.each(MATERIALS.map((row) => [row.name, row] as const))('%s adds up, or says what is open', (_, row) => {
    const whole = sum(row.composition.map((constituent) => constituent.fraction));
    if (row.open) expect(whole).toBeLessThan(1);
    else near(whole, 1, 1e-9);
    expect(materialMeaning(row.name)).not.toBe('');
    expect(row.source).not.toBe('');
  });

  test.each(MATERIALS.map((row) => [row.name, row] as const))('%s keeps its ranges in order', (_, row) => {
    for (const { what, fraction, low = fraction, high = fraction } of [...row.composition, ...row.givesOff]) {
      expect(parseFormula(what), what).toBeDefined();
      expect(low).toBeGreaterThanOrEqual(0);
      expect(low).toBeLessThanOrEqual(fraction);
      expect(fraction).toBeLessThanOrEqual(high);
      expect(high).toBeLessThanOrEqual(1);
    }
    expect(sum(row.givesOff.map((gas) => gas.fraction))).toBeLessThanOrEqual(1 + 1e-9);
    for (const density of [row.bulkDensity, row.meltDensity]) {
      if (density) expect(density.low).toBeLessThanOrEqual(density.high);
      if (density) expect(density.source).not.toBe('');
    }
  });

  test('an ambiguous name points at names that are not', () => {
    const ambiguous = MATERIALS.filter((row) => row.ambiguous);
    expect(ambiguous.map((row) => row.name)).toEqual(['borax', 'lime', 'solder']);
    for (const row of ambiguous) {
      for (const name of row.ambiguous!.means) expect(material(name)?.ambiguous, name).toBeUndefined();
      for (const name of row.ambiguous!.means) expect(material(name), name).toBeDefined();
    }
  });

  test('borax crystals do the work of half as much borax glass: the factor is 1.9', () => {
    near(molarMass('Na2B4O7·10H2O') / molarMass('Na2B4O7'), 1.9, 0.01);
  });

  test.each(figures.givenOff.rows)(
    '$material gives off $what $fraction',
    ({ material: name, what, fraction, tolerance }) => {
      near(given(material(name)!, what), fraction, tolerance);
    },
  );

  test.each(['silica', 'litharge', 'fluorspar', 'glass', 'borax-glass', 'gold', 'silver', 'copper', 'magnesia'])(
    '%s gives nothing off',
    (name) => expect(material(name)!.givesOff).toEqual([]),
  );

  test.each([
    ['charcoal', 0],
    ['flour', 1],
  ])('%s takes the oxygen of the lead that it brought down', (name, at) => {
    const taken = material(name)!.takesOxygen!;
    near((taken.practical * LEAD) / OXYGEN, figures.oxygen[at]!.expected as number, figures.oxygen[at]!.tolerance);
    expect(taken.theory).toBeGreaterThan(taken.practical);
  });

  test('what a workshop mixes gives off what its parts give off', () => {
    const [water, carbonDioxide] = givesOffOf([
      { what: 'Na2B4O7.10H2O', fraction: 0.5 },
      { what: 'Na2CO3', fraction: 0.5 },
    ]);
    near(water!.fraction, 0.472385 / 2, 1e-6);
    near(carbonDioxide!.fraction, 0.415228 / 2, 1e-6);
    expect(givesOffOf([{ what: 'grandmother', fraction: 1 }])).toEqual([]);
    expect(ofRange('SiO2', 0.2, 0.4)).toEqual({ what: 'SiO2', fraction: 0.30000000000000004, low: 0.2, high: 0.4 });
  });
});

function given(row: MaterialRow, what: string): number {
  return sum(row.givesOff.filter((gas) => [gas.what, gas.when, 'all'].includes(what)).map((gas) => gas.fraction));
}

function atoms(formula: string): Record<string, number> {
  return Object.fromEntries(parseFormula(formula)!);
}

function near(found: number, expected: number, tolerance: number): void {
  expect(Math.abs(found - expected), `${found} against ${expected}`).toBeLessThanOrEqual(tolerance);
}

const sum = (numbers: readonly number[]): number => numbers.reduce((total, number) => total + number, 0);
