/** The shape of a material: what it is made of, what leaves it in the heat, how much room it takes. */

export type MaterialGroup =
  | 'flux'
  | 'collector'
  | 'acid'
  | 'salt'
  | 'reductant'
  | 'oxidant'
  | 'feed'
  | 'metal'
  | 'refractory'
  | 'water';

/** A share of the mass, 0 to 1, best value; `low` and `high` where the stuff varies. */
export interface Share {
  readonly fraction: number;
  readonly low?: number;
  readonly high?: number;
}

/** A part of a material: an element's symbol or a formula, and its share of the mass. */
export interface Constituent extends Share {
  readonly what: string;
}

/**
 * When a gas leaves.
 * `heat`: whenever the charge is melted. `acid`: when silica or borate takes the soda or potash it was bound to.
 * `untaken`: oxygen, if nothing in the charge takes it. `burns`: with air, or with oxygen of the charge.
 * `fume`: more or less of it, by heat and cover.
 */
export type When = 'heat' | 'acid' | 'untaken' | 'burns' | 'fume';

/** What leaves, as a share of the material's own mass. `what` is a formula: `C` leaves as its oxides. */
export interface GivenOff extends Share {
  readonly what: string;
  readonly when: When;
}

/** A density in g/mL, from `low` to `high`. */
export interface DensityRange {
  readonly low: number;
  readonly high: number;
  readonly source: string;
}

/** Oxygen that a reductant takes, g per g of it: in a charge with litharge, and with all of it burnt to the end. */
export interface OxygenTaken {
  readonly practical: number;
  readonly theory: number;
  readonly source: string;
}

/** What the engine needs to know of a material: built in, or defined by a workshop. */
export interface MaterialLike {
  readonly name: string;
  /** Fractions sum to 1, unless the rest is not known. */
  readonly composition: readonly Constituent[];
  readonly givesOff: readonly GivenOff[];
  readonly takesOxygen?: OxygenTaken;
}

export interface MaterialRow extends MaterialLike {
  readonly group: MaterialGroup;
  /** Said when the fractions do not sum to 1: what the rest is. */
  readonly open?: string;
  /** As it lies in the crucible: powder, lumps, or a liquid as bought. */
  readonly bulkDensity?: DensityRange;
  /** Once molten. */
  readonly meltDensity?: DensityRange;
  /** The bare name may mean several materials: which, and why it matters. */
  readonly ambiguous?: { readonly means: readonly string[]; readonly why: string };
  /** Where composition and behaviour are from. */
  readonly source: string;
}

export const BERINGER = 'Beringer & Beringer, A Text-book of Assaying, 9th ed. 1904';
export const WEIGHTS = 'formula, IUPAC atomic weights';
export const BULK_TABLES = 'general bulk-density tables';
export const MEMORY = 'from memory';
export const PRACTICE = 'common practice, no source';
