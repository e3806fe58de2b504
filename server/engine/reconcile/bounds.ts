/** Values that must not be negative, kept so by an active set: one that would be is held at zero, one that no longer pulls is let go. */

export interface Bounds {
  /** Those that are held. */
  readonly held: Set<number>;
  /** How often one has been let go, on the way by its part; one that keeps coming back stays. */
  readonly releases: Map<number, number>;
}

/** A value below zero by less than this share of its terms is rounding. */
const ROUNDING = 1e-9;
const MOST_RELEASES = 2;
/** While the values still move a bound may be let go more often. */
const ON_THE_WAY = 1 / 4;

export const newBounds = (from?: Bounds): Bounds => ({ held: new Set(from?.held), releases: new Map() });

/**
 * Whether this is below zero by more than rounding. `size` is that of the terms that it is made of; one value alone is as large as its own
 * size, so it is measured against a milligram. Of a NaN nothing can be said.
 */
export const isBelow = (value: number, size: number): boolean => value < -ROUNDING * Math.max(size, 1e-3);

/**
 * Lets go of what the readings pull away from its bound (Karush, Kuhn and Tucker), then holds what is `broken`. `pull` is the force towards
 * the bound, negative where it would rise by itself. Says whether anything changed.
 */
export const moveBounds = (
  { held, releases }: Bounds,
  broken: readonly number[],
  pull: (index: number) => number,
  onTheWay: boolean,
): boolean => {
  const free = [...held].filter((index) => {
    if (pull(index) >= 0) return false;
    const count = releases.get(index) ?? 0;
    releases.set(index, count + (onTheWay ? ON_THE_WAY : 1));
    return count < MOST_RELEASES;
  });
  for (const index of free) held.delete(index);
  for (const index of broken) held.add(index);
  return broken.length + free.length > 0;
};
