/** Bringing an alloy up or down in fineness, and to a composition of several metals. */
import { answer, assume, type Estimate, interpolate, noAnswer, type Result, ROSE } from './result';

/** Mass fractions 0 to 1 by element symbol. */
export type Fractions = ReadonlyMap<string, number>;

export interface Addition {
  /** What to add, g. */
  readonly addGrams: Estimate;
  /** What it then weighs, g. */
  readonly totalGrams: Estimate;
}

const LOSSLESS = assume('nothing is lost in the melt', 'balance of mass');

/**
 * What to add of one thing to bring a lot to a fineness: m₂ = m₁ (target − F₁)/(F₂ − target). Mass in g, finenesses as
 * fractions 0 to 1 (any one scale will do). Fine gold is 1, base alloy 0. No answer unless the target lies between the
 * lot and the addition.
 */
export function additionFor(
  massGrams: number,
  fromFraction: Estimate,
  toFraction: number,
  additionFraction: number,
): Result<Addition> {
  const of = (from: number): number => (massGrams * (toFraction - from)) / (additionFraction - toFraction);
  const up = additionFraction > toFraction;
  const reachable = additionFraction !== toFraction && of(fromFraction.best) >= 0;
  if (!reachable) return noAnswer('the target does not lie between the lot and the addition');
  const ends = [fromFraction.low, fromFraction.high].map((from) => Math.max(0, of(from)));
  const addGrams = { best: of(fromFraction.best), low: Math.min(...ends), high: Math.max(...ends) };
  const totalGrams = {
    best: massGrams + addGrams.best,
    low: massGrams + addGrams.low,
    high: massGrams + addGrams.high,
  };
  return answer({ addGrams, totalGrams }, [LOSSLESS, assume(up ? 'going up' : 'going down', 'balance of metal')]);
}

/**
 * Gold and silver of the carat alloys that are usual, of the whole: 9, 12, 15, 18 and 22 karat by Rose's table, the rest copper. Fine gold holds
 * none; below 9 karat, where the table says nothing, it is taken as at 9.
 */
const USUAL_SILVER: readonly (readonly [number, number])[] = [
  [0, 0.1],
  [0.375, 0.1],
  [0.5, 0.1],
  [0.625, 0.1],
  [0.75, 0.125],
  [0.9167, 0.02],
  [1, 0],
];

/** Silver of a gold alloy as it is usual at a fineness, both as fractions 0 to 1 of the whole; what is left is copper. */
export const usualSilver = (goldFraction: number): number => interpolate(USUAL_SILVER, goldFraction) ?? 0;
export const USUAL_SILVER_SOURCE = `${ROSE}, typical carat alloys, between them by straight lines`;

/** Several lots melted together: what they weigh, g, and what they hold. Masses in g. */
export function blend(parts: readonly { readonly grams: number; readonly fractions: Fractions }[]): {
  readonly grams: number;
  readonly fractions: Fractions;
} {
  const metals = new Map<string, number>();
  for (const { grams, fractions } of parts) {
    for (const [symbol, fraction] of fractions) metals.set(symbol, (metals.get(symbol) ?? 0) + grams * fraction);
  }
  const whole = parts.reduce((sum, { grams }) => sum + grams, 0);
  if (whole <= 0) return { grams: 0, fractions: new Map() };
  return { grams: whole, fractions: new Map([...metals].map(([symbol, grams]) => [symbol, grams / whole])) };
}

export interface AlloyRecipe {
  /** Fine metal to add, g, by element symbol; nothing is 0. */
  readonly addGrams: ReadonlyMap<string, number>;
  readonly totalGrams: number;
}

/** Shares that add up to 1 but for so much are taken as the whole. */
const WHOLE_WITHIN = 0.002;

/**
 * Fine metals to add so that a lot has a composition, with the least metal: the metal that the lot has most of, against
 * the target, is not added to. Works for two metals, three or more. Mass in g, fractions 0 to 1, both summing to 1.
 */
export function toComposition(massGrams: number, from: Fractions, to: Fractions): Result<AlloyRecipe> {
  for (const [name, fractions] of [
    ['the lot', from],
    ['the target', to],
  ] as const) {
    const whole = [...fractions.values()].reduce((sum, each) => sum + each, 0);
    if (Math.abs(whole - 1) > WHOLE_WITHIN) return noAnswer(`the metals of ${name} do not add up to the whole`);
  }
  const stranger = [...from].find(([symbol, fraction]) => fraction > 0 && !((to.get(symbol) ?? 0) > 0));
  if (stranger) return noAnswer(`${stranger[0]} in the lot has no place in the target: refine it out first`);
  const totalGrams = Math.max(...[...to].map(([symbol, share]) => needed(massGrams, from.get(symbol) ?? 0, share)));
  const addGrams = new Map(
    [...to].map(([symbol, share]) => [symbol, Math.max(0, totalGrams * share - massGrams * (from.get(symbol) ?? 0))]),
  );
  return answer({ addGrams, totalGrams }, [LOSSLESS, assume('what is added is fine', 'balance of metal')]);
}

/** Whole alloy that this metal would need if none of it were added. */
const needed = (massGrams: number, has: number, share: number): number => (share > 0 ? (massGrams * has) / share : 0);

/**
 * Two things to add, of given make, so that a lot has two metals as wanted: the two balances Σ x (c − t) = t m − has, solved for both. Mass and
 * contents in g, fractions 0 to 1. No answer where one of them would have to be taken out, or both are alike in these metals.
 */
export function twoAdditions(
  massGrams: number,
  hasGrams: Fractions,
  to: readonly [string, number][],
  makes: readonly [Fractions, Fractions],
): Result<readonly [number, number]> {
  const [first, second] = to.map(([symbol, share]) => ({
    wanted: share * massGrams - (hasGrams.get(symbol) ?? 0),
    gives: makes.map((make) => (make.get(symbol) ?? 0) - share) as [number, number],
  }));
  if (!first || !second) return noAnswer('two things to add want two metals in the target');
  const both = first.gives[0] * second.gives[1] - first.gives[1] * second.gives[0];
  if (Math.abs(both) < 1e-9) return noAnswer('the two are alike in what the target names');
  const one = (first.wanted * second.gives[1] - first.gives[1] * second.wanted) / both;
  const other = (first.gives[0] * second.wanted - second.gives[0] * first.wanted) / both;
  if (one < 0 || other < 0) return noAnswer('one of the two would have to be taken out');
  return answer([one, other], [LOSSLESS]);
}

/** Fractions by mass from fractions by atom, or back with `toMoles`. The weights are atomic weights, g/mol. */
export function massFromMoles(moleFractions: Fractions, weightOf: (symbol: string) => number): Fractions {
  return normalised(moleFractions, (symbol, fraction) => fraction * weightOf(symbol));
}

export function molesFromMass(massFractions: Fractions, weightOf: (symbol: string) => number): Fractions {
  return normalised(massFractions, (symbol, fraction) => fraction / weightOf(symbol));
}

function normalised(fractions: Fractions, amount: (symbol: string, fraction: number) => number): Fractions {
  const amounts = [...fractions].map(([symbol, fraction]) => [symbol, amount(symbol, fraction)] as const);
  const whole = amounts.reduce((sum, [, each]) => sum + each, 0);
  return new Map(amounts.map(([symbol, each]) => [symbol, each / whole]));
}
