/** What follows from the entries: the weight of every flow, the balance of every step, the story of every lot. Types only. */

import type { Measured } from '../quantity/measured';
import type { Place } from '../text/place';
import type { GivenOff } from '../vocabulary/materials';
import type { Amount, Entry, Flow, Named } from './entry';

/** How a figure is known. A figure is never better known than the worst of what it rests on. */
export type Ground =
  | 'weighed'
  /** Not written here; the weight that the lot had before. */
  | 'carried'
  /** The one unknown of a balance. */
  | 'solved'
  | 'guessed'
  | 'unknown';

/** An amount read on its scale, with its tare taken off. */
export interface Weight {
  readonly ground: Ground;
  /** Net mass in grams; none when unknown or a volume. */
  readonly mass: Measured | undefined;
  readonly gross: Measured | undefined;
  readonly tare: Measured | undefined;
  /** A flow in millilitres: its balance is made by metal, not by mass. */
  readonly volume: Measured | undefined;
  /** The amount that carries the figure, where one was written. */
  readonly amount: Amount | undefined;
  /** The scale's division or the last typed digit, in grams. */
  readonly divisionGrams: number;
  /** `wet`, `hot`, `dry`, … as written; a carried weight keeps those of the weighing that it comes from. */
  readonly states: readonly string[];
}

export interface FlowWeight extends Weight {
  readonly flow: Flow;
}

export type Verdict =
  /** Explained by weighing. */
  | 'closed'
  /** Beyond weighing, but within what this kind of step usually loses (or takes up, such as oxygen). */
  | 'usual'
  | 'high'
  /** More out than in, beyond weighing and beyond every cause that the step is known to have. */
  | 'gain'
  /** Its one unknown was solved for; so nothing checks it. */
  | 'solved'
  /** No balance: see `openBecause`. */
  | 'open';

export type OpenBecause =
  /** Two or more weights are not known, or one that no balance can give: what a fire drove off has no other measure. */
  | 'unknowns'
  /** A flow in volume: its balance is made by metal, not by mass. */
  | 'volume'
  | 'nothing in'
  | 'nothing out'
  /** Ore, or a feed of unknown make, was smelted and its slag not written: slag and loss cannot be told apart by mass. */
  | 'no slag'
  /** A sample: booked against its lot, not within the entry. */
  | 'sample';

/** What a kind of step usually leaves unaccounted for. */
export interface UsualBand {
  /** Grams; below zero where the step usually takes something up, such as oxygen into slag. */
  readonly low: number;
  readonly high: number;
  readonly from: 'built-in' | 'workshop' | 'history';
  /** One line: what the figures rest on. */
  readonly why: string;
  /** How much of `low` and `high` is gas that may be there or not, g; none of it is a loss. */
  readonly gasOpen?: { readonly less: number; readonly more: number };
}

/** What earlier steps say of the next one of their kind. Of so many, `within` lost `low` to `most`, the others far more or less. */
export interface Learnt {
  /** Share of all that goes in, to two digits: a loss above it is no longer usual. */
  readonly high: number;
  readonly count: number;
  readonly within: number;
  /** In per cent, rounded to so many places. */
  readonly low: number;
  readonly most: number;
  readonly places: number;
}

/** Mass in grams through one entry. */
export interface Step {
  readonly entry: Entry;
  /** `in`, then `add` with recipes whole. */
  readonly inputs: readonly FlowWeight[];
  readonly added: readonly FlowWeight[];
  readonly outputs: readonly FlowWeight[];
  readonly lost: readonly FlowWeight[];
  /** Mass leaving the charge as gas, best value; its bounds in `gasRange`. */
  readonly gas: Measured;
  readonly gasRange: { readonly low: number; readonly high: number };
  /** Slag that nobody weighed, taken for what the flux leaves; none where it is written, or cannot be told. */
  readonly slag?: Measured | undefined;
  /**
   * The cupel's or other vessel's gain, where it was weighed before and after; below zero the own weight of a cupel that is written as a product.
   */
  readonly absorbed: Measured | undefined;
  /** in + added − out − gas − slag not weighed − absorbed − lost; none when open or solved. Positive is missing. */
  readonly unaccounted: Measured | undefined;
  readonly verdict: Verdict;
  /** What the verdict was held against; none when open. */
  readonly usual: UsualBand | undefined;
  /**
   * What earlier steps of its kind taught, where that has taken the place of the built-in band; and the step by itself, held against that band:
   * the same object as long as nothing in it is weighed otherwise.
   */
  readonly history?: { readonly learnt: Learnt; readonly alone: Step } | undefined;
  /** The same for all steps whose loss may be compared with this one's; none where nothing is learnt. */
  readonly alike?: string | undefined;
  /** The flow that the balance was solved for. */
  readonly solved: { readonly flow: Flow; readonly mass: Measured } | undefined;
  /** What must be weighed to close the step. */
  readonly open: readonly Flow[];
  readonly openBecause: OpenBecause | undefined;
  /** The material that its products are, where what went in and the step tell it. */
  readonly carries?: string | undefined;
}

export type LotEventKind =
  | 'received'
  | 'made'
  /** Came out of a step under the name that it went in with: the same lot, going on. */
  | 'continued'
  | 'weighed'
  | 'used'
  | 'part-used'
  | 'sampled'
  | 'returned'
  | 'found'
  | 'missing'
  | 'discarded'
  | 'renamed'
  | 'shipped'
  | 'sold'
  | 'settled'
  | 'assayed'
  | 'named';

/** One entry's dealing with a lot, in order of date, time and place. */
export interface LotEvent {
  readonly kind: LotEventKind;
  readonly entry: Entry;
  readonly place: Place;
  readonly flow: Flow | undefined;
  /** What was weighed here, if anything. */
  readonly weight: Weight;
  /** What the record before this event says is left, in grams; none when unknown. Where two weighings dispute it, good to their difference. */
  readonly before: Measured | undefined;
  /** What is left after it. */
  readonly after: Measured | undefined;
  /** The same in millilitres, of a lot that is measured so. */
  readonly volumeBefore?: Measured | undefined;
  readonly volumeAfter?: Measured | undefined;
}

/** A slip of the pen that would explain a difference. */
export interface Slip {
  /** `swap` two neighbouring digits · `digit` one digit · `zero` · `double` · `point` · `unit` · `tare` · `copied`. */
  readonly kind: 'swap' | 'digit' | 'zero' | 'double' | 'point' | 'unit' | 'tare' | 'copied' | 'jump' | 'side';
  /** The amount that would be mended, and how it would read then: just the digits and unit (`61.37 g`). */
  readonly amount: Amount;
  readonly replace: Place;
  readonly reads: string;
  /** It mends the tare that was taken off that amount. */
  readonly inTare?: true;
  /** Share of belief among all that was tried, the honest loss included: 0 to 1. */
  readonly belief: number;
}

/** The same metal weighed twice, with nothing done to it between. */
export interface Handover {
  readonly lot: string;
  readonly from: { readonly entry: Entry; readonly place: Place; readonly weight: Weight };
  readonly to: { readonly entry: Entry; readonly place: Place; readonly weight: Weight };
  /** What the record says is left as it comes to `to`, and the last entry that took a part since `from`. */
  readonly left: Measured;
  readonly since: Entry | undefined;
  /** A later weighing that agrees with `from`, so that `to` is the wrong one. */
  readonly again?: Handover['to'];
  /** to − from, in grams. */
  readonly difference: Measured;
  readonly explained: boolean;
  /** |difference| in standard uncertainties. */
  readonly times: number;
  /** What the states written beside the weights say of the difference: dried, weighed hot before, cleaned, annealed. */
  readonly because: 'moisture' | 'heat' | 'cleaned' | 'annealed' | undefined;
  readonly slips: readonly Slip[];
}

export interface LotStory {
  readonly name: string;
  readonly events: readonly LotEvent[];
  /** Entries that give the name, in order; more than one is a name used twice. */
  readonly births: readonly LotEvent[];
  readonly handovers: readonly Handover[];
  /** What is left in grams at the end of the record; none when unknown. */
  readonly left: Measured | undefined;
  readonly gone: boolean;
  /** The last owner that was written for it. */
  readonly owner: Named | undefined;
  readonly make: Make | undefined;
}

/** What the record says a lot is: the material it was received as, the kind of product that it came out as. */
export interface Make {
  readonly material: string | undefined;
  readonly kind: string | undefined;
  /** Per gram of it: zinc and the like that is said to be in it. None where nothing is said of them. */
  readonly fumes?: readonly GivenOff[];
}

/**
 * All that an entry's findings and hints rest on besides the workshop. It is a new object whenever one of these has changed, and the same
 * object otherwise, so what was worked out for it may be kept.
 */
export interface Account {
  readonly entry: Entry;
  /** The first entry and its `more` parts, in order. */
  readonly parts: readonly Entry[];
  /** Of a `correct` or `void`: the entry that it speaks of, as it stands on its page; none where there is none. */
  readonly mends: Entry | undefined;
  /** Of one that may speak of several of that name: those. */
  readonly either: readonly Entry[];
  readonly step: Step | undefined;
  /** The stories of the lots that it speaks of. */
  readonly lots: ReadonlyMap<string, LotStory>;
  /** For each of its lots that nothing makes: the nearest name that something does. */
  readonly nearNames: ReadonlyMap<string, string | undefined>;
  /** The entry that holds the same verb and name already, if this one repeats it. */
  readonly repeats: Entry | undefined;
  /** The same object as long as nothing has changed but what its step is held against: what goes by weights alone is kept with this. */
  readonly weighed: object;
}

/** Everything that follows from a journal. Immutable; shares what did not change with the book before. */
export interface Book {
  readonly account: (entry: Entry) => Account;
  /** The balance of a step's entry; its `more` entries share it. None for an entry without flows, a plan or a void. */
  readonly step: (entry: Entry) => Step | undefined;
  readonly lot: (name: string) => LotStory | undefined;
  readonly lotNames: () => Iterable<string>;
  /** What a flow's lot is: as it was received, or as the step that made it left it. */
  readonly make: (flow: Flow) => Make | undefined;
  /** Stands inside an unfinished merge, or an entry whose verb is not known: it may be made there. */
  readonly mentioned: (name: string) => boolean;
}
