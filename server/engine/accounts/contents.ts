/** How much of a metal went into a step, and how much its products hold. */
import type { Entry } from '../entry';
import type { Range } from '../workshop';
import { between } from './assays';
import { destinyOf, fateOf, type Group } from './destiny';
import { certain, type Inexact, minus, NOTHING, plus, times } from './inexact';
import { type Knowledge, type Known, type MetalGround, worseGround } from './known';
import type { Passage, Passing } from './passage';

/** What is known of a lot as it passes. */
export type Knows = (passing: Passing) => Knowledge;

export interface Total {
  readonly grams: Inexact | undefined;
  readonly low: number;
  readonly high: number;
  readonly ground: MetalGround;
}

/** All of a metal that went in. */
export const charged = (passage: Passage, metal: string, knows: Knows): Total => {
  let grams: Inexact | undefined = passage.added.get(metal) ?? NOTHING;
  let [low, high] = [grams.value, grams.value];
  let ground: MetalGround = 'carried';
  for (const input of passage.inputs) {
    const { amount } = input;
    const one = knows(input).get(metal);
    low += (amount?.value ?? 0) * (one?.low ?? 0);
    high += amount ? amount.value * Math.min(1, one?.high ?? 1) : Number.POSITIVE_INFINITY;
    if (one) ground = worseGround(ground, carriedFrom(one.ground));
    grams = grams && amount && one?.share ? plus(grams, times(amount, one.share)) : undefined;
  }
  return { grams, low, high, ground };
};

const carriedFrom = (ground: MetalGround): MetalGround => (ground === 'guessed' ? 'guessed' : 'carried');
export const inferredFrom = (ground: MetalGround): MetalGround => (ground === 'guessed' ? 'guessed' : 'inferred');

/** Metals that the knowledge of any of these lots, or the shelf, speaks of. */
export const metalsOf = (passage: Passage, passings: readonly Passing[], knows: Knows): Set<string> => {
  const metals = new Set<string>(passage.added.keys());
  for (const passing of passings) for (const metal of knows(passing).keys()) metals.add(metal);
  return metals;
};

/** Past this width a usual share may be anything, and tells nothing. */
const TELLS_NOTHING = 0.5;

/** What usually stays, whatever the weights say: an assay is held against this. */
export const held = (passage: Passage, group: Group, metal: string): Inexact | undefined =>
  inOrder(usually(passage, group, metal), passage);

/**
 * As far as the step is in order: of what it lost or gained beyond the usual nobody knows what it was. `grams` is how much of the metal went through
 * it, where that is known.
 */
export const kept = (passage: Passage, group: Group, metal: string, grams?: number): Inexact | undefined => {
  const share = inOrder(byWeights(usually(passage, group, metal), passage, group, metal, grams), passage);
  return share && passage.astray ? times(share, passage.astray) : share;
};

const usually = (passage: Passage, group: Group, metal: string): Range | undefined =>
  destinyOf(passage.step.entry.verb, group, fateOf(metal), passage)?.held;

/** What a heat usually loses it did not lose where its metal weighs as much as before. */
const byWeights = (
  usual: Range | undefined,
  { mostLostGrams }: Passage,
  group: Group,
  metal: string,
  grams = 0,
): Range | undefined => {
  if (!usual || mostLostGrams === undefined || !(grams > 0) || fateOf(metal) === 'base') return usual;
  const { low, high } = usual;
  const most = mostLostGrams / grams;
  if (group === 'metal') return { low: Math.min(high, Math.max(low, 1 - most)), high };
  return group === 'slag' ? { low, high: Math.max(low, Math.min(high, most)) } : usual;
};

const inOrder = (usual: Range | undefined, { step, seenLost }: Passage): Inexact | undefined => {
  if (!usual || usual.high - usual.low > TELLS_NOTHING) return undefined;
  const { low, high } = usual;
  const share = low === high ? certain(low) : between(low, high, `what ${step.entry.verb} usually keeps`);
  return seenLost ? times(share, minus(certain(1), seenLost)) : share;
};

export const isAlike = (passage: Passage, group: Group): boolean =>
  destinyOf(passage.step.entry.verb, group, 'gold', passage)?.alike ?? false;

export const peersOf = (passage: Passage, { group }: Passing): readonly Passing[] =>
  passage.outputs.filter((other) => other.group === group);

export interface Contents {
  readonly grams: Inexact;
  readonly ground: MetalGround;
  /** What it rests on first. */
  readonly by: readonly Entry[];
}

/**
 * Metal in some products, each by what is known of itself; of products that are alike one that is known speaks for those that are not.
 * Undefined where nothing is known of one.
 */
export const contents = (
  passage: Passage,
  products: readonly Passing[],
  metal: string,
  knows: Knows,
): Contents | undefined => {
  let grams: Inexact = NOTHING;
  let ground: MetalGround = 'inferred';
  const by: Entry[] = [];
  for (const product of products) {
    const one = shareIn(product, metal, knows) ?? spokenFor(passage, product, products, metal, knows);
    // None of it is none of however much.
    const amount = product.amount ?? (one?.share?.value === 0 ? NOTHING : undefined);
    if (!one?.share || !amount) return undefined;
    grams = plus(grams, times(amount, one.share));
    ground = worseGround(ground, inferredFrom(one.ground));
    by.push(...one.by);
  }
  return { grams, ground, by };
};

const shareIn = (product: Passing, metal: string, knows: Knows): Known | undefined => {
  const one = knows(product).get(metal);
  return one?.share ? one : undefined;
};

const spokenFor = (
  passage: Passage,
  { group }: Passing,
  products: readonly Passing[],
  metal: string,
  knows: Knows,
): Known | undefined => {
  if (!isAlike(passage, group)) return undefined;
  for (const other of products) {
    const one = other.group === group ? shareIn(other, metal, knows) : undefined;
    if (one) return one;
  }
  return undefined;
};
