/**
 * One step as metals see it: how much of each went in by every lot, and which products hold it. Forward it tells a product by what went in,
 * backward a charge by what came out.
 */
import type { ErrorSource, Measured } from '../../quantity/measured';
import type { FlowWeight, Step } from '../book';
import { addedParts, chargeOf, feedParts, type MakeOf } from '../charge';
import type { Entry, Flow } from '../entry';
import { findMaterial } from '../shelf';
import { isSmelt } from '../usual';
import type { Material, Workshop } from '../workshop';
import { between } from './assays';
import { type Acid, destinyOf, FOLLOWED, fateOf, type Group, groupOf, natureOf } from './destiny';
import {
  certain,
  fromMeasured,
  type Inexact,
  inexact,
  minus,
  NOTHING,
  over,
  plus,
  scaled,
  spread,
  sum,
  times,
} from './inexact';
import {
  completed,
  type Knowledge,
  type Known,
  known,
  type MetalGround,
  NOTHING_KNOWN,
  PRECIOUS,
  withinBounds,
  worseGround,
} from './known';

/** A lot on its way into a step or out of it. */
export interface Passing {
  readonly flow: Flow;
  /** Grams, or millilitres of a solution; none when not known. */
  readonly amount: Inexact | undefined;
  readonly unit: 'gram' | 'millilitre';
  readonly group: Group;
}

export interface Passage {
  /** By itself: not held against what others lost. */
  readonly step: Step;
  readonly inputs: readonly Passing[];
  readonly outputs: readonly Passing[];
  /** Metal from the shelf, grams by symbol; a material that nobody knows holds none. */
  readonly added: ReadonlyMap<string, Inexact>;
  /** A charge for slag rather than for metal. */
  readonly smelt: boolean;
  readonly acid: Acid;
}

/** `amountOf` tells what a flow without a weight of its own holds, as its lot's story has it. */
export const passageOf = (
  step: Step,
  workshop: Workshop,
  makeOf: MakeOf,
  amountOf: (flow: Flow) => Inexact | undefined,
): Passage => {
  const passing = ({ flow, mass, volume }: FlowWeight): Passing => ({
    flow,
    amount: sized(mass ?? solvedFor(step, flow) ?? volume) ?? amountOf(flow),
    unit: groupOf(flow.kind, step.entry.verb) === 'liquid' || (!mass && volume) ? 'millilitre' : 'gram',
    group: groupOf(flow.kind, step.entry.verb),
  });
  const real = ({ flow }: FlowWeight): boolean => !flow.none;
  return {
    step,
    inputs: step.inputs.filter(real).map(passing),
    outputs: step.outputs.filter(real).map(passing),
    added: addedMetals(step, workshop),
    smelt: smelts(step, workshop, makeOf),
    acid: acidOf(step, workshop),
  };
};

const smelts = (step: Step, workshop: Workshop, makeOf: MakeOf): boolean =>
  isSmelt(
    chargeOf({
      added: addedParts(step.added, workshop),
      feed: feedParts(step.inputs, workshop, makeOf),
      gasGrams: step.gas.value.toNumber(),
      outputs: step.outputs,
      material: undefined,
      cupelGain: undefined,
    }),
  );

const acidOf = ({ added }: Step, workshop: Workshop): Acid => {
  const acids = addedAcids(added, workshop);
  if (acids.length === 0) return undefined;
  const isNitric = acids.every(({ composition }) => composition.some(({ what }) => what === 'HNO3'));
  return isNitric ? 'nitric acid' : 'mixed acids';
};

const addedAcids = (added: readonly FlowWeight[], workshop: Workshop): readonly Material[] =>
  added.flatMap(({ flow: { material } }) => {
    const found = material && findMaterial(workshop, material.name);
    return found?.group === 'acid' ? [found] : [];
  });

const solvedFor = (step: Step, flow: Flow): Measured | undefined =>
  step.solved?.flow === flow ? step.solved.mass : undefined;

const sized = (amount: Measured | undefined): Inexact | undefined =>
  amount?.value.greaterThan(0) ? fromMeasured(amount) : undefined;

const addedMetals = (step: Step, workshop: Workshop): ReadonlyMap<string, Inexact> => {
  const metals = new Map<string, Inexact>();
  for (const { material, item } of addedParts(step.added, workshop)) {
    for (const { what, fraction } of material?.composition ?? []) {
      if (!FOLLOWED.has(what) || fraction <= 0) continue;
      const grams = inexact(item.massGrams * fraction, item.u ?? 0, { label: what });
      metals.set(what, plus(metals.get(what) ?? NOTHING, grams));
    }
  }
  const precious = sum(['Au', 'Ag'].flatMap((metal) => metals.get(metal) ?? []));
  if (precious.value > 0) metals.set(PRECIOUS, precious);
  return metals;
};

/** What is known of a lot as it passes. */
export type Knows = (passing: Passing) => Knowledge;

interface Total {
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
const inferredFrom = (ground: MetalGround): MetalGround => (ground === 'guessed' ? 'guessed' : 'inferred');

/** Metals that the knowledge of any of these lots, or the shelf, speaks of. */
const metalsOf = (passage: Passage, passings: readonly Passing[], knows: Knows): Set<string> => {
  const metals = new Set<string>(passage.added.keys());
  for (const passing of passings) for (const metal of knows(passing).keys()) metals.add(metal);
  return metals;
};

/** Past this width a usual share may be anything, and tells nothing. */
const TELLS_NOTHING = 0.5;

export const held = (passage: Passage, group: Group, metal: string): Inexact | undefined => {
  const { verb } = passage.step.entry;
  const { low, high } = destinyOf(verb, group, fateOf(metal), passage)?.held ?? { low: 0, high: 1 };
  if (high - low > TELLS_NOTHING) return undefined;
  return low === high ? certain(low) : between(low, high, `what ${verb} usually keeps`);
};

const isAlike = (passage: Passage, group: Group): boolean =>
  destinyOf(passage.step.entry.verb, group, 'gold', passage)?.alike ?? false;

const peersOf = (passage: Passage, { group }: Passing): readonly Passing[] =>
  passage.outputs.filter((other) => other.group === group);

/**
 * What a product holds by what was charged; by what came out beside it, where the charge is not known. `charge` knows the inputs, `beside`
 * the other products.
 */
export const forward = (passage: Passage, product: Passing, charge: Knows, beside: Knows): Knowledge => {
  const knowledge = new Map<string, Known>();
  const peers = peersOf(passage, product);
  const others = passage.outputs.filter((other) => other !== product);
  for (const metal of new Set([...metalsOf(passage, passage.inputs, charge), ...metalsOf(passage, others, beside)])) {
    const told =
      asTheWhole(passage, metal, charge) ??
      fromPeers(passage, product, peers, metal, beside) ??
      fromCharge(passage, product, peers, metal, charge, beside);
    if (told) knowledge.set(metal, withinBounds(told));
  }
  return completed(knowledge);
};

/** Cut from one piece: what is known of it holds for every part, whatever the weights say. */
const asTheWhole = ({ step, inputs }: Passage, metal: string, charge: Knows): Known | undefined => {
  const [only, ...others] = step.entry.verb === 'split' ? inputs : [];
  const one = only && others.length === 0 ? charge(only).get(metal) : undefined;
  return one?.share && one.ground !== 'guessed' ? { ...one, ground: 'carried', by: [step.entry] } : undefined;
};

/** Poured from the same melt, cut from the same piece. */
const fromPeers = (
  passage: Passage,
  product: Passing,
  peers: readonly Passing[],
  metal: string,
  beside: Knows,
): Known | undefined => {
  if (peers.length < 2 || !isAlike(passage, product.group)) return undefined;
  for (const peer of peers) {
    const one = peer === product ? undefined : beside(peer).get(metal);
    if (one?.share && one.ground !== 'guessed') return { ...one, ground: 'carried', by: [passage.step.entry] };
  }
  return undefined;
};

const fromCharge = (
  passage: Passage,
  product: Passing,
  peers: readonly Passing[],
  metal: string,
  charge: Knows,
  beside: Knows,
): Known | undefined => {
  const { amount, group } = product;
  const by = [passage.step.entry];
  const share = held(passage, group, metal);
  const whole = peers.length === 1 || isAlike(passage, group) ? total(peers) : undefined;
  const went = charged(passage, metal, charge);
  const found = went.grams && went.ground !== 'guessed' ? went : (fromBeside(passage, product, metal, beside) ?? went);
  const reach = product.unit === 'gram' ? 1 : Number.POSITIVE_INFINITY;
  const most = amount && amount.value > 0 ? Math.min(reach, went.high / amount.value) : reach;
  if (found.grams && share && whole && whole.value > 0) {
    const ground = group === 'metal' || group === 'liquid' ? found.ground : 'guessed';
    return known(over(times(found.grams, share), whole), ground, by, 0, most);
  }
  return most < reach ? { share: undefined, low: 0, high: most, ground: went.ground, by } : undefined;
};

const total = (passings: readonly Passing[]): Inexact | undefined =>
  passings.every(({ amount }) => amount) ? sum(passings.map(({ amount }) => amount!)) : undefined;

/** All that went in, by the products beside that usually hold most of it. */
const fromBeside = (passage: Passage, product: Passing, metal: string, beside: Knows): Total | undefined => {
  for (const group of new Set(passage.outputs.map((one) => one.group))) {
    const share = group === product.group ? undefined : held(passage, group, metal);
    if (!share || share.value < 0.5) continue;
    const holds = contents(
      passage,
      passage.outputs.filter((one) => one.group === group),
      metal,
      beside,
    );
    if (holds) return { ...holds, grams: over(holds.grams, share), low: 0, high: Number.POSITIVE_INFINITY };
  }
  return undefined;
};

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
    if (!one?.share || !product.amount) return undefined;
    grams = plus(grams, times(product.amount, one.share));
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

/** What a product is by its kind, whatever went in. */
export const byNature = (passage: Passage, { flow }: Passing): Knowledge => {
  const nature = natureOf(passage.step.entry.verb, flow.kind, new Set(passage.added.keys()));
  if (!nature || flow.amount?.states.includes('wet')) return NOTHING_KNOWN;
  const { low, high } = nature.share;
  return new Map([[nature.metal, known(between(low, high, nature.source), nature.ground, [passage.step.entry], 0, 1)]]);
};

/**
 * What a charge held by what came of it. `after` knows the products, `charge` the other inputs. Products that are alike with the charge, as in
 * a split, speak for it as they are.
 */
export const backward = (passage: Passage, input: Passing, charge: Knows, after: Knows): Knowledge => {
  const knowledge = new Map<string, Known>();
  if (!input.amount || input.amount.value <= 0) return knowledge;
  for (const metal of metalsOf(passage, passage.outputs, after)) {
    const found = cameOut(passage, metal, after);
    if (!found) continue;
    const own = withoutOthers(passage, input, metal, found, charge);
    if (!own) continue;
    const share = over(own.grams, input.amount);
    const most = input.unit === 'gram' ? 1 : Number.POSITIVE_INFINITY;
    const told = known(share, own.ground, [passage.step.entry], 0, most);
    // A figure within its bounds keeps its errors as they are: what another charge holds more, this one holds less.
    knowledge.set(metal, share.value >= 0 && share.value <= most ? told : withinBounds(told));
  }
  return completed(knowledge);
};

/** All of a metal that the step must have been given, by its products. */
const cameOut = (passage: Passage, metal: string, after: Knows): Contents | undefined => {
  const groups = new Set(passage.outputs.map(({ group }) => group));
  let best: Contents | undefined;
  let most = 0.5;
  for (const group of groups) {
    const share = held(passage, group, metal);
    if (!share || share.value < most) continue;
    const products = passage.outputs.filter((one) => one.group === group);
    const holds = contents(passage, products, metal, after);
    if (!holds) continue;
    best = { ...holds, grams: over(holds.grams, share) };
    most = share.value;
  }
  return surer(best, allTogether(passage, metal, after));
};

const surer = (one: Contents | undefined, other: Contents | undefined): Contents | undefined =>
  one && other ? (spread(one.grams) <= spread(other.grams) ? one : other) : (one ?? other);

/** Where no group of products usually holds most of it, all of them must be known. */
const allTogether = (passage: Passage, metal: string, after: Knows): Contents | undefined =>
  passage.outputs.length > 1 ? contents(passage, passage.outputs, metal, after) : undefined;

const withoutOthers = (
  passage: Passage,
  input: Passing,
  metal: string,
  all: Contents,
  charge: Knows,
): Contents | undefined => {
  let { grams, ground } = all;
  grams = minus(grams, passage.added.get(metal) ?? NOTHING);
  const unknown: Passing[] = [input];
  for (const other of passage.inputs) {
    if (other === input) continue;
    const one = charge(other).get(metal);
    if (!other.amount) return undefined;
    if (!one?.share) {
      unknown.push(other);
      continue;
    }
    grams = minus(grams, times(other.amount, one.share));
    ground = worseGround(ground, inferredFrom(one.ground));
  }
  if (unknown.length === 1) return { grams, ground, by: all.by };
  return { grams: dividedAmong(passage, input, unknown, grams), ground: 'guessed', by: all.by };
};

/** Of each charge: how much more or less of what cannot be told apart may be in it. */
const divisions = new WeakMap<Passing, ErrorSource>();

/**
 * The part of one of several charges that nothing tells apart: by weight, give or take what a rectangle over the whole would. What one holds
 * more the others hold less, so that all of them together are as well known as the whole.
 */
const dividedAmong = (passage: Passage, input: Passing, unknown: readonly Passing[], whole: Inexact): Inexact => {
  const inOrder = passage.inputs.filter((one) => unknown.includes(one));
  const weight = (one: Passing): number => one.amount?.value ?? 0;
  const total = inOrder.reduce((so, one) => so + weight(one), 0);
  const size = Math.max(0, whole.value) / Math.sqrt(12);
  let part = scaled(whole, weight(input) / total);
  for (const other of inOrder) {
    const source = divisions.get(other) ?? { label: 'division among charges' };
    divisions.set(other, source);
    part = plus(part, { value: 0, sources: [source], sizes: [other === input ? size : -size / (inOrder.length - 1)] });
  }
  return part;
};
