/**
 * One step as metals see it: how much of each went in by every lot, and which products hold it. Forward it tells a product by what went in,
 * backward a charge by what came out.
 */
import type { Measured } from '../../quantity/measured';
import type { FlowWeight, Step } from '../book';
import { addedParts, chargeOf, feedParts, type MakeOf, metalShare } from '../charge';
import type { Flow } from '../entry';
import { metalGain, metalMissing, mostLostGrams } from '../metal';
import { findMaterial } from '../shelf';
import { throughput } from '../step';
import { isSmelt } from '../usual';
import type { Material, Workshop } from '../workshop';
import { between } from './assays';
import { type Acid, DIVIDES, FOLLOWED, type Group, groupOf } from './destiny';
import { certain, fromMeasured, type Inexact, inexact, NOTHING, over, plus, sum } from './inexact';
import { PRECIOUS } from './known';

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
  /**
   * Of what the products should hold, the part that they do: none where the step is in order. What is missing beyond the usual may be metal like
   * the rest, as a skull is, or none; so may what is too much.
   */
  readonly astray: Inexact | undefined;
  /** The part of each metal in the charge that was seen to be lost. */
  readonly seenLost: Inexact | undefined;
  /** Of no metal was more lost than all of it weighs less. */
  readonly mostLostGrams: number | undefined;
}

/** `amountOf` tells what a flow without a weight of its own holds, as its lot's story has it. */
export const passageOf = (
  step: Step,
  workshop: Workshop,
  makeOf: MakeOf,
  amountOf: (flow: Flow) => Inexact | undefined,
): Passage => {
  const richIsUnsaid = isRichUnsaid(step);
  const passing = ({ flow, mass, volume }: FlowWeight): Passing => {
    const group = groupOf(flow.kind, step.entry.verb);
    return {
      flow,
      amount: sized(mass ?? solvedFor(step, flow) ?? volume) ?? amountOf(flow),
      unit: group === 'liquid' || (!mass && volume) ? 'millilitre' : 'gram',
      group: richIsUnsaid && group === 'metal' ? 'rich' : group,
    };
  };
  const real = ({ flow }: FlowWeight): boolean => !flow.none;
  return {
    step,
    inputs: step.inputs.filter(real).map(passing),
    outputs: step.outputs.filter(real).map(passing),
    added: addedMetals(step, workshop),
    smelt: smelts(step, workshop, makeOf),
    acid: acidOf(step, workshop),
    astray: astrayIn(step, workshop, makeOf),
    seenLost: seenLostIn(step, workshop),
    mostLostGrams: mostLostGrams(step, step.outputs.filter(isMetal(step)), workshop),
  };
};

const isMetal =
  ({ entry }: Step) =>
  ({ flow }: FlowWeight): boolean =>
    !flow.none && groupOf(flow.kind, entry.verb) === 'metal';

/** Tails name the poor side of a division: of ash, or of what has no kind, beside them the metal is in that. */
const isRichUnsaid = ({ entry, outputs }: Step): boolean => {
  if (!DIVIDES.has(entry.verb)) return false;
  const groups = outputs.map(({ flow }) => groupOf(flow.kind, entry.verb));
  return groups.includes('poor') && !groups.includes('rich');
};

/** What spat or was spilt is as what was charged; beside flux it may be slag alone, or metal alone. */
const seenLostIn = ({ inputs, added, lost }: Step, workshop: Workshop): Inexact | undefined => {
  const gone = lost.flatMap(({ flow, mass }) => (flow.none ? [] : (mass ?? [])));
  const lots = inputs.flatMap(({ flow, mass }) => (flow.none ? [] : [mass]));
  const parts = addedParts(added, workshop);
  const isMetal = ({ material }: (typeof parts)[number]): boolean =>
    material !== undefined && metalShare(material) >= 0.5;
  const shelf = parts.filter(isMetal).reduce((so, { item }) => so + item.massGrams, 0);
  if (gone.length === 0 || lots.some((mass) => !mass)) return undefined;
  const charge = plus(sum(lots.map((mass) => fromMeasured(mass!))), certain(shelf));
  if (!(charge.value > 0)) return undefined;
  const part = over(sum(gone.map(fromMeasured)), charge);
  if (!parts.every(isMetal)) return between(0, Math.min(1, part.value), 'whether metal or slag was seen to be lost');
  // More than was charged is a slip, and told of by the weights.
  return part.value > 1 ? undefined : part;
};

const astrayIn = (step: Step, workshop: Workshop, makeOf: MakeOf): Inexact | undefined => {
  const [less, more] = [missing(step, workshop, makeOf), tooMuch(step, workshop, makeOf)];
  if (less > 0) return between(Math.max(0, 1 - less), 1, ASTRAY);
  // Most often a slip or slag that hangs on it: so what was charged is still the best figure.
  return more > 0 ? between(1 - more, 1 + more, ASTRAY) : undefined;
};

const ASTRAY = 'what the step lost or gained beyond the usual';

const missing = (step: Step, workshop: Workshop, makeOf: MakeOf): number => {
  const { verdict, unaccounted, usual } = step;
  if (verdict === 'high' && unaccounted?.value.greaterThan(0))
    return (unaccounted.value.toNumber() - (usual?.high ?? 0)) / throughput(step);
  const loss = metalMissing(step, workshop, makeOf);
  return loss ? (loss.missing.value.toNumber() - loss.usual) / loss.charged.value.toNumber() : 0;
};

const tooMuch = (step: Step, workshop: Workshop, makeOf: MakeOf): number => {
  const { verdict, unaccounted } = step;
  if (verdict === 'gain' && unaccounted) return -unaccounted.value.toNumber() / throughput(step);
  const gain = metalGain(step, workshop, makeOf);
  return gain ? gain.gained.value.toNumber() / gain.charged.value.toNumber() : 0;
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
