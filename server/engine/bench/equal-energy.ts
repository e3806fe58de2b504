/**
 * A melting point of gold alloys that can be worked by hand: where liquid and solid of the same composition have the same energy. It lies between
 * solidus and liquidus. The enthalpies of silver and copper by Dinsdale's data, gold's from memory; the differences of mixing are those of the
 * two-phase equations (`phases.ts`), silver-copper at 1150 K.
 */
import { element } from '../../vocabulary/elements';
import type { Moles3 } from './phases';

/** Of melting, J/mol: Au, Ag, Cu. */
const MELTING_ENTHALPY: Moles3 = [12552, 11297, 13263];

const KELVIN = 273.15;
const meltingKelvin = (): Moles3 => {
  const [gold = 0, silver = 0, copper = 0] = ['Au', 'Ag', 'Cu'].map((symbol) => element(symbol)?.meltsAtC?.value ?? 0);
  return [gold + KELVIN, silver + KELVIN, copper + KELVIN];
};

/** Liquid less solid of the pairs, J/mol of alloy. */
export const GOLD_SILVER = 640;
export const goldCopper = ([gold, , copper]: Moles3): number => -6213 - 1018 * (gold - copper);
export const silverCopper = ([, silver, copper]: Moles3): number => -11640 + 3490 * (silver - copper);

/** Of gold alloys from this mass fraction on the liquidus lies at most so many K above it. */
export const EQUAL_ENERGY_FROM = 0.58;
export const LIQUIDUS_ABOVE_K = { low: 0, high: 25 };

export interface EqualEnergy {
  /** Σ x ΔH, what mixing adds, Σ x ΔH/T. */
  readonly enthalpy: number;
  readonly mixing: number;
  readonly entropy: number;
  readonly kelvin: number;
  readonly celsius: number;
}

/** T0 = (Σ x ΔH + x y (differences))/(Σ x ΔH/T), by mole fractions. */
export function equalEnergy(moles: Moles3): EqualEnergy {
  const [gold, silver, copper] = moles;
  const points = meltingKelvin();
  const sum = (of: (metal: 0 | 1 | 2) => number): number => of(0) + of(1) + of(2);
  const enthalpy = sum((metal) => moles[metal] * MELTING_ENTHALPY[metal]);
  const entropy = sum((metal) => (moles[metal] * MELTING_ENTHALPY[metal]) / points[metal]);
  const mixing =
    gold * silver * GOLD_SILVER + gold * copper * goldCopper(moles) + silver * copper * silverCopper(moles);
  const kelvin = (enthalpy + mixing) / entropy;
  return { enthalpy, mixing, entropy, kelvin, celsius: kelvin - KELVIN };
}
