/** Room that a charge takes, how full the crucible is, how many charges it makes, and what its gas does. */
import type { DensityRange, MaterialLike } from '../../vocabulary/materials';
import { type ChargeItem, type GasPart, gasGivenOff, gasLitres } from '../gas';
import { DEFAULT_LIMITS } from '../workshop';
import { type Estimate, over } from './result';

/** So much of something that lies loose. */
export interface LooseItem {
  readonly name: string;
  readonly grams: number;
  /** As it lies, g/mL. */
  readonly bulkDensity: Pick<DensityRange, 'low' | 'high'> | undefined;
}

export interface BulkVolume {
  /** Room, mL; the low end packed close, the high end lying loose. A least where something is unknown. */
  readonly millilitres: Estimate;
  /** Names of what has no known density: not in the figure. */
  readonly unknown: readonly string[];
}

/** Room of a charge, mL: Σ m/ρ. Fine powder also settles between coarse pieces, so the truth leans to the low end. */
export function bulkVolume(items: readonly LooseItem[]): BulkVolume {
  const known = items.filter(({ bulkDensity }) => bulkDensity !== undefined && bulkDensity.low > 0);
  const room = (density: (of: { low: number; high: number }) => number): number =>
    known.reduce((sum, { grams, bulkDensity }) => sum + grams / density(bulkDensity!), 0);
  const millilitres = {
    best: room(({ low, high }) => (low + high) / 2),
    low: room(({ high }) => high),
    high: room(({ low }) => low),
  };
  return { millilitres, unknown: items.filter((item) => !known.includes(item)).map(({ name }) => name) };
}

/** Two thirds to three quarters of a crucible, cold, unless the shop says otherwise. */
export const FILL_LIMITS = DEFAULT_LIMITS.fill;

/** `over`: more than the limit even packed close; `may be over`: lying loose. A least that is under says nothing. */
export type FillVerdict = 'under' | 'may be over' | 'over' | undefined;

/** What a share of fill comes to; `complete` says that nothing is missing from it. */
export function fillVerdict(share: Pick<Estimate, 'low' | 'high'>, limit: number, complete: boolean): FillVerdict {
  if (share.low > limit) return 'over';
  if (share.high > limit) return 'may be over';
  return complete ? 'under' : undefined;
}

/** Volume of crucible that a charge wants, mL, at a share of fill. */
export const crucibleNeeded = (millilitres: Estimate, fill = FILL_LIMITS.low): Estimate => over(millilitres, fill);

export type Foaming = 'quiet' | 'lively' | 'fierce';

export interface ChargeGas {
  readonly grams: Estimate;
  readonly moles: number;
  /** Room of the gas at the heat, L. */
  readonly litres: number;
  /** By material and gas, g. */
  readonly parts: readonly GasPart[];
  /** Times the charge's own cold room that leaves as gas. */
  readonly timesItsRoom: number | undefined;
  readonly foaming: Foaming;
  /** What to do about it. */
  readonly advice: string;
}

/** Room of gas, as times the cold charge, from which a charge is lively or fierce. A guess: no source measured it. */
const LIVELY = 50;
const FIERCE = 300;

const ADVICE: ReadonlyMap<Foaming, string> = new Map([
  ['quiet', 'Little gas: heat as usual.'],
  ['lively', 'Heat slowly between 100 and 900 °C and leave a quarter of the crucible free.'],
  ['fierce', 'Much gas: heat slowly from 100 to 900 °C, charge in parts, or take dried and fused fluxes.'],
]);

/** Gas of a charge and how much it will foam. Temperature in °C; `roomMillilitres` is the charge's bulk volume. */
export function chargeGas(charge: readonly ChargeItem[], celsius: number, roomMillilitres?: number): ChargeGas {
  const gas = gasGivenOff(charge);
  const litres = gasLitres(gas.moles, celsius);
  const timesItsRoom = roomMillilitres ? (litres * 1000) / roomMillilitres : undefined;
  const foaming = foamingOf(timesItsRoom, hasSwellingBorax(charge));
  return {
    grams: { best: gas.grams, low: gas.low, high: gas.high },
    moles: gas.moles,
    litres,
    parts: gas.parts,
    timesItsRoom,
    foaming,
    advice: ADVICE.get(foaming) ?? '',
  };
}

function foamingOf(timesItsRoom: number | undefined, swells: boolean): Foaming {
  const by = timesItsRoom ?? 0;
  if (by >= FIERCE) return 'fierce';
  return by >= LIVELY || swells ? 'lively' : 'quiet';
}

/** Crystal borax swells before it fuses and can push a charge out (Beringer & Beringer 1904). */
function hasSwellingBorax(charge: readonly ChargeItem[]): boolean {
  const whole = charge.reduce((sum, { massGrams }) => sum + massGrams, 0);
  const borax = charge.filter(({ material }) => isHydratedBorax(material));
  return borax.reduce((sum, { massGrams }) => sum + massGrams, 0) > SWELLING_SHARE * whole;
}

const SWELLING_SHARE = 0.2;

const isHydratedBorax = ({ composition }: MaterialLike): boolean =>
  composition.some(({ what, fraction }) => fraction > 0.5 && what.startsWith('Na2B4O7') && what.endsWith('H2O'));
