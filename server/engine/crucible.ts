/** How full a crucible is, cold, before the heat: by the bulk densities of what was charged. */

import { type BulkVolume, bulkVolume, type FillVerdict, fillVerdict } from './bench/charge';
import type { Step } from './book';
import { addedParts, feedParts, type MakeOf, metalShare, type Part } from './charge';
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
  /** Against the shop's limit. */
  readonly verdict: FillVerdict;
}

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
  const verdict = share && fillVerdict(share, workshop.limits.fill.high, unknown.length === 0);
  return { crucible, lowMillilitres: room.low, highMillilitres: room.high, share, unknown, verdict };
}

/** Slag in lumps to crushed, g/mL: about half of what it weighs solid, from memory. */
const CRUSHED_SLAG: Range = { low: 1.2, high: 2.2 };

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
