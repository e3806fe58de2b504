/** The built-in materials: every flux, collector, metal, acid and feed that a journal may name without saying more. */
import { FEEDS } from './materials/feeds';
import { FLUXES, REFRACTORIES } from './materials/fluxes';
import { METALS } from './materials/metals';
import { OXIDANTS, REDUCTANTS } from './materials/reagents';
import type { MaterialRow } from './materials/row';
import { WET } from './materials/wet';

export { givesOffOf, oxygenTakenBy, oxygenToCarbon, oxygenToSlag } from './materials/heat';
export { ofRange } from './materials/mix';
export type {
  Constituent,
  DensityRange,
  GivenOff,
  MaterialGroup,
  MaterialLike,
  MaterialRow,
  OxygenTaken,
  Share,
  When,
} from './materials/row';

/** All built-in materials, by group. */
export const MATERIALS: readonly MaterialRow[] = [
  ...FLUXES,
  ...OXIDANTS,
  ...REDUCTANTS,
  ...REFRACTORIES,
  ...METALS,
  ...WET,
  ...FEEDS,
];

/** The built-in material of a name, compared exactly. */
export function material(name: string): MaterialRow | undefined {
  return BY_NAME.get(name);
}

const BY_NAME: ReadonlyMap<string, MaterialRow> = new Map(MATERIALS.map((row) => [row.name, row]));
