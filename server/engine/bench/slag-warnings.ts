/** What is amiss with a slag or a charge before it is heated: the one place that judges. */
import { massFraction, molarMass } from '../../vocabulary/compounds';
import type { ChargeItem } from '../gas';
import { type DegreeAim, FULTON, USUAL_AIM } from './degree';
import { reducingPower } from './oxidation';
import { BERINGER, FROM_MEMORY } from './result';
import { type Slag, SULPHIDES, shareOf } from './slag';
import { heldInCharge } from './together';

export interface SlagWarning {
  readonly what: 'too-acid' | 'too-basic' | 'stiff' | 'ferric' | 'sulphur-unmet' | 'niter-with-fuel' | 'much-niter';
  /** Whatever of the charge is not known; else by the best values only. */
  readonly sure: boolean;
  /** What it does, as a sentence. */
  readonly says: string;
  /** What to do, as a sentence. */
  readonly cure: string;
  /** From where on it is told. */
  readonly limit: string;
  /** Where the limit is from. */
  readonly source: string;
}

/** Degrees beyond which a slag is called too acid or too basic; Beringer's own quartz charge stands at 2.3, his iron charge at 0.8. */
export const ACID_ABOVE = 2.5;
export const BASIC_BELOW = 0.7;
/** Borate share from which a slag stays fluid whatever its degree, and alumina with titania that stiffens it: from memory. */
export const BORATE_FLUID = 0.2;
const STIFFENERS = 0.2;
/** Share of the charge from which niter wants a larger crucible and slow heat: from memory, 10 to 15 %. */
const MUCH_NITER = 0.1;
/** Below this share of the charge sulphide makes no matte worth a word: a guess. */
const SULPHIDE_LEAST = 0.02;
/** Niter and fuel both above this share of the charge can run away. A guess on the safe side. */
const RUNAWAY = 0.03;
const FERRIC_LEAST = 0.05;

/** A slag misses the degree that was chosen for it by more than this factor: a guess, as narrow as a shop's weights and makes allow. */
const MISSED_BY = 1.25;

/** Warnings on a charge and the slag that it makes, the gravest first. Where a degree was chosen the slag is held against that. */
export const slagWarnings = (
  slag: Slag,
  charge: readonly ChargeItem[],
  aim: DegreeAim = USUAL_AIM,
): readonly SlagWarning[] => [
  ...chargeWarnings(charge),
  ...(aim.chosen ? [...missedWarnings(slag, aim), ...chosenFluidity(slag, aim)] : fluidityWarnings(slag)),
  ...ferricWarnings(charge),
];

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

const gramsOf = (charge: readonly ChargeItem[]): number => charge.reduce((sum, { massGrams }) => sum + massGrams, 0);

/** What fuels, oxidises and takes sulphur in a charge, as shares of its mass by the best values. */
export function sharesOf(charge: readonly ChargeItem[]): Shares {
  const whole = gramsOf(charge);
  const share = (which: ReadonlySet<string>): number =>
    whole > 0 ? charge.reduce((sum, item) => sum + item.massGrams * shareOf(item.material, which), 0) / whole : 0;
  const [niter, carbon, sulphide] = [share(NITERS), share(CARBON), share(SULPHIDES)];
  const fuel = carbon + sulphide + share(SULPHUR);
  return { niter, carbon, sulphide, fuel, takesSulphur: niter + share(IRON), ferric: share(FERRIC) };
}

const percent = (share: number): string => `${Math.round(100 * share)} %`;

/** Oxides that give lead up, with their share of it. */
const LITHARGE: readonly (readonly [ReadonlySet<string>, number])[] = ['PbO', 'Pb3O4'].map((oxide) => [
  new Set([oxide]),
  massFraction(oxide, 'Pb'),
]);

/**
 * Litharge enough for the sulphides of a charge: its lead is more than they bring down, each by its reducing power. So ores are assayed with litharge
 * in excess (Beringer & Beringer 1904).
 */
export const isBurntByLitharge = (charge: readonly ChargeItem[]): boolean => {
  const lead = charge.reduce(
    (sum, { material, massGrams }) =>
      sum + massGrams * LITHARGE.reduce((so, [oxide, share]) => so + share * shareOf(material, oxide), 0),
    0,
  );
  return lead > 0 && lead > leadBySulphides(charge);
};

/** Lead that the sulphides of a charge bring down out of litharge, g, best value. What is in no table counts as galena does. */
export const leadBySulphides = (charge: readonly ChargeItem[]): number =>
  heldInCharge(charge, (what) =>
    SULPHIDES.has(what) ? (reducingPower(what) ?? reducingPower('PbS')!).leadPerGram.best : 0,
  ).best;

/** What niter and sulphide do in a charge, whatever slag it makes. */
export function chargeWarnings(charge: readonly ChargeItem[]): readonly SlagWarning[] {
  const { niter, fuel, sulphide, takesSulphur } = sharesOf(charge);
  const found: SlagWarning[] = [];
  const runsAway = niter > RUNAWAY && fuel > RUNAWAY;
  if (niter > 0 && fuel > 0)
    found.push({
      what: 'niter-with-fuel',
      sure: runsAway,
      says: runsAway
        ? `${percent(niter)} of the charge is niter and ${percent(fuel)} sulphide or carbon: together they can run away.`
        : 'Niter deflagrates with sulphide and carbon.',
      cure: 'Roast first; else charge small amounts one after another, never ground together, the crucible under half full, and heat slowly.',
      limit: `more than ${percent(RUNAWAY)} of each can run away`,
      source: `deflagration: ${BERINGER}; how much: a guess on the safe side, ${FROM_MEMORY}`,
    });
  if (niter > MUCH_NITER)
    found.push({
      what: 'much-niter',
      sure: true,
      says: `${percent(niter)} of the charge is niter.`,
      cure: 'Take a larger crucible and heat slowly.',
      limit: `more than ${percent(MUCH_NITER)} of niter is much`,
      source: FROM_MEMORY,
    });
  if (sulphide > SULPHIDE_LEAST && takesSulphur === 0 && !isBurntByLitharge(charge)) {
    const { low } = heldInCharge(charge, (what) => (SULPHIDES.has(what) ? 1 : 0));
    found.push({
      what: 'sulphur-unmet',
      sure: low > SULPHIDE_LEAST * gramsOf(charge),
      says: 'Nothing in the charge takes up the sulphur: a matte will form and hold gold.',
      cure: 'Roast the feed dead, or add niter or iron.',
      limit: `from ${percent(SULPHIDE_LEAST)} of sulphides on there is a matte`,
      source: `${BERINGER}; how much: a guess`,
    });
  }
  return found;
}

function missedWarnings(slag: Slag, { degree: { low, best, high } }: DegreeAim): readonly SlagWarning[] {
  const { degree, acidOxygen } = slag;
  const sure = surely(slag);
  const wanted = low < high ? `${low} to ${high}` : `${best}`;
  const told = (
    what: 'too-acid' | 'too-basic',
    more: string,
    cure: string,
    isSure: boolean,
  ): readonly SlagWarning[] => [
    {
      what,
      sure: isSure,
      says: `The slag is more ${more} than it is to be (silicate degree ${degree ? degree.best.toFixed(1) : 'without a base'}, ${wanted} wanted).`,
      cure,
      limit: `told where the degree is off by more than a quarter of it, whatever of the charge is not known`,
      source: 'a guess',
    },
  ];
  if (degree ? degree.best > high * MISSED_BY : acidOxygen.best > 0)
    return told('too-acid', 'acid', 'Add soda ash.', sure.low > high);
  if (degree && degree.best < low / MISSED_BY) return told('too-basic', 'basic', 'Add silica.', sure.high < low);
  return [];
}

/** What a slag of a chosen degree does is good to know; it was chosen. */
const chosenFluidity = (slag: Slag, { degree }: DegreeAim): readonly SlagWarning[] => {
  const isOutside = degree.high > ACID_ABOVE || degree.low < BASIC_BELOW;
  return fluidityWarnings(slag).flatMap((one) => {
    if (one.what === 'stiff') return [one];
    return isOutside ? [{ ...one, sure: false }] : [];
  });
};

function fluidityWarnings(slag: Slag): readonly SlagWarning[] {
  const found: SlagWarning[] = [];
  const { degree, acidOxygen } = slag;
  const sure = surely(slag);
  const isFluid = slag.borateFraction >= BORATE_FLUID;
  const figure = degree ? degree.best.toFixed(1) : 'without a base';
  if (!isFluid && (degree ? degree.best > ACID_ABOVE : acidOxygen.best > 0))
    found.push({
      what: 'too-acid',
      sure: sure.low > ACID_ABOVE,
      says: `The slag is too acid (silicate degree ${figure}, ${ACID_ABOVE} at most): stiff, and it holds prills.`,
      cure: 'Add soda ash, or borax.',
      limit: `stiff above a degree of ${ACID_ABOVE}, unless a fifth of it is borate`,
      source: `${FULTON}; the bound ${FROM_MEMORY}`,
    });
  if (!isFluid && degree && degree.best < BASIC_BELOW)
    found.push({
      what: 'too-basic',
      sure: sure.high < BASIC_BELOW,
      says: `The slag is too basic (silicate degree ${figure}, ${BASIC_BELOW} at least): it eats the crucible.`,
      cure: 'Add silica, or more glass or borax.',
      limit: `it eats the crucible below a degree of ${BASIC_BELOW}`,
      source: `${FULTON}; the bound ${FROM_MEMORY}`,
    });
  const [likely, least] = [stiffShare(slag, 'best'), stiffShare(slag, 'low')];
  if (!isFluid && likely > STIFFENERS)
    found.push({
      what: 'stiff',
      sure: least > STIFFENERS,
      says: `${least > STIFFENERS ? 'At least' : 'About'} ${percent(least > STIFFENERS ? least : likely)} of the slag is alumina and titania: stiff, and it holds prills.`,
      cure: 'Add borax until a quarter of the slag is borax glass and more, a little fluorspar, and heat.',
      limit: `stiff from ${percent(STIFFENERS)} alumina and titania on`,
      source: FROM_MEMORY,
    });
  return found;
}

function ferricWarnings(charge: readonly ChargeItem[]): readonly SlagWarning[] {
  const { ferric, carbon } = sharesOf(charge);
  if (!(ferric > FERRIC_LEAST && carbon === 0)) return [];
  return [
    {
      what: 'ferric',
      sure: true,
      says: 'Ferric oxide is hard to slag as it is, and gold may stay in it.',
      cure: 'Add a little charcoal or flour to bring it to the lower oxide.',
      limit: `from ${percent(FERRIC_LEAST)} of the charge on, without carbon`,
      source: `${BERINGER}; the bound ${FROM_MEMORY}`,
    },
  ];
}

/** Degree with what is not known taken for lime at the one end and for silica at the other. */
const surely = ({
  degree,
  acidOxygen,
  baseOxygen,
  unknownGrams,
}: Slag): { readonly low: number; readonly high: number } => {
  const lime = unknownGrams / molarMass('CaO');
  const silica = (2 * unknownGrams) / molarMass('SiO2');
  const ratio = (acid: number, base: number): number =>
    base > 0 ? acid / base : acid > 0 ? Number.POSITIVE_INFINITY : 0;
  return {
    low: Math.min(degree?.low ?? Number.POSITIVE_INFINITY, ratio(acidOxygen.low, baseOxygen.high + lime)),
    high: Math.max(
      degree && Number.isFinite(degree.high) ? degree.high : 0,
      ratio(acidOxygen.high + silica, baseOxygen.low),
    ),
  };
};

const stiffShare = ({ oxideGrams, grams }: Slag, end: 'best' | 'low'): number => {
  const whole = end === 'best' ? grams.best : grams.high;
  const stiff = (oxideGrams.get('Al2O3')?.[end] ?? 0) + (oxideGrams.get('TiO2')?.[end] ?? 0);
  return whole > 0 ? stiff / whole : 0;
};
