/**
 * Material unaccounted for over a series of balances: (opening + in − out) − closing, positive for missing (safeguards practice). Neighbours
 * share an inventory with opposite signs, so their errors are bound, and in the running sum all inner inventories cancel.
 */
import type { ErrorSource, Measured } from '../../quantity/measured';
import { normalUpperTail } from './distributions';

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

/** Sum of all steps up to one. */
export interface RunningSum {
  readonly sum: number;
  /** Standard uncertainty; what steps share adds up or falls out by its sign. */
  readonly u: number;
  /** k · u: within it, weighing and assay explain the sum. */
  readonly limitOfError: number;
  /** sum / u; infinite, or NaN for nothing, where all is exact. */
  readonly score: number;
  /** Chance of a sum as far from nothing, either way, when nothing is missing. */
  readonly p: number;
  readonly beyond: boolean;
  /**
   * The part of u from sources in more than one step so far, such as a scale's bias. Where it makes up most of u, more steps do not sharpen
   * the sum, and one beyond its limit is bias or loss.
   */
  readonly sharedU: number;
}

/** The running sum of what is unaccounted for, step by step, in the unit of the values; positive for missing. */
export const runningSum = (steps: readonly Measured[], k = 2): RunningSum[] => {
  const sources = new Map<ErrorSource, { size: number; steps: number }>();
  let [sum, squares, sharedSquares] = [0, 0, 0];
  return steps.map(({ value, errors }) => {
    sum += value.toNumber();
    for (const { source, size } of errors) {
      const before = sources.get(source) ?? { size: 0, steps: 0 };
      const after = { size: before.size + size, steps: before.steps + 1 };
      sources.set(source, after);
      squares += after.size ** 2 - before.size ** 2;
      sharedSquares += (after.steps > 1 ? after.size ** 2 : 0) - (before.steps > 1 ? before.size ** 2 : 0);
    }
    const u = Math.sqrt(Math.max(0, squares));
    const score = sum / u;
    return {
      sum,
      u,
      limitOfError: k * u,
      score,
      p: 2 * normalUpperTail(Math.abs(score)),
      beyond: Math.abs(sum) > k * u,
      sharedU: Math.sqrt(Math.max(0, sharedSquares)),
    };
  });
};
