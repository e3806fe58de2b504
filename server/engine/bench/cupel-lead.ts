/** Lead that a cupellation wants for the base metal in the button. */
import {
  type Assumption,
  answer,
  assume,
  BERINGER,
  COMMON_PRACTICE,
  type Estimate,
  FROM_MEMORY,
  ISO_11426,
  interpolateHeld,
  noAnswer,
  type Result,
  times,
} from './result';

/** Copper as a fraction, and lead for 1 g of a silver-copper alloy, g. */
const SILVER_COPPER: readonly (readonly [number, number])[] = [
  [0.05, 6],
  [0.1, 8],
  [0.2, 10],
  [0.3, 12],
  [0.5, 17],
];
/** From half copper on, 16 to 18 g. */
const MUCH_COPPER: Estimate = { low: 16, best: 17, high: 18 };

/** Lead for a silver-copper alloy, g. Mass in g, copper as a fraction 0 to 1; straight lines between the published figures. */
export function leadForSilver(alloyGrams: number, copperFraction: number): Result<Estimate> {
  if (!(copperFraction >= 0 && copperFraction <= 1)) return noAnswer('copper must be a share of the alloy');
  const copper = asWritten(copperFraction);
  const perGram = interpolateHeld(SILVER_COPPER, copper);
  const range = copper >= 0.5 ? MUCH_COPPER : { low: perGram - spreadBelow(copper), best: perGram, high: perGram };
  return answer(times(range, alloyGrams), [
    assume('lead for silver by its copper: 5 % 6 g, 10 % 8, 20 % 10, 30 % 12, from half 16 to 18 a gram', BERINGER),
    ...(copper < 0.05 ? [assume('under 5 % copper the figure for 5 % is kept; less may do', FROM_MEMORY)] : []),
  ]);
}

/** A share that was divided misses a figure of a table by its last digit. */
const asWritten = (share: number): number => Number(share.toFixed(9));

/** Under 5 % copper as little as 4 g a gram may do. */
const spreadBelow = (copperFraction: number): number => 2 * Math.max(0, 1 - copperFraction / 0.05);

/** Copper as a fraction, and by how much the lead of a gold assay is multiplied. */
const GOLD_COPPER: readonly (readonly [number, number])[] = [
  [0.05, 1],
  [0.2, 2],
  [0.4, 3],
  [0.6, 4],
];
/** Sample, g, and lead for it, g, with little copper: 3 g for 0.3 g, 4 g for 0.5 g, and in proportion outside. */
const GOLD_SAMPLE: readonly (readonly [number, number])[] = [
  [0, 0],
  [0.3, 3],
  [0.5, 4],
];
const GOLD_PER_GRAM_ABOVE = 8;

/** Lead for gold bullion or a gold-rich button, g: 4 g for 0.5 g, doubled at a fifth of copper, fourfold above 60 %. */
export function leadForGold(alloyGrams: number, copperFraction: number): Result<Estimate> {
  if (!(copperFraction >= 0 && copperFraction <= 1)) return noAnswer('copper must be a share of the alloy');
  const plain = alloyGrams > 0.5 ? GOLD_PER_GRAM_ABOVE * alloyGrams : interpolateHeld(GOLD_SAMPLE, alloyGrams);
  const copper = asWritten(copperFraction);
  const best = plain * interpolateHeld(GOLD_COPPER, copper);
  const step = plain * (GOLD_COPPER.findLast(([from]) => copper >= from)?.[1] ?? 1);
  const next = plain * (GOLD_COPPER.find(([from]) => copper <= from)?.[1] ?? 4);
  return answer({ best, low: step, high: next }, [
    assume(
      '4 g lead for 0.5 g gold bullion, 3 g for 0.3 g; twice at 20 % copper, thrice at 40, four times above 60',
      BERINGER,
    ),
    ...(alloyGrams > 0.5 ? [assume('8 g a gram above half a gram', 'in proportion, no source')] : []),
    ...(alloyGrams < 0.3
      ? [assume('10 g a gram below 0.3 g; more does no harm but for its loss', 'in proportion, no source')]
      : []),
  ]);
}

/** Least lead foil for a jewellery assay, g: 4 g up to 200 mg of sample, 6 g up to 300 mg, 4 g more with nickel. */
export function leadForJewellery(sampleMilligrams: number, nickel: boolean): Result<number> {
  if (!(sampleMilligrams > 0 && sampleMilligrams <= 300)) return noAnswer('the method takes samples up to 300 mg');
  const plain = sampleMilligrams <= 200 ? 4 : 6;
  return answer(plain + (nickel ? 4 : 0), [assume('least lead foil', ISO_11426)]);
}

/** A button to be cupelled; fractions 0 to 1 of its mass, undefined where it is not known. */
export interface Button {
  readonly grams: number;
  readonly gold: number | undefined;
  readonly silver: number | undefined;
  /** Copper and what else oxidises, lead left out. */
  readonly base: number | undefined;
  /** Lead that is in it already. */
  readonly lead?: number;
}

export interface LeadAdvice {
  /** Lead to add, g. */
  readonly addGrams: Estimate;
  /** Lead in all, with the button's own, g. */
  readonly totalGrams: Estimate;
  readonly by: 'silver table' | 'gold table' | 'unknown base metal' | 'larger lot';
}

/** Gold above this share of gold and silver takes the gold table. */
const GOLD_RICH = 0.5;
/** Lead of a silver button with gold in it, against the table without. */
const WITH_GOLD = 2;

/**
 * Lead for a button: by the table for gold or for silver with copper; with gold in silver up to twice as much. Base metal
 * that nobody knows: about the button's own weight to start, and more if the bead does not brighten.
 */
export function leadFor(button: Button): Result<LeadAdvice> {
  const { grams, lead = 0 } = button;
  if (!(grams > 0)) return noAnswer('the button is not weighed');
  const own = grams * lead;
  const base = button.base ?? baseByRest(button);
  if (base === undefined) return answer(adviceOf(times(UNKNOWN_BASE, grams), own, 'unknown base metal'), [UNKNOWN]);
  const alloy = grams * (1 - lead);
  const copper = lead < 1 ? base / (1 - lead) : 0;
  const [gold, silver] = [button.gold ?? 0, button.silver ?? 0];
  const rich = gold > GOLD_RICH * (gold + silver);
  const table = rich ? leadForGold(alloy, copper) : leadForSilver(alloy, copper);
  if (table.value === undefined) return table;
  const doubled = !rich && gold > 0 ? { ...table.value, high: WITH_GOLD * table.value.high } : table.value;
  const assumed: Assumption[] = [...table.assumed];
  if (!rich && gold > 0) assumed.push(assume('with gold in it up to about double', BERINGER));
  assumed.push(ALL_AS_COPPER);
  return answer(adviceOf(doubled, own, rich ? 'gold table' : 'silver table'), assumed);
}

/** The assay tables were made with samples up to about so much, g. */
export const MOST_ASSAY_GRAMS = 1;
/** Parts of lead for a part of copper: the least that a table gives, which is that for copper alone. */
export const LEAST_FOR_COPPER = 16;
/** Lead of a larger lot against its own weight: to begin with, and at most. */
const OWN_WEIGHT = { least: 1, most: 4 };

/**
 * Lead for a lot of more than an assay's weight, all masses in g; its base metal without lead, where that is known. The tables' figures by
 * the gram come to absurd amounts for it: a lot is begun with about its own weight, and at least with 16 parts for a part of base metal.
 * `unnamedGrams` is base metal of no known kind: it may want 16 parts as copper does, or none, and the lot is begun as if it wanted none.
 */
export function leadForLot(
  lotGrams: number,
  baseGrams: Estimate | undefined,
  ownLeadGrams = 0,
  unnamedGrams: Estimate = NO_METAL,
): Result<LeadAdvice> {
  if (!(lotGrams > 0)) return noAnswer('the lot is not weighed');
  // Lead that is in it wants no lead itself.
  const own = Math.max(0, lotGrams - ownLeadGrams);
  const [least, most] = [OWN_WEIGHT.least * own, OWN_WEIGHT.most * own];
  if (!baseGrams) {
    const total = { low: least, best: least, high: most };
    return answer(adviceOf(total, ownLeadGrams, 'unknown base metal'), [UNKNOWN, UP_TO]);
  }
  const forBase = times(baseGrams, LEAST_FOR_COPPER);
  const total = {
    low: Math.max(least, forBase.low),
    best: Math.max(least, forBase.best),
    high: Math.max(most, forBase.high + LEAST_FOR_COPPER * unnamedGrams.high),
  };
  if (unnamedGrams.best <= NEXT_TO_NONE * own)
    return answer(adviceOf(total, ownLeadGrams, 'larger lot'), [OWN, UP_TO, FOR_COPPER, ALL_AS_COPPER]);
  return answer(adviceOf(total, ownLeadGrams, 'larger lot'), [
    forBase.best > least ? OWN : UNKNOWN,
    UP_TO,
    FOR_COPPER,
    NOT_NAMED,
  ]);
}

const NO_METAL: Estimate = { low: 0, best: 0, high: 0 };
/** Base metal of no known kind below this share of a lot wants no word: a guess. */
export const NEXT_TO_NONE = 0.01;
const NOT_NAMED = assume(
  'which base metal it is nobody said: to begin with it is not counted, at the most it is all copper',
  'what gold and silver leave',
);

const OWN = assume('a lot is begun with about its own weight of lead', COMMON_PRACTICE);
const UP_TO = assume('and has up to four times its weight before it is looked at again', COMMON_PRACTICE);
const FOR_COPPER = assume('16 parts of lead for a part of copper is the least that a table gives', BERINGER);
const ALL_AS_COPPER = assume('all base metal counts as copper', FROM_MEMORY);

const UNKNOWN_BASE: Estimate = { low: 1, best: 1, high: 4 };
const UNKNOWN = assume("base metal not known: about the button's own weight to start", COMMON_PRACTICE);

/** What gold, silver and lead leave, where both gold and silver are known. */
function baseByRest({ gold, silver, lead = 0 }: Button): number | undefined {
  if (gold === undefined || silver === undefined) return undefined;
  return Math.max(0, 1 - gold - silver - lead);
}

function adviceOf(total: Estimate, own: number, by: LeadAdvice['by']): LeadAdvice {
  const add = (wanted: number): number => Math.max(0, wanted - own);
  return { totalGrams: total, addGrams: { best: add(total.best), low: add(total.low), high: add(total.high) }, by };
}
