/** Silver chloride in the fire: 2AgCl + Na2CO3 = 2Ag + 2NaCl + CO2 + O (from memory). Its soda becomes salt, which floats on the slag. */
import { molarMass } from '../../vocabulary/compounds';
import type { ChargeItem } from '../gas';
import { type Assumption, assume, FROM_MEMORY } from './result';

/** g of soda ash for a gram of silver chloride, by the equation. */
export const SODA_PER_CHLORIDE = molarMass('Na2CO3') / (2 * molarMass('AgCl'));

export const CHLORIDE_ASSUMED: Assumption = assume('2AgCl + Na2CO3 = 2Ag + 2NaCl + CO2 + O', FROM_MEMORY);

/** What the constituents of a charge bring, each by the gram of it. */
const sumOf = (charge: readonly ChargeItem[], perGram: (what: string) => number): number =>
  charge.reduce(
    (so, { material, massGrams }) =>
      so + massGrams * material.composition.reduce((sum, { what, fraction }) => sum + fraction * perGram(what), 0),
    0,
  );

/** Silver chloride of a charge, g. */
export const chlorideGrams = (charge: readonly ChargeItem[]): number =>
  sumOf(charge, (what) => (what === 'AgCl' ? 1 : 0));

/** Moles of Na2O that a mole can give up to chloride: the soda of borax and glass is bound. */
const FREE_SODA: ReadonlyMap<string, number> = new Map([
  ['Na2CO3', 1],
  ['Na2CO3·10H2O', 1],
  ['NaHCO3', 0.5],
  ['NaOH', 0.5],
]);

const freeSodaMoles = (charge: readonly ChargeItem[]): number =>
  sumOf(charge, (what) => {
    const moles = FREE_SODA.get(what);
    return moles ? moles / molarMass(what) : 0;
  });

export interface Salt {
  /** Na2O that the chloride takes, mol. */
  readonly sodaMoles: number;
  readonly saltGrams: number;
}

/** Salt that the silver chloride of a charge makes with the soda that is there. */
export const saltOf = (charge: readonly ChargeItem[]): Salt => {
  const sodaMoles = Math.min(chlorideGrams(charge) / (2 * molarMass('AgCl')), freeSodaMoles(charge));
  return { sodaMoles, saltGrams: 2 * sodaMoles * molarMass('NaCl') };
};

/** Soda ash that the silver chloride of a charge still wants beside the soda that is there, g. */
export const sodaForChloride = (charge: readonly ChargeItem[]): number =>
  Math.max(0, SODA_PER_CHLORIDE * chlorideGrams(charge) - freeSodaMoles(charge) * molarMass('Na2CO3'));
