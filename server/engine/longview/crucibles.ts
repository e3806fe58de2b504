/** How many heats each crucible has seen, and how many it usually lasts. */
import type { Entry } from '../entry';
import { median } from '../statistics/robust';
import type { Crucible } from '../workshop';

export interface CrucibleLife {
  readonly name: string;
  /** As the workshop declares it; none for one that it does not know. */
  readonly crucible: Crucible | undefined;
  /** Its heats in their order, each by its first entry; since the day from which the workshop counts. */
  readonly heats: readonly Entry[];
}

/** `heats` are entries in order, each heat once. A crucible that the workshop declares and that saw no heat is among them. */
export const crucibleLives = (
  heats: Iterable<Entry>,
  crucibles: ReadonlyMap<string, Crucible>,
): readonly CrucibleLife[] => {
  const byName = new Map<string, Entry[]>([...crucibles.keys()].map((name) => [name, []]));
  for (const entry of heats) {
    const name = entry.gear.find(({ word }) => word === 'crucible')?.item.name;
    if (name === undefined || !counts(entry, crucibles.get(name))) continue;
    const all = byName.get(name);
    if (all) all.push(entry);
    else byName.set(name, [entry]);
  }
  return [...byName].map(([name, all]) => ({ name, crucible: crucibles.get(name), heats: all }));
};

/** Whether a heat was in this crucible and not in another that bore its name before or after it. */
export const counts = (
  { date = '' }: Pick<Entry, 'date'>,
  crucible: Pick<Crucible, 'since' | 'until'> | undefined,
): boolean => date >= (crucible?.since ?? '') && (crucible?.until === undefined || date <= crucible.until);

/** As they were at the end of a day: one that was given up later was still in use. */
export const livesUntil = (lives: readonly CrucibleLife[], to: string | undefined): readonly CrucibleLife[] =>
  to === undefined
    ? lives
    : lives.map(({ name, crucible, heats }) => ({
        name,
        crucible: crucible?.until !== undefined && crucible.until > to ? { ...crucible, until: undefined } : crucible,
        heats: heats.filter(({ date = '' }) => date <= to),
      }));

/** Fewer that were given up teach nothing of the next (common practice, no source). */
const FEWEST_GIVEN_UP = 3;

export interface UsualLife {
  readonly heats: number;
  /** So many crucibles of the same material that were given up taught it; none where the workshop states it. */
  readonly learntFrom: number | undefined;
}

/** What the workshop states for it, else the middle one of those of its material that were given up. */
export const usualLifeOf = (one: CrucibleLife, all: readonly CrucibleLife[]): UsualLife | undefined => {
  const { crucible } = one;
  if (!crucible) return undefined;
  if (crucible.usualHeats !== undefined) return { heats: crucible.usualHeats, learntFrom: undefined };
  const givenUp = all.filter(
    (other) =>
      other !== one &&
      other.heats.length > 0 &&
      other.crucible?.until !== undefined &&
      other.crucible.material !== undefined &&
      other.crucible.material === crucible.material,
  );
  if (givenUp.length < FEWEST_GIVEN_UP) return undefined;
  return { heats: Math.floor(median(givenUp.map(({ heats }) => heats.length))), learntFrom: givenUp.length };
};
