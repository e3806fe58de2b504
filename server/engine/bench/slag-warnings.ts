/** What is amiss with a slag or a charge before it is heated. */
import type { ChargeItem } from '../gas';
import { BERINGER, FROM_MEMORY } from './result';
import { type Slag, SULPHIDES, shareOf } from './slag';

export interface SlagWarning {
  readonly what: 'too-acid' | 'too-basic' | 'stiff' | 'ferric' | 'sulphur-unmet' | 'niter-with-fuel' | 'much-niter';
  /** What it does, as a sentence. */
  readonly says: string;
  /** What to do, as a sentence. */
  readonly cure: string;
  /** Where the threshold is from. */
  readonly source: string;
}

export const FULTON =
  'mono- to sesquisilicate preferred, more rarely bisilicate: C. H. Fulton, A Manual of Fire Assaying';

/** Degrees beyond which a slag is called too acid or too basic; Beringer's own quartz charge stands at 2.3, his iron charge at 0.8. */
export const ACID_ABOVE = 2.5;
export const BASIC_BELOW = 0.7;
/** Borate share from which a slag stays fluid whatever its degree, and alumina with titania that stiffens it: from memory. */
export const BORATE_FLUID = 0.2;
export const STIFFENERS = 0.2;
/** Share of the charge from which niter wants a larger crucible and slow heat: from memory, 10 to 15 %. */
const MUCH_NITER = 0.1;
/** Below this share of the charge sulphide makes no matte worth a word: a guess. */
export const SULPHIDE_LEAST = 0.02;
/** Niter and fuel both above this share of the charge can run away. A guess on the safe side. */
export const RUNAWAY = 0.03;

/** Warnings on a charge and the slag that it makes, the gravest first. */
export function slagWarnings(slag: Slag, charge: readonly ChargeItem[]): SlagWarning[] {
  const shares = sharesOf(charge);
  return [...chargeWarnings(shares), ...fluidityWarnings(slag, shares)];
}

export interface Shares {
  readonly niter: number;
  readonly fuel: number;
  readonly sulphide: number;
  readonly takesSulphur: number;
  readonly ferric: number;
  readonly carbon: number;
}

const NITERS: ReadonlySet<string> = new Set(['KNO3', 'NaNO3']);
const CARBON: ReadonlySet<string> = new Set(['C', 'C6H10O5', 'C12H22O11', 'KHC4H4O6']);
const IRON: ReadonlySet<string> = new Set(['Fe']);
const FERRIC: ReadonlySet<string> = new Set(['Fe2O3', 'Fe3O4', 'FeOOH']);
const SULPHUR: ReadonlySet<string> = new Set(['S']);

/** What fuels, oxidises and takes sulphur in a charge, as shares of its mass by the best values. */
export function sharesOf(charge: readonly ChargeItem[]): Shares {
  const whole = charge.reduce((sum, { massGrams }) => sum + massGrams, 0);
  const share = (which: ReadonlySet<string>): number =>
    whole > 0 ? charge.reduce((sum, item) => sum + item.massGrams * shareOf(item.material, which), 0) / whole : 0;
  const [niter, carbon, sulphide] = [share(NITERS), share(CARBON), share(SULPHIDES)];
  const fuel = carbon + sulphide + share(SULPHUR);
  return { niter, carbon, sulphide, fuel, takesSulphur: niter + share(IRON), ferric: share(FERRIC) };
}

function chargeWarnings({ niter, fuel, sulphide, takesSulphur }: Shares): SlagWarning[] {
  const found: SlagWarning[] = [];
  if (niter > 0 && fuel > 0)
    found.push({
      what: 'niter-with-fuel',
      says:
        niter > RUNAWAY && fuel > RUNAWAY
          ? 'So much niter with sulphide or carbon can run away.'
          : 'Niter deflagrates with sulphide and carbon.',
      cure: 'Mix small amounts, never grind them together, fill the crucible under half and heat slowly.',
      source: `deflagration: ${BERINGER}; how much: ${FROM_MEMORY}`,
    });
  if (niter > MUCH_NITER)
    found.push({
      what: 'much-niter',
      says: 'More than a tenth of the charge is niter.',
      cure: 'Take a larger crucible and heat slowly.',
      source: FROM_MEMORY,
    });
  if (sulphide > SULPHIDE_LEAST && takesSulphur === 0)
    found.push({
      what: 'sulphur-unmet',
      says: 'Nothing in the charge takes up the sulphur: a matte will form and hold gold.',
      cure: 'Roast the feed dead, or add niter or iron.',
      source: BERINGER,
    });
  return found;
}

function fluidityWarnings(slag: Slag, { ferric, carbon }: Shares): SlagWarning[] {
  const found: SlagWarning[] = [];
  const degree = slag.degree?.best;
  const borate = slag.borateFraction >= BORATE_FLUID;
  if (!borate && (degree === undefined ? slag.acidOxygen.best > 0 : degree > ACID_ABOVE))
    found.push({
      what: 'too-acid',
      says: 'The slag is too acid: stiff, and it holds prills.',
      cure: 'Add soda.',
      source: FULTON,
    });
  if (degree !== undefined && degree < BASIC_BELOW && !borate)
    found.push({
      what: 'too-basic',
      says: 'The slag is too basic: it eats the crucible.',
      cure: 'Add silica, glass or borax.',
      source: FULTON,
    });
  if (ferric > 0.05 && carbon === 0)
    found.push({
      what: 'ferric',
      says: 'Ferric oxide is hard to slag as it is.',
      cure: 'Add a little charcoal or flour to bring it to the lower oxide.',
      source: BERINGER,
    });
  if (stiffeners(slag) > STIFFENERS)
    found.push({
      what: 'stiff',
      says: 'Alumina and titania make the slag stiff.',
      cure: 'Add borax, a little fluorspar, and heat.',
      source: FROM_MEMORY,
    });
  return found;
}

function stiffeners({ oxideGrams, grams }: Slag): number {
  const stiff = (oxideGrams.get('Al2O3')?.best ?? 0) + (oxideGrams.get('TiO2')?.best ?? 0);
  return grams.best > 0 ? stiff / grams.best : 0;
}
