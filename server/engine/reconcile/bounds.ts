/** Values that must not be negative, kept so by an active set: one that would be is held at zero, one that no longer pulls is let go. */

export interface Bounds {
  /** Those that are held. */
  readonly held: Set<number>;
  /** How often one has been let go; one that keeps coming back stays. */
  readonly releases: Map<number, number>;
}

/** What a bound says: something is not to fall below zero. */
export interface Limit {
  /** What it is now; NaN where it is not known, so that nothing can be said. */
  readonly value: number;
  /** The size of the terms that it is made of: against these a difference may be rounding. */
  readonly size: number;
}

/** A value below zero by less than this share of its terms is rounding. */
const ROUNDING = 1e-9;
const MOST_RELEASES = 2;

export const newBounds = (from?: Bounds): Bounds => ({ held: new Set(from?.held), releases: new Map() });

/**
 * Lets go of what the readings pull away from its bound (Karush, Kuhn and Tucker), then holds what has fallen below. `pull` is the force
 * towards the bound, negative where it would rise by itself. Says whether anything changed.
 */
export const moveBounds = (
  { held, releases }: Bounds,
  count: number,
  limit: (index: number) => Limit,
  pull: (index: number) => number,
): boolean => {
  const broken: number[] = [];
  for (let index = 0; index < count; index++) {
    if (held.has(index)) continue;
    const { value, size } = limit(index);
    // One value alone is as large as its own size, so it is measured against a milligram.
    if (value < -ROUNDING * Math.max(size, 1e-3)) broken.push(index);
  }
  const free = [...held].filter((index) => {
    if (pull(index) >= 0) return false;
    const count = releases.get(index) ?? 0;
    releases.set(index, count + 1);
    return count < MOST_RELEASES;
  });
  for (const index of free) held.delete(index);
  for (const index of broken) held.add(index);
  return broken.length + free.length > 0;
};
