/** How full a crucible is, cold, before the heat: by the bulk densities of what was charged. */
import type { Step } from './book';
import { addedParts, feedParts, type MakeOf, type Part } from './charge';
import type { Crucible, Workshop } from './workshop';

export interface Fill {
  readonly crucible: Crucible;
  /** Room that the charge takes, mL, packed close and lying loose. */
  readonly lowMillilitres: number;
  readonly highMillilitres: number;
  /** The same as shares of the crucible's volume; none where its volume is not stated. */
  readonly share: { readonly low: number; readonly high: number } | undefined;
  /** Names of what was charged whose density or weight is not known: it is not in the figures, which are then a least. */
  readonly unknown: readonly string[];
  /** `over`: more than the shop's limit even packed close; `may be over`: lying loose. A least that is under says nothing. */
  readonly verdict: 'under' | 'may be over' | 'over' | undefined;
}

/**
 * The fill of the crucible of a melt, everything charged at once. V = Σ m/ρ with ρ from loose to packed (g/mL). Undefined where no declared
 * crucible is named. Not for a charge that is fed in as it sinks.
 */
export function crucibleFill(step: Step, workshop: Workshop, makeOf: MakeOf): Fill | undefined {
  const gear = step.entry.gear.find(({ word }) => word === 'crucible');
  const crucible = gear && workshop.crucibles.get(gear.item.name);
  if (!crucible) return undefined;
  const parts = [...feedParts(step.inputs, workshop, makeOf), ...addedParts(step.added, workshop)];
  const room = roomOf(parts);
  const unweighed = [...step.inputs, ...step.added].filter(({ mass }) => !mass);
  const unknown = [...room.unknown, ...unweighed.map(({ flow }) => flow.lot?.name ?? flow.material?.name ?? flow.word)];
  const volume = crucible.volumeMillilitres;
  const share = volume ? { low: room.low / volume, high: room.high / volume } : undefined;
  const verdict = share && verdictOf(share, workshop.limits.fill.high, unknown.length === 0);
  return { crucible, lowMillilitres: room.low, highMillilitres: room.high, share, unknown, verdict };
}

function roomOf(parts: readonly Part[]): { low: number; high: number; unknown: string[] } {
  const room = { low: 0, high: 0, unknown: [] as string[] };
  for (const { material, item } of parts) {
    const density = material?.bulkDensity;
    if (!density || !(density.low > 0)) {
      room.unknown.push(item.material.name);
      continue;
    }
    room.low += item.massGrams / density.high;
    room.high += item.massGrams / density.low;
  }
  return room;
}

function verdictOf(share: { low: number; high: number }, limit: number, complete: boolean): Fill['verdict'] {
  if (share.low > limit) return 'over';
  if (share.high > limit) return 'may be over';
  return complete ? 'under' : undefined;
}
