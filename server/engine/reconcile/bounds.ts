/** Values that must not be negative, kept so by an active set: one that would be is held at zero, one that no longer pulls is let go. */
import type { Balance } from './system';

export interface Bounds {
  /** Each row's sum is to be at least its constant. */
  readonly rows: readonly Balance[];
  /** Rows that are held as equalities, in the order in which they stand among the balances. */
  readonly held: Set<number>;
  /** How often a row has been let go; one that keeps coming back stays. */
  readonly releases: Map<number, number>;
}

/** A sum below zero by less than this share of its terms is rounding. */
const ROUNDING = 1e-9;
const MOST_RELEASES = 2;

export const newBounds = (rows: readonly Balance[]): Bounds => ({ rows, held: new Set(), releases: new Map() });

/** As they stand among the balances. */
export const heldRows = ({ rows, held }: Bounds): Balance[] => [...held].map((index) => rows[index]!);

/**
 * Lets go of held rows from which the readings pull away (Karush, Kuhn and Tucker: for Σ aₖ xₖ ≥ 0 the multiplier λ in
 * V⁻¹(x̂ − x) + Aᵀλ = 0 must not be positive), then holds those that the solution breaks; a row with an unknown part cannot be judged.
 * `first` is the balance at which the held rows begin. Says whether anything changed.
 */
export const moveBounds = (
  bounds: Bounds,
  values: readonly (number | undefined)[],
  multipliers: Float64Array,
  first: number,
): boolean => {
  const broken = [...bounds.rows.keys()].filter(
    (index) => !bounds.held.has(index) && breaks(bounds.rows[index]!, values),
  );
  const free = [...bounds.held].filter((index, at) => multipliers[first + at]! > 0 && mayLetGo(bounds, index));
  for (const index of free) bounds.held.delete(index);
  for (const index of broken) bounds.held.add(index);
  return broken.length + free.length > 0;
};

const mayLetGo = ({ releases }: Bounds, index: number): boolean => {
  const count = releases.get(index) ?? 0;
  releases.set(index, count + 1);
  return count < MOST_RELEASES;
};

const breaks = ({ variables, coefficients, constant }: Balance, values: readonly (number | undefined)[]): boolean => {
  let [sum, size] = [-constant, Math.abs(constant)];
  for (const [at, variable] of variables.entries()) {
    const value = values[variable];
    if (value === undefined) return false;
    sum += coefficients[at]! * value;
    size += Math.abs(coefficients[at]! * value);
  }
  // One value alone is as large as its own size, so it is measured against a gram.
  return sum < -ROUNDING * Math.max(size, 1e-3);
};
