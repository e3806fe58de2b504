/** The slag that a charge makes: its oxides, its silicate degree, what it weighs. */
import { molarMass } from '../../vocabulary/compounds';
import type { MaterialLike } from '../../vocabulary/materials';
import type { ChargeItem } from '../gas';
import { type Salt, saltOf } from './chloride';
import { type Assumption, ATOMIC_WEIGHTS, assume, type Estimate, exactly, FROM_MEMORY } from './result';
import { OXIDES, yieldsOf } from './slag-oxides';
import { heldInCharge } from './together';

/** Go into the slag whole, neither acid nor base. */
const NEUTRAL: ReadonlySet<string> = new Set(['CaF2']);

export const SULPHIDES: ReadonlySet<string> = new Set([
  'FeS2',
  'FeAsS',
  'CuFeS2',
  'ZnS',
  'PbS',
  'Sb2S3',
  'FeS',
  'Cu2S',
]);

export interface Slag {
  /** g of each oxide; iron as FeO. */
  readonly oxideGrams: ReadonlyMap<string, Estimate>;
  /** mol of oxygen in the acids and in the bases; alumina on the side where it counts. */
  readonly acidOxygen: Estimate;
  readonly baseOxygen: Estimate;
  /** Alumina counts as a base here; else as an acid. */
  readonly aluminaIsBase: boolean;
  /** Acid oxygen over base oxygen; none where there is no base. */
  readonly degree: Estimate | undefined;
  /** `bisilicate` and so on, by the best value. */
  readonly name: string | undefined;
  /** B2O3 as a share of the slag's mass, 0 to 1. */
  readonly borateFraction: number;
  readonly grams: Estimate;
  /** Of it salt, from silver chloride and soda, g. */
  readonly saltGrams: number;
  /** Sulphides in the charge, g: matte or speiss unless something oxidises them. */
  readonly sulphideGrams: number;
  /** Of unknown make, g. */
  readonly unknownGrams: number;
  readonly assumed: readonly Assumption[];
}

/** Of litharge charged, so much lead comes down and is no flux any more, g. */
export interface SlagOptions {
  readonly leadReducedGrams?: number;
}

/**
 * Slag of a charge, all of its iron reduced to FeO and its sulphides and metals left out. Bounds: compositions from
 * their low to their high ends, alumina on either side. Metals that burn into the slag are to be given as oxides.
 */
export function slagOf(charge: readonly ChargeItem[], { leadReducedGrams = 0 }: SlagOptions = {}): Slag {
  const moles = oxideMoles(charge);
  const salt = saltOf(charge);
  takeSoda(moles, salt.sodaMoles);
  const reduced = takeLead(moles, leadReducedGrams / molarMass('Pb'));
  const aluminaIsBase = countsAsBase(moles);
  const acidOxygen = oxygen(moles, 'acid', !aluminaIsBase);
  const baseOxygen = oxygen(moles, 'base', aluminaIsBase);
  const degree = degreeOf(moles, aluminaIsBase);
  const oxideGrams = new Map([...moles].map(([formula, amount]) => [formula, scaled(amount, molarMass(formula))]));
  const grams = slagGrams(charge, reduced, salt);
  return {
    oxideGrams,
    acidOxygen,
    baseOxygen,
    aluminaIsBase,
    degree,
    name: degree && degreeName(degree.best),
    borateFraction: grams.best > 0 ? (oxideGrams.get('B2O3')?.best ?? 0) / grams.best : 0,
    grams,
    saltGrams: salt.saltGrams,
    sulphideGrams: massOf(charge, SULPHIDES),
    unknownGrams: unknownGrams(charge),
    assumed: ASSUMED,
  };
}

const ASSUMED: readonly Assumption[] = [
  assume('acid oxygen over base oxygen, iron as FeO', `definition; ${ATOMIC_WEIGHTS}`),
  assume('alumina as base in an acid slag, as acid in a basic one', FROM_MEMORY),
  assume('up to one part in a hundred of the crucible wall comes on top', FROM_MEMORY),
];

/** Silicate degrees by name, with the ratio from which each holds. Names from memory, in line with Beringer's bisilicate. */
const DEGREES: readonly (readonly [number, string])[] = [
  [0, 'subsilicate'],
  [0.75, 'monosilicate'],
  [1.25, 'sesquisilicate'],
  [1.75, 'bisilicate'],
  [2.5, 'trisilicate'],
  [3.5, 'beyond trisilicate'],
];

export const degreeName = (degree: number): string =>
  DEGREES.findLast(([from]) => degree >= from)?.[1] ?? 'subsilicate';

/** A charge of one pure substance, for reckoning with oxides by formula. */
export function pureItem(formula: string, massGrams: number): ChargeItem {
  return { material: { name: formula, composition: [{ what: formula, fraction: 1 }], givesOff: [] }, massGrams, u: 0 };
}

function oxideMoles(charge: readonly ChargeItem[]): Map<string, Estimate> {
  const oxides = new Set(
    charge.flatMap(({ material }) =>
      material.composition.flatMap(({ what }) => yieldsOf(what).map(([oxide]) => oxide)),
    ),
  );
  return new Map([...oxides].map((oxide) => [oxide, heldInCharge(charge, (what) => molesPerGram(what, oxide))]));
}

function molesPerGram(what: string, oxide: string): number {
  const perMole = yieldsOf(what).find(([formula]) => formula === oxide)?.[1];
  return perMole === undefined ? 0 : perMole / molarMass(what);
}

/** Oxides that a gram brings into the slag, g; with the oxygen that stays if no iron is reduced. */
function gramsPerGram(what: string, withFerric: boolean): number {
  const dry = yieldsOf(what).reduce((so, [oxide, perMole]) => so + perMole * molarMass(oxide), 0);
  if (dry === 0) return NEUTRAL.has(what) ? 1 : 0;
  const ferric = withFerric ? (FERRIC_OXYGEN.get(what) ?? 0) * molarMass('O') : 0;
  return (dry + ferric) / molarMass(what);
}

/** Soda that silver chloride turns to salt is no base. */
function takeSoda(moles: Map<string, Estimate>, taken: number): void {
  const soda = moles.get('Na2O');
  if (!soda || taken === 0) return;
  const left = each(soda, (amount) => Math.max(0, amount - taken));
  if (left.high > 1e-9 * soda.high) moles.set('Na2O', left);
  else moles.delete('Na2O');
}

/** Litharge that is reduced, g: no more than there is. */
function takeLead(moles: Map<string, Estimate>, leadMoles: number): Estimate {
  const litharge = moles.get('PbO') ?? exactly(0);
  const taken = each(litharge, (amount) => Math.min(amount, leadMoles));
  // What is over by the last digits of a sum is none.
  const left = each(litharge, (amount) => (amount - leadMoles > 1e-9 * amount ? amount - leadMoles : 0));
  if (left.high === 0) moles.delete('PbO');
  else moles.set('PbO', left);
  return scaled(taken, molarMass('PbO'));
}

/** Alumina is a base where the rest of the slag has at least as much acid oxygen as base oxygen. */
function countsAsBase(moles: ReadonlyMap<string, Estimate>): boolean {
  return oxygen(moles, 'acid', false).best >= oxygen(moles, 'base', false).best;
}

function oxygen(moles: ReadonlyMap<string, Estimate>, side: 'acid' | 'base', withAlumina: boolean): Estimate {
  let sum = exactly(0);
  for (const [formula, amount] of moles) {
    const row = OXIDES.get(formula);
    const each = (row?.[side] ?? 0) + (withAlumina ? (row?.either ?? 0) : 0);
    sum = {
      best: sum.best + each * amount.best,
      low: sum.low + each * amount.low,
      high: sum.high + each * amount.high,
    };
  }
  return sum;
}

function degreeOf(moles: ReadonlyMap<string, Estimate>, aluminaIsBase: boolean): Estimate | undefined {
  const sides = [true, false].map((asBase) => ({
    acid: oxygen(moles, 'acid', !asBase),
    base: oxygen(moles, 'base', asBase),
    asBase,
  }));
  const best = sides.find(({ asBase }) => asBase === aluminaIsBase)!;
  if (sides.some(({ base }) => base.low <= 0) || best.base.best <= 0) return onlyBest(best.acid, best.base);
  return {
    best: best.acid.best / best.base.best,
    low: Math.min(...sides.map(({ acid, base }) => acid.low / base.high)),
    high: Math.max(...sides.map(({ acid, base }) => acid.high / base.low)),
  };
}

function onlyBest(acid: Estimate, base: Estimate): Estimate | undefined {
  if (base.best <= 0) return undefined;
  return { best: acid.best / base.best, low: acid.low / base.high, high: Number.POSITIVE_INFINITY };
}

const each = ({ best, low, high }: Estimate, of: (amount: number) => number): Estimate => ({
  best: of(best),
  low: of(low),
  high: of(high),
});

const scaled = (of: Estimate, by: number): Estimate => each(of, (amount) => amount * by);

function massOf(charge: readonly ChargeItem[], which: ReadonlySet<string>): number {
  return charge.reduce((sum, { material, massGrams }) => sum + massGrams * shareOf(material, which), 0);
}

export function shareOf({ composition }: MaterialLike, which: ReadonlySet<string>): number {
  return composition.filter(({ what }) => which.has(what)).reduce((sum, { fraction }) => sum + fraction, 0);
}

function unknownGrams(charge: readonly ChargeItem[]): number {
  const open = ({ composition }: MaterialLike): number =>
    Math.max(0, 1 - composition.reduce((sum, { fraction }) => sum + fraction, 0));
  return charge.reduce((sum, { material, massGrams }) => sum + massGrams * open(material), 0);
}

/** Moles of oxygen that stay in the slag if the iron is not reduced. */
const FERRIC_OXYGEN: ReadonlyMap<string, number> = new Map([
  ['Fe2O3', 1],
  ['Fe3O4', 1],
  ['FeOOH', 0.5],
]);

/** Of the crucible, at most, as a share of the slag. */
const CRUCIBLE_WALL = 0.01;

/** Of what nobody knows half is taken for slag, at the most all. Litharge that came down as lead is not in it. */
function slagGrams(charge: readonly ChargeItem[], reduced: Estimate, salt: Salt): Estimate {
  const known = heldInCharge(charge, (what) => gramsPerGram(what, false));
  const bySalt = salt.saltGrams - salt.sodaMoles * molarMass('Na2O');
  const most = heldInCharge(charge, (what) => gramsPerGram(what, true), 1).high + bySalt;
  const best = known.best + bySalt + unknownGrams(charge) / 2 - reduced.best;
  return {
    best,
    low: known.low + bySalt - reduced.low,
    high: Math.max(best, (most - reduced.high) * (1 + CRUCIBLE_WALL)),
  };
}
