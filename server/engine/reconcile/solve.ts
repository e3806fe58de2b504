/** Reconciliation: readings adjusted as little as their uncertainties allow, so that every balance closes. */
import { type Saddle, saddleOf } from './saddle';
import { type Structure, structureOf } from './structure';
import { type Columns, checkSystem, columnsOf, kindOf, type System, sparseRow } from './system';

/**
 * `checked`: measured, and some balance tests it. `unchecked`: measured, and nothing would show if it were wrong.
 * `inferred`: unmeasured, told by the balances. `unknown`: unmeasured, and no balance tells it.
 */
export type Standing = 'checked' | 'unchecked' | 'inferred' | 'unknown';

export interface Term {
  readonly variable: number;
  readonly coefficient: number;
}

export interface Reconciled {
  readonly system: System;
  readonly standings: readonly Standing[];
  /** Adjusted or inferred; undefined where unknown. */
  readonly values: readonly (number | undefined)[];
  /** Standard uncertainty of each value; undefined where unknown. */
  readonly u: readonly (number | undefined)[];
  /** Value less reading, 0 for what was not measured. */
  readonly adjustments: readonly number[];
  /** Σ (adjustment / u)², chi-squared of `freedom` degrees if every reading is as good as it says. */
  readonly gamma: number;
  readonly freedom: number;
  /** Balances left out since exact readings alone make them impossible. */
  readonly contradictions: readonly number[];
  /** Variance of a sum of terms over the result, correlations included; undefined if a term is unknown. Shared with itself: a covariance. */
  readonly varianceOf: (terms: readonly Term[]) => number | undefined;
  /** What tests on the readings and balances are made of. */
  readonly evidence: Evidence;
}

export interface Evidence {
  /** λ: a leak of size b at a balance lowers gamma by at most λ² / `balanceLeverage`. */
  readonly multipliers: Float64Array;
  /** Diagonal of Z; 0 for a balance that tests nothing. */
  readonly balanceLeverage: Float64Array;
  /** aᵀλ for each variable with column a. */
  readonly sway: Float64Array;
  /** aᵀ Z a; 0 where nothing checks the reading. The variance of the adjustment is u⁴ times this. */
  readonly leverage: Float64Array;
  /** Z times the column of a variable. */
  readonly spread: (variable: number) => Float64Array;
  readonly columns: Columns;
  readonly structure: Structure;
}

/** Of a leverage computed with correlated parts, this share of its terms is rounding. */
const ROUNDING = 1e-11;

/**
 * Weighted least squares under linear balances, V diagonal: x̂ = x − V Aᵀ (A V Aᵀ)⁻¹ (A x − c) and V̂ = V − V Aᵀ (A V Aᵀ)⁻¹ A V, the
 * unmeasured eliminated (Narasimhan and Jordache 2000, Data Reconciliation and Gross Error Detection; formulas as in published summaries).
 *
 * `pinned` gives the values at which unknown variables are held while the rest is solved (0 if not given); no known value depends on them.
 * Throws a RangeError on a system that is not one.
 */
export const reconcile = (system: System, pinned?: ArrayLike<number>): Reconciled => {
  const solution = solveSystem(system, pinned);
  const { columns, structure, saddle, standings, start, multipliers, sway, values } = solution;
  const evidence = evidenceOf(system, columns, structure, saddle, multipliers, sway);
  return {
    system,
    standings,
    values,
    u: uncertaintiesOf(saddle, standings, evidence.leverage),
    adjustments: values.map((value, variable) =>
      system.readings[variable]!.value === undefined ? 0 : value! - start[variable]!,
    ),
    gamma: sway.reduce((sum, each, variable) => sum + saddle.variances[variable]! * each * each, 0),
    freedom: structure.freedom,
    contradictions: structure.contradictions,
    varianceOf: (terms) => varianceOf(terms, system, columns, saddle, standings),
    evidence,
  };
};

/** The values alone, without uncertainties and tests: a good deal cheaper, for passes on the way. */
export const adjustedValues = (
  system: System,
  pinned?: ArrayLike<number>,
): { values: readonly (number | undefined)[]; multipliers: Float64Array } => solveSystem(system, pinned);

interface Solution {
  readonly columns: Columns;
  readonly structure: Structure;
  readonly saddle: Saddle;
  readonly standings: readonly Standing[];
  readonly start: Float64Array;
  readonly multipliers: Float64Array;
  readonly sway: Float64Array;
  readonly values: readonly (number | undefined)[];
}

const solveSystem = (system: System, pinned?: ArrayLike<number>): Solution => {
  checkSystem(system);
  const sparse = system.balances.map(sparseRow);
  const columns = columnsOf(sparse, system.readings.length);
  const structure = structureOf(system, sparse);
  const saddle = saddleOf(system, sparse, columns, structure);
  const standings = standingsOf(system, structure);
  const start = startOf(system, saddle, pinned);
  const misses = missesOf(system, columns, structure, start);
  const solved = saddle.solve({ balances: misses, variables: new Float64Array(start.length) });
  const sway = swayOf(columns, solved.balances);
  const values = standings.map((standing, variable) => {
    if (standing === 'unknown') return undefined;
    if (standing === 'inferred') return -solved.variables[variable]!;
    return start[variable]! - saddle.variances[variable]! * sway[variable]!;
  });
  return { columns, structure, saddle, standings, start, multipliers: solved.balances, sway, values };
};

const standingsOf = ({ readings }: System, { observable, redundant }: Structure): Standing[] =>
  readings.map((reading, variable) => {
    if (reading.value !== undefined) return redundant[variable] ? 'checked' : 'unchecked';
    return observable[variable] ? 'inferred' : 'unknown';
  });

/** Readings as read; what is solved for starts at nothing, what is unknown where it is pinned. */
const startOf = ({ readings }: System, saddle: Saddle, pinned?: ArrayLike<number>): Float64Array =>
  Float64Array.from(
    readings,
    ({ value }, variable) => value ?? (saddle.kept[variable] ? 0 : (pinned?.[variable] ?? 0)),
  );

const missesOf = (
  { balances }: System,
  columns: Columns,
  { dependent }: Structure,
  values: Float64Array,
): Float64Array => {
  const misses = Float64Array.from(balances, ({ constant }) => -constant);
  for (const [variable, list] of columns.balances.entries()) {
    const value = values[variable]!;
    for (const [at, balance] of list.entries()) misses[balance]! += columns.coefficients[variable]![at]! * value;
  }
  return misses.map((miss, balance) => (dependent[balance] ? 0 : miss));
};

const swayOf = ({ balances, coefficients }: Columns, multipliers: Float64Array): Float64Array =>
  Float64Array.from(balances, (list, variable) => {
    let sum = 0;
    for (let at = 0; at < list.length; at++) sum += coefficients[variable]![at]! * multipliers[list[at]!]!;
    return sum;
  });

const evidenceOf = (
  system: System,
  columns: Columns,
  structure: Structure,
  saddle: Saddle,
  multipliers: Float64Array,
  sway: Float64Array,
): Evidence => {
  const spread = (variable: number): Float64Array => {
    const balances = new Float64Array(multipliers.length);
    for (const [at, balance] of columns.balances[variable]!.entries()) {
      if (!structure.dependent[balance]) balances[balance] = columns.coefficients[variable]![at]!;
    }
    return saddle.solve({ balances, variables: new Float64Array(sway.length) }).balances;
  };
  const leverage = new Float64Array(sway.length);
  for (const [variable, reading] of system.readings.entries()) {
    const used = reading.value !== undefined && structure.redundant[variable];
    if (!used) sway[variable] = 0;
    else leverage[variable] = leverageOf(variable, columns, saddle, spread);
  }
  const balanceLeverage = multipliers.map((_, balance) => {
    const entry = saddle.balanceInverse(balance, balance)!;
    return Math.max(entry, 0);
  });
  return { multipliers, balanceLeverage, sway, leverage, spread, columns, structure };
};

const leverageOf = (
  variable: number,
  columns: Columns,
  saddle: Saddle,
  spread: (variable: number) => Float64Array,
): number => {
  const variance = saddle.variances[variable]!;
  if (saddle.kept[variable]) return Math.max(0, variance - saddle.keptVariance(variable)) / variance ** 2;
  const [list, coefficients] = [columns.balances[variable]!, columns.coefficients[variable]!];
  let [sum, size] = [0, 0];
  for (const [i, first] of list.entries()) {
    for (const [j, second] of list.entries()) {
      const entry = saddle.balanceInverse(first, second);
      if (entry === undefined) return Math.max(0, leverageBySolving(list, coefficients, spread(variable)));
      sum += coefficients[i]! * coefficients[j]! * entry;
      size += Math.abs(coefficients[i]! * coefficients[j]! * entry);
    }
  }
  return sum > ROUNDING * size ? sum : 0;
};

const leverageBySolving = (list: readonly number[], coefficients: readonly number[], spread: Float64Array): number =>
  list.reduce((sum, balance, at) => sum + coefficients[at]! * spread[balance]!, 0);

const uncertaintiesOf = (
  saddle: Saddle,
  standings: readonly Standing[],
  leverage: Float64Array,
): (number | undefined)[] =>
  standings.map((standing, variable) => {
    if (standing === 'unknown') return undefined;
    if (saddle.kept[variable]) return Math.sqrt(saddle.keptVariance(variable));
    const variance = saddle.variances[variable]!;
    return Math.sqrt(Math.max(0, variance - variance * variance * leverage[variable]!));
  });

/** kᵀVk − hᵀ M⁻¹ h, with M the saddle matrix and h = (A V k, k of the kept variables). */
const varianceOf = (
  terms: readonly Term[],
  { readings }: System,
  columns: Columns,
  saddle: Saddle,
  standings: readonly Standing[],
): number | undefined => {
  const [balances, variables] = [new Float64Array(columnsCount(columns)), new Float64Array(readings.length)];
  let own = 0;
  const summed = new Map<number, number>();
  for (const { variable, coefficient } of terms) summed.set(variable, (summed.get(variable) ?? 0) + coefficient);
  for (const [variable, coefficient] of summed) {
    if (standings[variable] === 'unknown') return undefined;
    if (saddle.kept[variable]) variables[variable] = coefficient;
    else if (kindOf(readings[variable]!) === 'measured') {
      const weight = saddle.variances[variable]! * coefficient;
      own += weight * coefficient;
      for (const [at, balance] of columns.balances[variable]!.entries()) {
        balances[balance]! += columns.coefficients[variable]![at]! * weight;
      }
    }
  }
  const solved = saddle.solve({ balances, variables });
  let less = 0;
  for (const [index, entry] of balances.entries()) less += entry * solved.balances[index]!;
  for (const [index, entry] of variables.entries()) less += entry * solved.variables[index]!;
  return Math.max(0, own - less);
};

const columnsCount = ({ balances }: Columns): number =>
  balances.reduce((most, list) => list.reduce((large, index) => Math.max(large, index + 1), most), 0);
