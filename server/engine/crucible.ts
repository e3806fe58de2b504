/** How full a crucible is, cold, before the heat: by the bulk densities of what was charged. */

import { type BulkVolume, bulkVolume, type FillVerdict, fillVerdict } from './bench/charge';
import { chargeWarnings } from './bench/slag-warnings';
import type { Step } from './book';
import { addedParts, feedParts, type MakeOf, metalShare, type Part } from './charge';
import type { ChargeItem } from './gas';
import type { Crucible, Range, Workshop } from './workshop';

export interface Fill {
  readonly crucible: Crucible;
  /** Room that the charge takes, mL, packed close and lying loose. */
  readonly lowMillilitres: number;
  readonly highMillilitres: number;
  /** The same as shares of the crucible's volume; none where its volume is not stated. */
  readonly share: { readonly low: number; readonly high: number } | undefined;
  /** Names of what was charged whose density or weight is not known: it is not in the figures, which are then a least. */
  readonly unknown: readonly string[];
  /** Against the most that this charge may fill. */
  readonly verdict: FillVerdict;
  readonly most: FillMost;
}

/** How full a crucible may be, cold, of a charge. */
export interface FillMost {
  /** Of its volume, 0 to 1. */
  readonly share: number;
  /** Less than the shop's limit, for the charge froths. */
  readonly froths: boolean;
}

/** Niter that meets fuel, or much of it, lifts a charge all at once: the crucible under half full. Common practice, no source. */
export const FROTHS_ABOVE = 0.5;

/** The shop's limit; half for a charge with much niter, or with niter beside what it burns. */
export const fillMost = (charge: readonly ChargeItem[], { limits }: Workshop): FillMost => {
  const share = limits.fill.high;
  const isLively = chargeWarnings(charge).some(
    ({ what, sure }) => sure && (what === 'much-niter' || what === 'niter-with-fuel'),
  );
  const froths = isLively && share > FROTHS_ABOVE;
  return { share: froths ? FROTHS_ABOVE : share, froths };
};

/** The same of all that a step charges. */
export const fillMostOf = (step: Step, workshop: Workshop, makeOf: MakeOf): FillMost =>
  fillMost(
    [...feedParts(step.inputs, workshop, makeOf), ...addedParts(step.added, workshop)].map(({ item }) => item),
    workshop,
  );

/**
 * The fill of the crucible of a melt, everything charged at once. V = Σ m/ρ with ρ from loose to packed (g/mL). Undefined where no declared
 * crucible is named. Not for a charge that is fed in as it sinks.
 */
export function crucibleFill(step: Step, workshop: Workshop, makeOf: MakeOf): Fill | undefined {
  const gear = step.entry.gear.find(({ word }) => word === 'crucible');
  const crucible = gear && workshop.crucibles.get(gear.item.name);
  if (!crucible) return undefined;
  const { millilitres: room, unknown: unknownRoom } = roomOfCharge(step, workshop, makeOf);
  const unweighed = [...step.inputs, ...step.added].filter(({ mass }) => !mass);
  const unknown = [...unknownRoom, ...unweighed.map(({ flow }) => flow.lot?.name ?? flow.material?.name ?? flow.word)];
  const volume = crucible.volumeMillilitres;
  const share = volume ? { low: room.low / volume, high: room.high / volume } : undefined;
  const most = fillMostOf(step, workshop, makeOf);
  const verdict = share && fillVerdict(share, most.share, unknown.length === 0);
  return { crucible, lowMillilitres: room.low, highMillilitres: room.high, share, unknown, verdict, most };
}

/** Slag in lumps to crushed, g/mL: about half of what it weighs solid, from memory. */
const CRUSHED_SLAG: Range = { low: 1.2, high: 2.2 };

/** From copper clippings to a bar of gold, g/mL: solid densities, half for what lies loose (from memory). */
export const ANY_METAL: Range = { low: 4.5, high: 19.3 };

/** How loose a part lies, g/mL; `ofMetal` for metal whose density is not stated. None where it is not known. */
export const loosenessIn = (
  step: Step,
  makeOf: MakeOf,
  ofMetal?: Range,
): ((part: Pick<Part, 'material' | 'item'>) => Range | undefined) => {
  const slags = new Set(
    step.inputs.flatMap(({ flow }) => (makeOf(flow)?.kind === 'slag' && flow.lot ? [flow.lot.name] : [])),
  );
  return ({ material, item }) => {
    if (material?.bulkDensity) return material.bulkDensity;
    if (slags.has(item.material.name)) return CRUSHED_SLAG;
    return metalShare(item.material) >= 0.5 ? ofMetal : undefined;
  };
};

/** Room of all that is charged and weighed. `ofMetal` is taken for metal whose density is not stated; without it such metal counts as unknown. */
export const roomOfCharge = (step: Step, workshop: Workshop, makeOf: MakeOf, ofMetal?: Range): BulkVolume => {
  const parts = [...feedParts(step.inputs, workshop, makeOf), ...addedParts(step.added, workshop)];
  const looseness = loosenessIn(step, makeOf, ofMetal);
  return bulkVolume(
    parts.map((part) => ({
      name: part.item.material.name,
      grams: part.item.massGrams,
      bulkDensity: looseness(part),
    })),
  );
};
