/**
 * Metal alone through a heat: a button weighs no more than the metal that was charged, and little less, however much flux, slag or lead went
 * round it. The balance of the whole charge is too coarse to show it.
 */
import { add, type Measured, subtract, uncertainty } from '../quantity/measured';
import { element } from '../vocabulary/elements';
import type { FlowWeight, Make, Step } from './book';
import { addedParts, feedParts, isMetalKind, metalFume, metalShare } from './charge';
import type { Flow } from './entry';
import { findMaterial } from './shelf';
import { balanceRow, lossName, metalLoss } from './usual';
import type { Workshop } from './workshop';

export interface MetalGain {
  /** Metal that went in, as far as it can come out again: without the lead of a cupellation. Grams. */
  readonly charged: Measured;
  /** Metal that came out and was weighed. */
  readonly out: Measured;
  /** out − charged; above zero, and beyond weighing. */
  readonly gained: Measured;
}

export interface MetalLoss {
  /** Metal that went in, in grams. */
  readonly charged: Measured;
  /** charged − out − seen to be lost; above the usual, and beyond weighing. */
  readonly missing: Measured;
  /** What such a heat usually loses of this metal, in grams, at most; and what that rests on. */
  readonly usual: number;
  readonly why: string;
}

/** Verbs whose metal comes out as metal. */
const HEATS: ReadonlySet<string> = new Set(['melt', 'cast', 'cupel']);
/** What a cupel keeps: base metal charged there does not come back. */
const NOBLE: ReadonlySet<string> = new Set(['Au', 'Ag', 'Pt', 'Pd']);

/**
 * The metal that a heat seems to have made. None where nothing is wrong, or where it cannot be told: a feed that is not known to be metal, a
 * weight not known, or a charge that may itself yield metal (litharge, chloride, oxides).
 */
export function metalGain(
  step: Step,
  workshop: Workshop,
  makeOf: (flow: Flow) => Make | undefined,
): MetalGain | undefined {
  const { verb } = step.entry;
  if (!HEATS.has(verb) || step.inputs.length === 0) return undefined;
  if (!step.inputs.every(({ flow, mass }) => mass && isMetal(makeOf(flow), workshop))) return undefined;
  const added = verb === 'cupel' ? nobleAdded(step.added, workshop) : metalAdded(step.added, workshop);
  const products = step.outputs.filter(({ flow, mass }) => mass && flow.kind !== undefined && isMetalKind(flow.kind));
  if (!added || products.length === 0) return undefined;
  const charged = add(...step.inputs.map(({ mass }) => mass!), ...added);
  const out = add(...products.map(({ mass }) => mass!));
  const gained = subtract(out, charged);
  return gained.value.gt(reachOf(gained, [...step.inputs, ...products], workshop))
    ? { charged, out, gained }
    : undefined;
}

/** What weighing explains, and rounding alone may reach. */
function reachOf(difference: Measured, weighed: readonly FlowWeight[], { limits }: Workshop): number {
  const divisions = weighed.reduce((sum, { divisionGrams }) => sum + divisionGrams / 2, 0);
  return Math.max(limits.coverage * uncertainty(difference), divisions);
}

/** Kinds of product that hold no metal to speak of: any other may be where the metal went. */
const BARREN: ReadonlySet<string> = new Set(['slag']);

/**
 * The metal that a heat behind flux seems to have lost, be its slag weighed or not. None where no more is missing than the usual, or where it
 * cannot be told: a feed that is not known to be dry metal, a metal's weight not known, a product that may hold it (matte, dust), or something
 * in the charge that takes metal into the slag by design (niter) or may yield some (litharge).
 */
export function metalMissing(
  step: Step,
  workshop: Workshop,
  makeOf: (flow: Flow) => Make | undefined,
): MetalLoss | undefined {
  const { inputs, outputs, added, lost, entry } = step;
  if (balanceRow(entry.verb)?.kind !== 'melt' || inputs.length === 0 || added.length === 0) return undefined;
  if (!inputs.every(({ flow, mass, states }) => mass && isMetal(makeOf(flow), workshop, NEARLY_ALL) && !isDamp(states)))
    return undefined;
  const metals = outputs.filter(({ flow }) => isMetalKind(flow.kind));
  const others = outputs.filter((output) => !metals.includes(output));
  if (metals.length === 0 || !metals.every(({ mass }) => mass) || !lost.every(({ mass }) => mass)) return undefined;
  if (others.some(({ flow, mass }) => !BARREN.has(flow.kind!) && !mass?.value.isZero())) return undefined;
  const shelf = meltingMetal(added, workshop);
  // Without flux the balance of the whole is the balance of the metal.
  if (!shelf || shelf.length === added.length) return undefined;
  const charged = add(...[...inputs, ...shelf].map(({ mass }) => mass!));
  const missing = subtract(charged, add(...[...metals, ...lost].map(({ mass }) => mass!)));
  const { high, why } = usualLossOf(step, workshop, makeOf);
  const fume = metalFume([...feedParts(inputs, workshop, makeOf), ...addedParts(added, workshop)]);
  const usual = high * charged.value.toNumber() + fume;
  const reach = usual + reachOf(missing, [...inputs, ...shelf, ...metals], workshop);
  return missing.value.gt(reach) ? { charged, missing, usual, why } : undefined;
}

/** Of lemel a part is dust and iron, which go into the slag: what is missing of it is no metal. */
const NEARLY_ALL = 0.95;

const isDamp = (states: readonly string[]): boolean => states.includes('wet') || states.includes('damp');

/** Metal from the shelf that melts and stays; none where something on it takes metal along or gives some. */
function meltingMetal(added: readonly FlowWeight[], workshop: Workshop): FlowWeight[] | undefined {
  const metals: FlowWeight[] = [];
  for (const weight of added) {
    const parts = addedParts([weight], workshop);
    if (parts.length === 0 || parts.some(({ material }) => !material || TAKES_METAL.has(material.group)))
      return undefined;
    const metal = parts.filter(({ material }) => material!.group === 'metal');
    const others = parts.filter((part) => !metal.includes(part));
    if (others.some(({ material }) => mayYieldMetal(material!.composition))) return undefined;
    if (metal.length > 0 && others.length > 0) return undefined;
    if (metal.length > 0) metals.push(weight);
  }
  return metals;
}

/** Oxidants slag base metal; collectors go into the slag with the oxygen of the air. */
const TAKES_METAL: ReadonlySet<string> = new Set(['oxidant', 'collector']);

/** The shop's own figure first, as for the balance of the whole. */
function usualLossOf({ inputs, entry }: Step, { limits }: Workshop, makeOf: (flow: Flow) => Make | undefined) {
  const makes = inputs.map(({ flow }) => makeOf(flow));
  const materials = new Set(makes.map(lossName));
  const material = materials.size === 1 ? [...materials][0] : undefined;
  const own = limits.usualLoss.get(`${entry.verb} ${material}`) ?? limits.usualLoss.get(entry.verb);
  if (own) return { high: own.high, why: 'usual loss stated in the workshop file' };
  const losses = makes.map((make) => metalLoss(lossName(make)));
  return losses.reduce((worst, loss) => (loss.high > worst.high ? loss : worst));
}

function isMetal(make: Make | undefined, workshop: Workshop, least = 0.5): boolean {
  if (make?.kind !== undefined) return isMetalKind(make.kind);
  const material = make?.material ? findMaterial(workshop, make.material) : undefined;
  return material !== undefined && metalShare(material) >= least;
}

/** Heats and washes that take no metal by design. */
const KEEPING: ReadonlySet<string> = new Set(['melt', 'cast', 'wash']);

/**
 * Grams of metal that a step lost at most, by its weights: what its metal weighs less than the charge, and what weighing leaves open. None where
 * they cannot tell: one is not known, or something on the shelf could give metal too.
 */
export const mostLostGrams = (step: Step, products: readonly FlowWeight[], workshop: Workshop): number | undefined => {
  const { entry, inputs, added, lost, solved } = step;
  const shelf = KEEPING.has(entry.verb) && !solved && lost.length === 0 ? metalAdded(added, workshop) : undefined;
  const went = inputs.flatMap(({ mass }) => mass ?? []);
  const came = products.flatMap(({ mass }) => mass ?? []);
  if (!shelf || went.length < inputs.length || came.length < products.length || came.length === 0) return undefined;
  const missing = subtract(add(...went, ...shelf), add(...came));
  return Math.max(0, missing.value.toNumber()) + workshop.limits.coverage * uncertainty(missing);
};

/** Metal from the shelf; none where something else on it could give metal too. */
function metalAdded(added: readonly FlowWeight[], workshop: Workshop): Measured[] | undefined {
  const metals: Measured[] = [];
  for (const weight of added) {
    const parts = addedParts([weight], workshop);
    if (parts.some(({ material }) => !material || mayYieldMetal(material.composition))) return undefined;
    const metal = parts.filter(({ material }) => metalShare(material!) >= 0.5);
    if (metal.length === 0) continue;
    if (metal.length < parts.length || !weight.mass) return undefined;
    metals.push(weight.mass);
  }
  return metals;
}

/** A compound of a metal that a heat may bring down. */
const mayYieldMetal = (composition: readonly { readonly what: string }[]): boolean =>
  composition.some(({ what }) => !element(what) && REDUCIBLE.test(what));
const REDUCIBLE = /Au|Ag|Pb|Cu|Bi|Sn|Sb|Hg|Fe|Zn|Ni|Cd/;

function nobleAdded(added: readonly FlowWeight[], workshop: Workshop): Measured[] | undefined {
  const noble: Measured[] = [];
  for (const weight of added) {
    const material = addedParts([weight], workshop)[0]?.material;
    if (!material || !weight.mass) return undefined;
    if (material.composition.some(({ what }) => NOBLE.has(what))) noble.push(weight.mass);
  }
  return noble;
}
