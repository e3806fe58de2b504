import { additionFor } from '../../../../server/engine/bench/alloy';
import {
  alloyDensity,
  beadByDiameter,
  heavyFraction,
  hydrostaticDensity,
  mixtureDensity,
  roundBeadGrams,
  specificGravity,
  waterKilogramsPerCubicMetre,
} from '../../../../server/engine/bench/density';
import { exactly } from '../../../../server/engine/bench/result';
import { answered, each, type Inputs, list, number, type Reckoned, span } from './given';

const METALS = ['Au', 'Ag', 'Cu', 'Zn'];
const named = (inputs: Inputs, key: (metal: string) => string, per = 1): ReadonlyMap<string, number> =>
  new Map(
    METALS.flatMap((metal) => (key(metal) in inputs ? [[metal, number(inputs, key(metal)) / per] as const] : [])),
  );

const additive = (inputs: Inputs): number =>
  answered(
    alloyDensity(
      named(inputs, (metal) => `${metal}_ppt`, 1000),
      named(inputs, (metal) => `rho_${metal}`),
    ),
  ).best;

const MILLIMETRES_PER_INCH = 25.4;

export const DENSITY: Reckoned = {
  ...each(
    span(31, 33),
    (inputs) =>
      answered(
        additionFor(
          number(inputs, 'mass_g'),
          exactly(number(inputs, 'fineness_from_ppt') / 1000),
          number(inputs, 'fineness_to_ppt') / 1000,
          number(inputs, 'addition_fineness_ppt') / 1000,
        ),
      ).addGrams.best,
  ),
  'MET-034': additive,
  'MET-035': (inputs) => {
    const densities = list<number>(inputs, 'densities');
    const masses = list<number>(inputs, 'mass_parts');
    // The source adds volumes of two decimals (see AT_SOURCE_DIGITS).
    const volumes = masses.map((mass, at) => Number((mass / densities[at]!).toFixed(2)));
    return mixtureDensity(masses.map((mass, at) => ({ mass, gramsPerCubicCentimetre: mass / volumes[at]! })));
  },
  'MET-036': (inputs) => specificGravity(number(inputs, 'weight_air_g'), number(inputs, 'weight_water_g')),
  ...each(span(37, 44), additive),
  ...each(span(45, 49), (inputs) => answered(waterKilogramsPerCubicMetre(number(inputs, 't_C')))),
  'MET-050': (inputs) =>
    answered(
      hydrostaticDensity({
        airGrams: number(inputs, 'weight_air_g'),
        waterGrams: number(inputs, 'weight_water_g'),
        celsius: number(inputs, 't_C'),
        airDensity: number(inputs, 'rho_air_g_per_cm3'),
      }),
    ).best,
  ...each(span(51, 52), (inputs) =>
    answered(heavyFraction(number(inputs, 'rho'), number(inputs, 'rho_Au'), number(inputs, 'rho_base'))),
  ),
  'MET-053': (inputs) =>
    1000 * roundBeadGrams(number(inputs, 'diameter_in') * MILLIMETRES_PER_INCH, number(inputs, 'rho')),
  'MET-054': (inputs) =>
    beadByDiameter(number(inputs, 'mass_ref_mg'), number(inputs, 'diameter_ref_in'), number(inputs, 'diameter_in')),
};
