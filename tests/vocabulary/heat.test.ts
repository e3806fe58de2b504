import { describe, expect, test } from 'vitest';
import { molarMass } from '../../server/vocabulary/compounds';
import { givesOffOf, oxygenTakenBy, oxygenToCarbon, oxygenToSlag } from '../../server/vocabulary/materials';
import figures from '../fixtures/metallurgy/gas.json';

/** So many moles of each formula. */
type Moles = Readonly<Record<string, number>>;

const pure = (what: string) => [{ what, fraction: 1 }];
const grams = (moles: Moles): number =>
  Object.entries(moles).reduce((sum, [formula, number]) => sum + number * molarMass(formula), 0);

// Nothing is lost between a substance, what stays of it and what leaves. Equations from memory.
describe('what stays and what leaves is what was charged', () => {
  const cases: [string, number, Moles][] = [
    ['Na2B4O7·10H2O', 1, { Na2B4O7: 1 }],
    ['Na2B4O7·5H2O', 1, { Na2B4O7: 1 }],
    ['H3BO3', 2, { B2O3: 1 }],
    ['Na2CO3', 1, { Na2O: 1 }],
    ['Na2CO3·10H2O', 1, { Na2O: 1 }],
    ['NaHCO3', 2, { Na2O: 1 }],
    ['K2CO3', 1, { K2O: 1 }],
    ['CaCO3', 1, { CaO: 1 }],
    ['MgCO3', 1, { MgO: 1 }],
    ['Ca(OH)2', 1, { CaO: 1 }],
    ['Mg(OH)2', 1, { MgO: 1 }],
    ['FeOOH', 2, { Fe2O3: 1 }],
    ['NaOH', 2, { Na2O: 1 }],
    ['KNO3', 2, { K2O: 1 }],
    ['NaNO3', 2, { Na2O: 1 }],
    ['Pb3O4', 1, { PbO: 3 }],
    ['MnO2', 1, { MnO: 1 }],
    ['Ag2O', 1, { Ag: 2 }],
    ['FeS2', 1, { FeS: 1 }],
    ['KHC4H4O6', 2, { K2O: 1 }],
    ['C6H10O5', 1, {}],
    ['C12H22O11', 1, {}],
    ['C', 1, {}],
    ['NH4Cl', 1, {}],
    ['H2O', 1, {}],
  ];
  test.each(cases)('%s', (formula, moles, stays) => {
    const leaves = givesOffOf(pure(formula)).reduce((sum, gas) => sum + gas.fraction, 0);
    near(leaves, 1 - grams(stays) / grams({ [formula]: moles }));
  });
});

describe('oxygen given to carbon is what the lower oxide or the metal has lost', () => {
  const cases: [string, number, Moles][] = [
    ['PbO', 1, { Pb: 1 }],
    ['Pb3O4', 1, { Pb: 3 }],
    ['Fe2O3', 1, { FeO: 2 }],
    ['Fe3O4', 1, { FeO: 3 }],
    ['CuO', 1, { Cu: 1 }],
    ['Cu2O', 1, { Cu: 2 }],
    ['MnO2', 1, { MnO: 1 }],
  ];
  test.each(cases)('%s', (oxide, moles, stays) => {
    near(oxygenToCarbon(pure(oxide)), 1 - grams(stays) / grams({ [oxide]: moles }));
  });

  test('rust, once its water is gone, as ferric oxide', () => {
    near(oxygenToCarbon(pure('FeOOH')), (grams({ Fe2O3: 1 }) - grams({ FeO: 2 })) / grams({ FeOOH: 2 }));
  });

  test.each(['KNO3', 'NaNO3'])('%s: all that is not nitrogen or alkali', (niter) => {
    const alkali = niter === 'KNO3' ? 'K2O' : 'Na2O';
    near(oxygenToCarbon(pure(niter)), 1 - grams({ [alkali]: 1, N2: 1 }) / grams({ [niter]: 2 }));
  });
});

describe('oxygen taken into the slag', () => {
  test.each([
    ['Cu', 'Cu2O'],
    ['Pb', 'PbO'],
    ['Zn', 'ZnO'],
    ['Sn', 'SnO2'],
    ['Ni', 'NiO'],
  ])('%s as %s', (metal, oxide) => {
    const { expected, tolerance } = figures.oxideRatios.find((row) => row.inputs.oxide === oxide)!;
    near(1 + oxygenToSlag(pure(metal)), expected, tolerance);
  });

  test('iron and aluminium, by formula', () => {
    near(1 + oxygenToSlag(pure('Fe')), grams({ FeO: 1 }) / grams({ Fe: 1 }));
    near(1 + oxygenToSlag(pure('Al')), grams({ Al2O3: 1 }) / grams({ Al: 2 }));
  });

  test('sulphides to sulphate, pyrite to ferric oxide besides', () => {
    near(1 + oxygenToSlag(pure('PbS')), grams({ PbSO4: 1 }) / grams({ PbS: 1 }));
    near(1 + oxygenToSlag(pure('ZnS')), grams({ ZnSO4: 1 }) / grams({ ZnS: 1 }));
    near(1 + oxygenToSlag(pure('FeS2')), grams({ Fe2O3: 1, SO3: 4 }) / grams({ FeS2: 2 }));
  });

  test('gold and silver take none', () => {
    expect(oxygenToSlag(pure('Au')) + oxygenToSlag(pure('Ag'))).toBe(0);
  });
});

describe('oxygen to burn is what the burnt gas has more than the fuel', () => {
  const cases: [string, number, Moles][] = [
    ['C', 1, { CO2: 1 }],
    ['C6H10O5', 1, { CO2: 6, H2O: 5 }],
    ['C12H22O11', 1, { CO2: 12, H2O: 11 }],
    ['KHC4H4O6', 2, { K2CO3: 1, CO2: 7, H2O: 5 }],
  ];
  test.each(cases)('%s', (fuel, moles, burnt) => {
    near(oxygenTakenBy(pure(fuel))!.theory, grams(burnt) / grams({ [fuel]: moles }) - 1);
  });

  test('sand does not burn', () => expect(oxygenTakenBy(pure('SiO2'))).toBeUndefined());
});

function near(found: number, expected: number, tolerance = 1e-9): void {
  expect(Math.abs(found - expected), `${found} against ${expected}`).toBeLessThanOrEqual(tolerance);
}
