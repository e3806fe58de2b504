/** Reconciliation under balances that are not linear, by solving a row of linear ones. */
import { layOut } from './layout';
import { withSources } from './shared';
import { adjustedValues } from './solve';
import { type Balance, checkSystem, type Reading } from './system';

export interface Passes {
  /** The last values; those that no balance tells keep what they were given. */
  readonly values: Float64Array;
  /** The same, undefined where no balance tells. */
  readonly known: readonly (number | undefined)[];
  /** λ of each balance. */
  readonly multipliers: Float64Array;
  readonly passes: number;
  /** False: still moving after the last pass; the figures are not to be relied on. */
  readonly converged: boolean;
}

export interface NonlinearOptions {
  readonly mostPasses?: number;
  /** Change, as a share of each value (or of 1, for small ones), at which it has converged. */
  readonly close?: number;
}

/**
 * Successive linearisation (Knepper and Gorman 1980; citation from memory): the balances are replaced by their tangents at the values,
 * the readings reconciled under these, and again at the new values. For uncertainties and tests, `reconcile` the system linearised there.
 * `linearise` gives Σ ∂f/∂xₖ · xₖ = Σ ∂f/∂xₖ · valueₖ − f(values).
 */
export const reconcileSuccessively = (
  readings: readonly Reading[],
  linearise: (values: Float64Array) => readonly Balance[],
  start: ArrayLike<number>,
  { mostPasses = 60, close = 1e-10 }: NonlinearOptions = {},
): Passes => {
  let values = Float64Array.from(start);
  for (let passes = 1; ; passes++) {
    const system = { readings, balances: linearise(values) };
    checkSystem(system);
    const expanded = withSources(system);
    const { values: solved, multipliers } = adjustedValues(expanded, layOut(expanded), values);
    const known = Array.from(solved, (value) => (Number.isNaN(value) ? undefined : value));
    const next = Float64Array.from(known, (value, variable) => value ?? values[variable]!);
    const moved = next.some((value, variable) => {
      const before = values[variable]!;
      return Math.abs(value - before) > close * Math.max(1, Math.abs(before));
    });
    values = next;
    if (!moved || passes >= mostPasses) return { values, known, multipliers, passes, converged: !moved };
  }
};
