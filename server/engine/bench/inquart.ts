/** How much silver a parting alloy needs, and which assays must be known to say so. */
import {
  type Assumption,
  answer,
  assume,
  BERINGER,
  type Estimate,
  FROM_MEMORY,
  ISO_11426,
  noAnswer,
  type Result,
} from './result';

/** A ratio of silver to gold by mass, from `low` on, and what the acid makes of it. */
export interface RatioBand {
  readonly low: number;
  readonly does: string;
  readonly source: string;
}

/** From the poorest in silver to the richest; a band ends where the next begins. */
const RATIO_BANDS: readonly RatioBand[] = [
  { low: 0, does: 'acid hardly gets in: much of the silver stays', source: BERINGER },
  { low: 1.7, does: 'still parts almost completely, and the gold stays coherent', source: BERINGER },
  { low: 2.3, does: 'parts well: the jewellery assay takes 2.3 to 3', source: ISO_11426 },
  { low: 3, does: 'parts, and the gold begins to fall to powder: wash with care', source: BERINGER },
];

export function ratioBand(silverToGold: number): RatioBand {
  return RATIO_BANDS.findLast((band) => silverToGold >= band.low) ?? RATIO_BANDS[0]!;
}

/** Ratios by use: oldest practice, bullion and beads, and the window of the jewellery assay. */
export const USUAL_RATIO = 2.5;
const JEWELLERY_RATIO = { low: 2.3, high: 3 };

/** Silver to add to reach a ratio of silver to gold, never below 0. Any one unit of mass. */
export function silverToAdd(gold: number, silver: number, silverToGold: number): number {
  return Math.max(0, silverToGold * gold - silver);
}

/** What the parting alloy weighs once base metal is gone: (1 + ratio) × gold. Any one unit of mass. */
export const partingAlloyMass = (gold: number, silverToGold: number): number => (1 + silverToGold) * gold;

/** A share of the mass as far as it is known: an assay is one figure or a range, and `undefined` is not known. */
export type KnownFraction = Estimate | undefined;

export interface InquartAdvice {
  /** Fine silver to add, g. */
  readonly silverGrams: Estimate;
  /** Gold and silver together, g, after the silver is in and base metal is gone. */
  readonly alloyGrams: Estimate;
  /** Ratio of silver to gold as it is, where the silver is known. */
  readonly ratioNow: Estimate | undefined;
  /** What is still to be found out before the figure can be trusted. */
  readonly toAssay: readonly ('gold' | 'silver')[];
}

/**
 * Silver for inquarting a lot. Mass in g, gold and silver as fractions 0 to 1. Gold must be known; silver that is not
 * known lies between none and all that is not gold, and the answer spreads accordingly: its high bound assumes none.
 */
export function inquart(
  massGrams: number,
  goldFraction: KnownFraction,
  silverFraction: KnownFraction,
  silverToGold = USUAL_RATIO,
): Result<InquartAdvice> {
  if (!goldFraction) return noAnswer('the gold is not known: assay it first');
  if (goldFraction.high <= 0) return noAnswer('there is no gold to part');
  const silver = silverFraction ?? unknownSilver(goldFraction);
  const add = (gold: number, has: number): number => massGrams * silverToAdd(gold, has, silverToGold);
  const silverGrams: Estimate = {
    best: add(goldFraction.best, silver.best),
    low: add(goldFraction.low, silver.high),
    high: add(goldFraction.high, silver.low),
  };
  const value: InquartAdvice = {
    silverGrams,
    alloyGrams: alloyOf(massGrams, goldFraction, silver, silverGrams),
    ratioNow: silverFraction && ratioOf(goldFraction, silverFraction),
    toAssay: silverFraction ? [] : ['silver'],
  };
  return answer(value, assumptions(silverToGold, silverFraction));
}

function unknownSilver({ high, best, low }: Estimate): Estimate {
  return { low: 0, best: Math.max(0, 1 - best) / 2, high: Math.max(0, 1 - Math.min(low, high)) };
}

function alloyOf(massGrams: number, gold: Estimate, silver: Estimate, added: Estimate): Estimate {
  const of = (goldShare: number, silverShare: number, more: number): number =>
    massGrams * Math.min(1, goldShare + silverShare) + more;
  const ends = [of(gold.low, silver.high, added.low), of(gold.high, silver.low, added.high)];
  const best = of(gold.best, silver.best, added.best);
  return { best, low: Math.min(best, ...ends), high: Math.max(best, ...ends) };
}

function ratioOf(gold: Estimate, silver: Estimate): Estimate | undefined {
  if (gold.low <= 0) return undefined;
  return { best: silver.best / gold.best, low: silver.low / gold.high, high: silver.high / gold.low };
}

function assumptions(silverToGold: number, silverFraction: KnownFraction): Assumption[] {
  const band = ratioBand(silverToGold);
  const assumed = [
    assume(`silver to gold ${silverToGold} : 1; ${band.does}`, band.source),
    assume('the ratio counts fine gold, not the whole alloy; the silver added is fine', FROM_MEMORY),
  ];
  if (!silverFraction)
    assumed.push(assume('silver in the lot is not known: from none to all that is not gold', 'bounds'));
  return assumed;
}

/** Silver from the low to the high end of a window of ratios, g, for a lot whose own silver is left out of account. */
export function silverWindow(massGrams: number, goldFraction: number, window = JEWELLERY_RATIO): Estimate {
  const gold = massGrams * goldFraction;
  return { low: window.low * gold, high: window.high * gold, best: ((window.low + window.high) / 2) * gold };
}
