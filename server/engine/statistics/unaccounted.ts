/**
 * Material unaccounted for over a series of balances: (opening + in − out) − closing, positive for missing (safeguards practice). Neighbours
 * share an inventory with opposite signs, so their errors are bound, and in the running sum all inner inventories cancel.
 */

export interface Inventories {
  /** One more than there are periods. */
  readonly inventory: readonly number[];
  readonly in: readonly number[];
  readonly out: readonly number[];
  readonly uInventory: readonly number[];
  /** Of what came in and went out in a period, together. */
  readonly uTransfers: readonly number[];
}

export interface Unaccounted {
  readonly each: readonly number[];
  readonly variances: readonly number[];
  /** Covariance with the next period; one fewer than there are periods. */
  readonly covarianceWithNext: readonly number[];
  readonly running: readonly number[];
  readonly runningU: readonly number[];
}

export const unaccountedSeries = (books: Inventories): Unaccounted => {
  const { inventory, uInventory, uTransfers } = books;
  const each = books.in.map((into, period) => inventory[period]! + into - books.out[period]! - inventory[period + 1]!);
  const variances = each.map(
    (_, period) => uInventory[period]! ** 2 + uInventory[period + 1]! ** 2 + uTransfers[period]! ** 2,
  );
  let [sum, transfers] = [0, 0];
  const running = each.map((value) => {
    sum += value;
    return sum;
  });
  const runningU = uTransfers.map((u, period) => {
    transfers += u * u;
    return Math.sqrt(uInventory[0]! ** 2 + uInventory[period + 1]! ** 2 + transfers);
  });
  return {
    each,
    variances,
    covarianceWithNext: each.slice(1).map((_, period) => -(uInventory[period + 1]! ** 2)),
    running,
    runningU,
  };
};

/** Independent with variance one if nothing but the stated errors is at work: L⁻¹ times the series, L Lᵀ its covariance (Cholesky). */
export const independentSeries = ({ each, variances, covarianceWithNext }: Unaccounted): number[] => {
  const scores: number[] = [];
  let diagonal = 0;
  for (const [period, value] of each.entries()) {
    const below = period === 0 ? 0 : covarianceWithNext[period - 1]! / diagonal;
    diagonal = Math.sqrt(variances[period]! - below * below);
    scores.push((value - below * (scores[period - 1] ?? 0)) / diagonal);
  }
  return scores;
};
