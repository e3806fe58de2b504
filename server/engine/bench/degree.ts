/** What to add to a charge so that its slag comes to a wanted silicate degree. */
import { molarMass } from '../../vocabulary/compounds';
import { material } from '../../vocabulary/materials';
import type { ChargeItem } from '../gas';
import { answer, assume, type Estimate, noAnswer, type Result, times } from './result';
import { pureItem, type Slag, slagOf } from './slag';

export const FULTON =
  'mono- to sesquisilicate preferred, more rarely bisilicate: C. H. Fulton, A Manual of Fire Assaying';

/** Preferred degrees of an assay slag. */
export const PREFERRED_DEGREE: Estimate = { low: 1, best: 1.5, high: 2 };

/** The silicate degree that a slag is to have, and who says so. */
export interface DegreeAim {
  readonly degree: Estimate;
  readonly source: string;
  /** Somebody chose it; else it is what runs well. */
  readonly chosen: boolean;
}

export const USUAL_AIM: DegreeAim = { degree: PREFERRED_DEGREE, source: FULTON, chosen: false };

/** Degrees that a slag can be made to: that of borax glass alone is the highest. */
export const DEGREES = { low: 0.1, high: 6 };

export interface Adjustment {
  /** One of the two is above 0, or neither: the slag is too basic, or too acid, or right. g. */
  readonly silicaGrams: Estimate;
  readonly sodaAshGrams: Estimate;
  /** The same soda as bicarbonate, g. */
  readonly bicarbonateGrams: Estimate;
}

/**
 * Silica or soda for a silicate degree K: SiO2 = 60.08 (K × base − acid)/2 g, or soda ash = 105.99 (acid/K − base) g,
 * with acid and base in mol of oxygen. The bounds come from what is not known of the charge.
 */
export function adjustTo(slag: Slag, degree: number): Result<Adjustment> {
  if (!(degree > 0)) return noAnswer('the silicate degree must be above 0');
  const { acidOxygen: acid, baseOxygen: base } = slag;
  const silica = (has: number, needs: number): number => Math.max(0, (molarMass('SiO2') * (degree * needs - has)) / 2);
  const soda = (has: number, needs: number): number => Math.max(0, molarMass('Na2CO3') * (has / degree - needs));
  const silicaGrams = spread(silica(acid.best, base.best), silica(acid.high, base.low), silica(acid.low, base.high));
  const sodaAshGrams = spread(soda(acid.best, base.best), soda(acid.low, base.high), soda(acid.high, base.low));
  return answer({ silicaGrams, sodaAshGrams, bicarbonateGrams: times(sodaAshGrams, BICARBONATE_PER_ASH) }, [
    ...slag.assumed,
    assume(`a slag of silicate degree ${degree}`, 'as asked'),
  ]);
}

const spread = (best: number, low: number, high: number): Estimate => ({ best, low, high });

/** Bicarbonate that does the work of 1 g soda ash, g. */
export const BICARBONATE_PER_ASH = (2 * molarMass('NaHCO3')) / molarMass('Na2CO3');

/** Soda ash that makes sodium silicate of so much silica, g, at a silicate degree: 1.76 g/g at 2. */
export function sodaAshForSilica(silicaGrams: number, degree = 2): number {
  return adjustTo(slagOf([pureItem('SiO2', silicaGrams)]), degree).value?.sodaAshGrams.best ?? 0;
}

/** Silica that borax glass stands for at a degree K, g: (6 − K)/2 mol for a mol, since it brings six acid oxygens and a base. */
export function silicaOfBoraxGlass(boraxGlassGrams: number, degree: number): number {
  return freeSilica([pureItem('Na2B4O7', boraxGlassGrams)], degree);
}

/** Silica that a flux has over for the bases of others at a degree K, g; below 0 when it wants silica itself. */
function freeSilica(flux: readonly ChargeItem[], degree: number): number {
  const { acidOxygen, baseOxygen } = slagOf(flux);
  return (molarMass('SiO2') * (acidOxygen.best - degree * baseOxygen.best)) / 2;
}

/** Crushed soda-lime glass in place of so much silica, g; no answer at a degree where glass has no silica to spare. */
export function glassForSilica(silicaGrams: number, degree: number): Result<number> {
  const glass = material('glass');
  const spare = glass ? freeSilica([{ material: glass, massGrams: 1, u: 0 }], degree) : 0;
  if (spare <= 0.05) return noAnswer('glass has no silica to spare at that silicate degree');
  return answer(silicaGrams / spare, [assume('container glass', 'published soda-lime glass table')]);
}
