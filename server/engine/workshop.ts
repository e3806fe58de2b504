/** What the shop owns and agreed on, as the engine uses it. `workshop/` reads it from the workshop file; a lone page uses `NO_WORKSHOP`. */

import type { Decimal } from '../quantity/decimal';
import type { Scale } from '../quantity/weighing';
import type { Place } from '../text/place';

export interface Declared {
  readonly name: string;
  /** Where the workshop file declares it; none for what is built in. */
  readonly place: Place | undefined;
}

export interface Container extends Declared {
  readonly tareGrams: Decimal | undefined;
  /** Division or stated ± of the tare, as a standard uncertainty in grams. */
  readonly tareUncertaintyGrams: number;
}

export interface Crucible extends Declared {
  readonly volumeMillilitres: number | undefined;
  readonly weightGrams: Decimal | undefined;
  readonly material: string | undefined;
}

export interface Mould extends Declared {
  readonly volumeMillilitres: number | undefined;
}

export interface CupelBody extends Declared {
  readonly weightGrams: Decimal | undefined;
  /** `bone-ash`, `cement`, `magnesia`, … */
  readonly material: string | undefined;
}

export interface Furnace extends Declared {
  readonly powerWatts: number | undefined;
  readonly highestCelsius: number | undefined;
}

/** A component of a material: a formula or a metal's symbol, and its share of the mass. */
export interface Component {
  readonly what: string;
  readonly low: number;
  readonly high: number;
}

export interface Material extends Declared {
  readonly group: string;
  readonly composition: readonly Component[];
  readonly givesOff: readonly {
    readonly what: string;
    readonly fraction: number;
    readonly low?: number;
    readonly high?: number;
    readonly when?: string;
  }[];
  readonly bulkDensity: { readonly low: number; readonly high: number } | undefined;
}

export interface Recipe extends Declared {
  /** Parts by mass; shares sum to 1. */
  readonly parts: readonly { readonly material: string; readonly share: number }[];
}

export interface Party extends Declared {
  readonly role: 'own' | 'customer' | 'refiner' | 'lab' | 'supplier' | undefined;
}

/** How much a kind of step usually loses, as a share of what went in (or of the metal charged, where `of` says so). */
export interface UsualLoss {
  readonly low: number;
  readonly high: number;
}

export interface Limits {
  /** k: how many standard uncertainties weighing explains. */
  readonly coverage: number;
  /** Highest fill of a crucible, cold, as a share of its volume. */
  readonly fill: { readonly low: number; readonly high: number };
  /** By verb, or by verb and material (`melt black-sand`). */
  readonly usualLoss: ReadonlyMap<string, UsualLoss>;
}

export interface Workshop {
  readonly scales: ReadonlyMap<string, Scale & Declared>;
  readonly containers: ReadonlyMap<string, Container>;
  readonly crucibles: ReadonlyMap<string, Crucible>;
  readonly moulds: ReadonlyMap<string, Mould>;
  readonly cupels: ReadonlyMap<string, CupelBody>;
  readonly furnaces: ReadonlyMap<string, Furnace>;
  /** The shop's own, over the built-in ones. */
  readonly materials: ReadonlyMap<string, Material>;
  readonly recipes: ReadonlyMap<string, Recipe>;
  readonly parties: ReadonlyMap<string, Party>;
  /** The shop's own measures in grams (`spoon`): guesses. */
  readonly measures: ReadonlyMap<string, Decimal>;
  readonly limits: Limits;
  /** True when a workshop file was read: only then is an undeclared vessel or scale worth a word. */
  readonly declared: boolean;
}
