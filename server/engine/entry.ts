/**
 * What a page says, as values that the engine computes with. Figures are as typed: exact digits and a unit; what scale read them and
 * which vessel to take off is settled later, with the workshop at hand.
 */

import type { Decimal } from '../quantity/decimal';
import type { UnitRow } from '../quantity/units';
import type { Anchor, Place } from '../text/place';

/** A name written somewhere: a lot, a step, a vessel, a party. */
export interface Named {
  readonly name: string;
  readonly place: Place;
  /** `in B57 was B58`: what stood here before. */
  readonly was?: Named;
}

/** One number as typed, with the unit that holds for it. */
export interface Digits {
  /** As typed: `58.10` stays `58.10`. */
  readonly text: string;
  readonly value: Decimal;
  /** None was written, or one that is not known. */
  readonly unit: UnitRow | undefined;
  /** A word that stands where a unit would and is none: perhaps the shop's own measure (`2 spoon`). */
  readonly measure: string | undefined;
  readonly place: Place;
}

export type Figure =
  | { readonly form: 'reading'; readonly digits: Digits }
  /** `<0.01 %`, `>99.9 %`: beyond what the method can tell. */
  | { readonly form: 'limit'; readonly side: 'below' | 'above'; readonly digits: Digits }
  /** `22..30 %` */
  | { readonly form: 'range'; readonly low: Digits; readonly high: Digits }
  /** `20.11 + 38.05 g`: weighed in several goes. */
  | { readonly form: 'sum'; readonly parts: readonly Digits[] }
  /** `58.16 / 58.15 / 58.17 g`: the same thing weighed several times. */
  | { readonly form: 'repeats'; readonly parts: readonly Digits[] };

/** `±0.3 g`; half-width of a rectangle, or with a word an expanded (k = 2) or a standard uncertainty. */
export interface Spread {
  readonly half: Digits;
  readonly meaning: 'limits' | 'expanded' | 'standard';
}

export interface Amount {
  readonly place: Place;
  /** None when the amount is `?`, `none` or `nd`. */
  readonly figure: Figure | undefined;
  /** `?` not known yet · `none` looked, there was none · `nd` not determined. */
  readonly absent: 'unknown' | 'none' | 'not-determined' | undefined;
  readonly unit: UnitRow | undefined;
  readonly gross: boolean;
  /** `~` */
  readonly guessed: boolean;
  readonly spread: Spread | undefined;
  /** `hot damp wet dry annealed clean`, in the order written. */
  readonly states: readonly string[];
  /** `on bench`, said of this very amount. */
  readonly scale: Named | undefined;
  /** `61.73 g was 61.37 g`: what stood here before. */
  readonly was: Amount | undefined;
}

export interface Money {
  readonly place: Place;
  readonly digits: Digits;
  readonly currency: string;
  /** `USD/ozt`: the unit of mass of a rate. */
  readonly per: UnitRow | undefined;
  /** `45.00 USD was 54.00 USD`: what stood here before. */
  readonly was?: Money;
}

/** `Au 91.2 %  Ag 8.4 %`: one determination. */
export interface Reading {
  readonly place: Place;
  readonly metals: readonly { readonly symbol: Named; readonly amount: Amount }[];
}

/** What is said of a line, with what its entry says for all lines that say nothing themselves. */
export interface Said {
  readonly scale?: Named;
  readonly tare?: Amount | Named;
  readonly before?: Amount;
  readonly after?: Amount;
  readonly keep?: Place;
  readonly discard?: Place;
  readonly at?: Named;
  readonly to?: Named;
  readonly due?: string;
  readonly owner?: Named;
  readonly holdUntil?: string;
  readonly pooled?: 'weight' | 'assay';
  readonly lent?: Place;
  readonly repays?: Place;
  /** Who lends or had lent it, where that is said. */
  readonly lender?: Named;
  readonly pieces?: Digits;
  readonly batch?: Named;
  readonly fixing?: Named;
  readonly sealed?: Named;
  readonly insured?: Money;
  readonly corrected?: boolean;
  readonly umpire?: boolean;
  readonly hand?: Named;
  readonly witness?: Named;
  readonly photos?: readonly Named[];
  readonly papers?: readonly Named[];
  readonly because?: string;
  readonly notes?: readonly string[];
}

/** Something that moves: `in`, `add`, `out`, `lost`, `back`, `found`, `missing`. */
export interface Flow {
  readonly word: 'in' | 'add' | 'out' | 'lost' | 'back' | 'found' | 'missing';
  /** The whole line's piece, from its word to its end. */
  readonly place: Place;
  /** The lot; for an unnamed product the name that it is known by (`M57.slag`), placed at its kind. */
  readonly lot: Named | undefined;
  /** Of `add`. */
  readonly material: Named | undefined;
  readonly amount: Amount | undefined;
  /** `in 20 g of B57`: a part, not the whole. */
  readonly part: boolean;
  /** Product kind: `button`, `slag`, `prills`. */
  readonly kind: string | undefined;
  /** `out none prills`, `none was 60 g`: looked, there was none; or it never happened. */
  readonly none: boolean;
  readonly said: Said;
}

export interface Gear {
  readonly word: 'crucible' | 'cupel-body' | 'mould' | 'furnace';
  readonly item: Named;
  readonly said: Said;
}

/** `09:52 charged`, `10:53 poured 1170 °C into cone-1`. */
export interface Clock {
  readonly place: Place;
  readonly date: string | undefined;
  readonly time: string | undefined;
  readonly text: string;
  /** Known event words in the text, in order. */
  readonly events: readonly string[];
  readonly temperature: Digits | undefined;
  readonly mould: Named | undefined;
}

/** A detail with a value that is none of the above: `material`, `bought`, `reads`, `pays`, `charge`, … */
export interface OtherDetail {
  readonly word: string;
  readonly place: Place;
  readonly names: readonly Named[];
  readonly amounts: readonly Amount[];
  readonly money: Money | undefined;
  /** `at least 60.00 USD`, of a charge. */
  readonly least?: Money;
  readonly reading: Reading | undefined;
  readonly date: string | undefined;
  /** `paid 2026-05-20 was 2026-05-11`: the date with what stood here before. */
  readonly dateWas?: { readonly place: Place; readonly date: string };
  readonly said: Said;
  /** Of `expect`: the `out` that stands before it on its line; none where it speaks of all that the entry makes. */
  readonly product?: Place;
}

export interface Entry {
  /** The text that this entry was read from; its places count from there. */
  readonly anchor: Anchor;
  readonly place: Place;
  /** The first line. */
  readonly head: Place;
  /** The day that it stands under, `YYYY-MM-DD`; none above the first day line. */
  readonly date: string | undefined;
  /** Its first clock time, or the last one above it on the same day: `HH:MM`. */
  readonly time: string | undefined;
  readonly prefix: 'plan' | 'more' | 'correct' | 'void' | undefined;
  readonly verb: string;
  readonly verbPlace: Place;
  /** The step's name (`melt M57`) or the lot that it speaks of (`receive TE-31`, `weigh`, `assay`, `sample`, …). */
  readonly name: Named | undefined;
  /** `from`, `to` or `with` a party; `at` a party or lab. */
  readonly party: Named | undefined;
  /** `relabel A to B`: B. */
  readonly toLot: Named | undefined;
  /** `assay … by fire`. */
  readonly method: Named | undefined;
  /** `seal DATE digest …`. */
  readonly digest: Named | undefined;
  /** `of DATE` behind a prefix; the date of `seal`. */
  readonly ofDate: string | undefined;
  /** The head's own amount (`receive L 20 g`, `weigh`, `discard`, `check-scale`), or that of an amount standing as a line. */
  readonly amount: Amount | undefined;
  /** Every amount that stands on its own line or after a comma, in order; the first is also `amount` when the head has none. */
  readonly amounts: readonly { readonly amount: Amount; readonly said: Said }[];
  readonly money: Money | undefined;
  readonly flows: readonly Flow[];
  readonly gear: readonly Gear[];
  readonly clocks: readonly Clock[];
  readonly readings: readonly { readonly reading: Reading; readonly said: Said }[];
  readonly others: readonly OtherDetail[];
  /** What is said of the whole entry. */
  readonly said: Said;
  /** Unread: cut through by merge markers, or its first line is not understood. Nothing is computed for it. */
  readonly broken: boolean;
}
