/** What the shop owns and agreed on, as the engine uses it. `workshop/` reads it from the workshop file; a lone page uses `NO_WORKSHOP`. */

import type { Decimal, Rounding } from '../quantity/decimal';
import type { UnitRow } from '../quantity/units';
import type { Scale } from '../quantity/weighing';
import type { Place } from '../text/place';
import type { MaterialLike } from '../vocabulary/materials';

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
  /** How many heats it usually lasts. */
  readonly usualHeats?: number | undefined;
  /** The days between which its heats count; another may have borne the name before. */
  readonly since?: string | undefined;
  readonly until?: string | undefined;
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
  readonly heating: 'resistance' | 'induction' | 'gas' | undefined;
}

/** From `low` to `high`; one figure is both. The unit is the holder's. */
export interface Range {
  readonly low: number;
  readonly high: number;
}

/** Money for a mass (`4.20 USD/kg`), or for a piece of work where `per` is none. */
export interface Price {
  readonly amount: Decimal;
  readonly currency: string;
  readonly per: UnitRow | undefined;
}

export interface Material extends Declared, MaterialLike {
  /** Of the vocabulary's groups, or `own` for what the shop defines from nothing. */
  readonly group: string;
  /** As it lies in the crucible, g/mL. */
  readonly bulkDensity: Range | undefined;
  /** What the shop pays for it. */
  readonly price: Price | undefined;
}

export interface Recipe extends Declared {
  /** Parts by mass; shares sum to 1. Empty where the recipe could not be read. */
  readonly parts: readonly { readonly material: string; readonly share: number }[];
}

export interface Party extends Declared {
  readonly role: 'own' | 'customer' | 'refiner' | 'lab' | 'supplier' | undefined;
  /** What was agreed, the oldest first. */
  readonly terms: readonly Terms[];
}

/** A charge for work: so much at once, for each unit of mass, or as a share; `of` says of what (`melted`, `value`, a metal). */
export interface ChargeTerm {
  readonly amount: Decimal;
  /** None where the amount is a share, 0 to 1. */
  readonly currency: string | undefined;
  readonly per: UnitRow | undefined;
  readonly of: string | undefined;
  /** It is never less than this. */
  readonly least?: { readonly amount: Decimal; readonly currency: string } | undefined;
}

/** Payable shares, 0 to 1, each from a fineness of the lot on, the lowest first. One from nought is a plain share. */
export type Bands = readonly { readonly from: Decimal; readonly share: Decimal }[];

/** Something taken off a metal: a share, 0 to 1, of what its holder says; or grams. */
export type Cut =
  | { readonly share: Decimal; readonly grams?: undefined }
  | { readonly grams: Decimal; readonly share?: undefined };

/** What a party agreed to, from a day on. Of a customer: what we agreed to give back of their metal, and what we charge. */
export interface Terms {
  readonly from: string;
  readonly place: Place;
  /** By metal: the share of the fine metal that is paid. */
  readonly pays: ReadonlyMap<string, Bands>;
  /** By metal: taken off the fine metal first; a share of it, or grams. */
  readonly less: ReadonlyMap<string, Cut>;
  /** By metal: the least that is kept of it where the payable share keeps less; a share of the lot's weight, or grams. */
  readonly keeps: ReadonlyMap<string, Cut>;
  readonly charges: ReadonlyMap<string, ChargeTerm>;
  /** By metal: two assays farther apart than this go to an umpire; a share of the mass, 0 to 1. */
  readonly splitting: ReadonlyMap<string, Decimal>;
  /** Whose assay settles: theirs, or the mean of both within the splitting limit. */
  readonly assay: 'theirs' | 'exchange' | undefined;
  /** Days from the shipment in which both tell their assays; who misses them is bound by the other's. */
  readonly exchangeDays?: number | undefined;
  /** What an umpire's result settles as: itself, its mean with the nearer party's, or the middle of the three. */
  readonly umpire: 'result' | 'nearest' | 'middle' | undefined;
  /** The most that a lot may lose in their melt, as a share of what they received. */
  readonly meltLoss: Decimal | undefined;
  /** The least lot that is taken, g. */
  readonly minimumGrams: Decimal | undefined;
  /** Days from receipt to payment. */
  readonly days: number | undefined;
  /** The day whose price holds. */
  readonly priceDay: 'shipped' | 'settled' | 'paid' | undefined;
  /** Which of that day's prices, by the name that quotes give it. */
  readonly fixing: string | undefined;
  /** How an amount of money is rounded to its smallest coin. */
  readonly rounding: Rounding | undefined;
  /** Fine metal is rounded down to a multiple of this, g. */
  readonly fineStepGrams: Decimal | undefined;
  /** Of a customer: who keeps slag, cupels and other residues. */
  readonly residues: 'shop' | 'owner' | undefined;
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
  /** Silicate degree of slags, where a melt names none of its own. */
  readonly silicateDegree?: { readonly low: number; readonly high: number } | undefined;
  /** By verb, or by verb and material (`melt black-sand`). */
  readonly usualLoss: ReadonlyMap<string, UsualLoss>;
  /** A balance that misses by no more than this share of what went in counts as closed, whatever weighing explains. */
  readonly closure: number | undefined;
  /** For running sums and moving averages of losses; where not stated, what each uses by itself. */
  readonly cusumSlack?: number | undefined;
  readonly cusumLimit?: number | undefined;
  /** 0 to 1. */
  readonly ewmaWeight?: number | undefined;
  /** Days after which a written price is old. */
  readonly priceDays: number;
}

/** Money for each hour, or each month. */
export interface MoneyRate {
  readonly amount: Decimal;
  readonly currency: string;
}

/** Who the shop is, and in what it counts. */
export interface Shop {
  readonly name: string | undefined;
  readonly address: string | undefined;
  readonly currency: string | undefined;
  /** What an hour of work costs. */
  readonly labour: MoneyRate | undefined;
  /** What a month costs whatever is done. */
  readonly overhead: MoneyRate | undefined;
  /** What a year of waiting for money costs, as a fraction of the sum. */
  readonly interest: Decimal | undefined;
}

/** How reports are laid out. */
export interface ReportSettings {
  readonly heading: string | undefined;
  /** The unit of mass beside grams. */
  readonly unit: UnitRow | undefined;
  readonly paper: 'A4' | 'letter' | undefined;
}

export interface Workshop {
  readonly shop: Shop;
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
  /** Who works here: full names by initials. */
  readonly hands: ReadonlyMap<string, string>;
  readonly limits: Limits;
  readonly reports: ReportSettings;
  /** True when a workshop file was read: only then is an undeclared vessel or scale worth a word. */
  readonly declared: boolean;
}

/**
 * Fill: two thirds to three quarters of the volume (common practice, no source: gas makes a fuller charge boil over).
 * Coverage: k = 2, about 95 % (GUM 6.2.1). A price is old after a week (common practice, no source: gold moves by some per cent in one).
 */
export const DEFAULT_LIMITS: Limits = {
  coverage: 2,
  fill: { low: 0.67, high: 0.75 },
  usualLoss: new Map(),
  closure: undefined,
  priceDays: 7,
};

/** A lone page: nothing declared, so nothing is missed. */
export const NO_WORKSHOP: Workshop = {
  shop: {
    name: undefined,
    address: undefined,
    currency: undefined,
    labour: undefined,
    overhead: undefined,
    interest: undefined,
  },
  scales: new Map(),
  containers: new Map(),
  crucibles: new Map(),
  moulds: new Map(),
  cupels: new Map(),
  furnaces: new Map(),
  materials: new Map(),
  recipes: new Map(),
  parties: new Map(),
  measures: new Map(),
  hands: new Map(),
  limits: DEFAULT_LIMITS,
  reports: { heading: undefined, unit: undefined, paper: undefined },
  declared: false,
};
