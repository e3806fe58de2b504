/** How a built-in row is written down: what leaves it in the heat follows from what it is made of. */
import { givesOffOf } from './heat';
import { type Constituent, type MaterialRow, WEIGHTS } from './row';

type Described = Omit<MaterialRow, 'composition' | 'givesOff' | 'source'>;

/** A row of one pure substance. */
export function pure(row: Described, formula: string): MaterialRow {
  return mix(row, [{ what: formula, fraction: 1 }], WEIGHTS);
}

/** A row of several constituents, with the source of the composition. */
export function mix(row: Described, composition: readonly Constituent[], source: string): MaterialRow {
  return { ...row, composition, givesOff: givesOffOf(composition), source };
}

/** A constituent known as a range only: the middle is its best value. */
export function ofRange(what: string, low: number, high: number): Constituent {
  return { what, fraction: (low + high) / 2, low, high };
}
