/** What a crucible held before a heat: where more comes out than went in, its skull is the nearest place to look. */
import type { Entry } from '../entry';
import type { CrucibleLife } from './crucibles';

export interface HeldBefore {
  readonly crucible: string;
  /** The last heat in it with a charge. */
  readonly heat: Entry;
  /** Lots that it took. */
  readonly lots: readonly string[];
}

/** None for a heat in no crucible, the first in it, or one behind a wash with flux alone. */
export const heldBefore = (heat: Entry, lives: readonly CrucibleLife[]): HeldBefore | undefined => {
  const crucible = heat.gear.find(({ word }) => word === 'crucible')?.item.name;
  const heats = lives.find(({ name }) => name === crucible)?.heats ?? [];
  const at = heats.findIndex(({ anchor }) => anchor === heat.anchor);
  const before = heats[at - 1];
  if (crucible === undefined || !before) return undefined;
  const lots = before.flows.flatMap(({ word, lot }) => (word === 'in' && lot ? [lot.name] : []));
  return lots.length > 0 ? { crucible, heat: before, lots } : undefined;
};
