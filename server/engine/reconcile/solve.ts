/** Reconciliation: readings adjusted as little as their uncertainties allow, so that every balance closes. */
import { covarianceOfTerms, type Solved, varianceOf } from './covariance';
import { type Layout, layOut } from './layout';
import { type Saddle, saddleOf } from './saddle';
import { type Expanded, type Term, trueTerms, withSources } from './shared';
import type { Standing, Structure } from './structure';
import { type Columns, checkSystem, columnsOf, kindOf, type Reading, type System } from './system';

export type { Term } from './shared';

export interface Reconciled {
  /** As asked. */
  readonly asked: System;
  /** As solved: sources of shared errors are variables after the others, each read as 0 ± 1. All lists are as long as its readings. */
  readonly system: Expanded;
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
  /** Covariance of two values over the result; undefined if one is unknown. Cheap where they share a balance. */
  readonly covarianceOf: (variable: number, other: number) => number | undefined;
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
  /** How it was solved, for the next figures of the same shape. */
  readonly layout: Layout;
  readonly saddle: Saddle;
}

/** Of a leverage computed with correlated parts, and of what it leaves of a variance, this share of the terms is rounding. */
const ROUNDING = 1e-11;

/**
 * Weighted least squares under linear balances, V diagonal: x̂ = x − V Aᵀ (A V Aᵀ)⁻¹ (A x − c) and V̂ = V − V Aᵀ (A V Aᵀ)⁻¹ A V, the
 * unmeasured eliminated (Narasimhan and Jordache 2000, Data Reconciliation and Gross Error Detection; formulas as in published summaries).
 *
 * `pinned` gives the values at which unknown variables are held while the rest is solved (0 if not given); no known value depends on them.
 * Throws a RangeError on a system that is not one.
 */
export const reconcile = (system: System, pinned?: ArrayLike<number>): Reconciled => {
  checkSystem(system);
  const expanded = withSources(system);
  return complete(system, expanded, layOut(expanded), pinned);
};

/**
 * The same balances with other readings: cheaper than anew, since which value follows from which, and the order of elimination, are kept;
 * where no uncertainty has changed, so are the factors. Anew where a reading came, went, or became exact, or its shared errors changed.
 */
export const reconcileAgain = (before: Reconciled, readings: readonly Reading[]): Reconciled => {
  const { asked, system: old, evidence } = before;
  const system = { ...asked, readings };
  if (!sameShape(asked.readings, readings)) return reconcile(system);
  checkSystem(system);
  const expanded = { ...old, readings: [...readings, ...old.readings.slice(old.firstSource)] };
  const same = readings.every((reading, at) => (reading.u ?? 0) === (asked.readings[at]!.u ?? 0));
  return complete(system, expanded, evidence.layout, undefined, same ? evidence.saddle : undefined);
};

const sameShape = (before: readonly Reading[], after: readonly Reading[]): boolean =>
  before.length === after.length &&
  before.every((reading, at) => kindOf(reading) === kindOf(after[at]!) && reading.shared === after[at]!.shared);

/** As `reconcile`, of a system that has this layout. */
export const complete = (
  asked: System,
  system: Expanded,
  layout: Layout,
  pinned?: ArrayLike<number>,
  factored?: Saddle,
): Reconciled => {
  const solution = solveSystem(system, layout, pinned, factored);
  const { columns, saddle, standings, start, multipliers, sway } = solution;
  const { structure } = layout;
  const values = Array.from(solution.values, (value) => (Number.isNaN(value) ? undefined : value));
  const evidence = evidenceOf(system, layout, columns, saddle, multipliers, sway);
  let gamma = 0;
  for (let variable = 0; variable < sway.length; variable++)
    gamma += saddle.variances[variable]! * sway[variable]! ** 2;
  const solved: Solved = { system, columns, saddle, standings };
  const own = uncertaintiesOf(saddle, standings, evidence.leverage);
  return {
    asked,
    system,
    standings,
    values,
    u: own.map((u, variable) => {
      const terms = trueTerms(system, variable);
      return terms && u !== undefined ? Math.sqrt(covarianceOfTerms(terms, terms, solved)!) : u;
    }),
    adjustments: values.map((value, variable) =>
      system.readings[variable]!.value === undefined ? 0 : value! - start[variable]!,
    ),
    gamma,
    freedom: structure.freedom,
    contradictions: structure.contradictions,
    varianceOf: (terms) =>
      varianceOf(
        terms.flatMap(({ variable, coefficient }) =>
          (trueTerms(system, variable) ?? [{ variable, coefficient: 1 }]).map((term) => ({
            variable: term.variable,
            coefficient: coefficient * term.coefficient,
          })),
        ),
        solved,
      ),
    covarianceOf: (variable, other) => {
      const itself = (of: number): readonly Term[] => trueTerms(system, of) ?? [{ variable: of, coefficient: 1 }];
      return covarianceOfTerms(itself(variable), itself(other), solved);
    },
    evidence,
  };
};

/** The values alone (NaN where unknown), without uncertainties and tests: a good deal cheaper, for passes on the way. The system has this layout. */
export const adjustedValues = (
  system: Expanded,
  layout: Layout,
  pinned?: ArrayLike<number>,
): { values: Float64Array; multipliers: Float64Array; sway: Float64Array } =>
  solveSystem(system, layout, pinned, undefined, true);

interface Solution {
  readonly columns: Columns;
  readonly saddle: Saddle;
  readonly standings: readonly Standing[];
  readonly start: Float64Array;
  readonly multipliers: Float64Array;
  readonly sway: Float64Array;
  /** NaN where unknown. */
  readonly values: Float64Array;
}

const solveSystem = (
  system: Expanded,
  layout: Layout,
  pinned?: ArrayLike<number>,
  factored?: Saddle,
  inPassing = false,
): Solution => {
  const columns = columnsOf(layout.shape, system);
  const saddle = factored ?? saddleOf(layout, columns, variancesOf(system), frozenOf(system, layout), inPassing);
  const standings = standingsOf(system, layout.structure);
  const start = startOf(system, saddle, pinned);
  const misses = missesOf(system, columns, layout.structure, start);
  const solved = saddle.solve({ balances: misses, variables: new Float64Array(start.length) });
  const sway = swayOf(columns, solved.balances);
  const own = new Float64Array(start.length);
  for (let variable = 0; variable < own.length; variable++) {
    const standing = standings[variable]!;
    if (standing === 'unknown') own[variable] = Number.NaN;
    else if (standing === 'inferred') own[variable] = -solved.variables[variable]!;
    else own[variable] = start[variable]! - saddle.variances[variable]! * sway[variable]!;
  }
  const values =
    system.firstSource === own.length
      ? own
      : own.map((value, variable) => {
          const terms = trueTerms(system, variable);
          return terms ? terms.reduce((sum, term) => sum + term.coefficient * own[term.variable]!, 0) : value;
        });
  return { columns, saddle, standings, start, multipliers: solved.balances, sway, values };
};

const variancesOf = ({ readings }: System): Float64Array => {
  const variances = new Float64Array(readings.length);
  for (const [variable, reading] of readings.entries()) {
    if (kindOf(reading) === 'measured') variances[variable] = reading.u! ** 2;
  }
  return variances;
};

/** Unmeasured by the layout, but given for now: as values that are held at a bound. */
const frozenOf = ({ readings }: System, { kept }: Layout): Set<number> => {
  const frozen = new Set<number>();
  for (const [variable, reading] of readings.entries()) {
    if (kept[variable] && kindOf(reading) === 'exact') frozen.add(variable);
  }
  return frozen;
};

const standingsOf = ({ readings }: System, { observable, redundant }: Structure): Standing[] =>
  readings.map((reading, variable) => {
    if (reading.value !== undefined) return redundant[variable] ? 'checked' : 'unchecked';
    return observable[variable] ? 'inferred' : 'unknown';
  });

/** Readings as read; what is solved for starts at nothing, what is unknown where it is pinned. */
const startOf = ({ readings }: System, { kept }: Saddle, pinned?: ArrayLike<number>): Float64Array => {
  const start = new Float64Array(readings.length);
  for (let variable = 0; variable < start.length; variable++)
    start[variable] = readings[variable]!.value ?? (kept[variable] ? 0 : (pinned?.[variable] ?? 0));
  return start;
};

const missesOf = (
  { balances }: System,
  { start, balance, coefficient }: Columns,
  { dependent }: Structure,
  values: Float64Array,
): Float64Array => {
  const misses = new Float64Array(balances.length);
  for (let index = 0; index < misses.length; index++) misses[index] = -balances[index]!.constant;
  for (let variable = 0; variable < values.length; variable++) {
    const value = values[variable]!;
    for (let at = start[variable]!; at < start[variable + 1]!; at++) misses[balance[at]!]! += coefficient[at]! * value;
  }
  for (let index = 0; index < misses.length; index++) if (dependent[index]) misses[index] = 0;
  return misses;
};

const swayOf = ({ start, balance, coefficient }: Columns, multipliers: Float64Array): Float64Array => {
  const sway = new Float64Array(start.length - 1);
  for (let variable = 0; variable < sway.length; variable++) {
    let sum = 0;
    for (let at = start[variable]!; at < start[variable + 1]!; at++)
      sum += coefficient[at]! * multipliers[balance[at]!]!;
    sway[variable] = sum;
  }
  return sway;
};

const evidenceOf = (
  system: System,
  layout: Layout,
  columns: Columns,
  saddle: Saddle,
  multipliers: Float64Array,
  sway: Float64Array,
): Evidence => {
  const { structure } = layout;
  const { start, balance, coefficient } = columns;
  const spread = (variable: number): Float64Array => {
    const balances = new Float64Array(multipliers.length);
    for (let at = start[variable]!; at < start[variable + 1]!; at++) {
      if (!structure.dependent[balance[at]!]) balances[balance[at]!] = coefficient[at]!;
    }
    return saddle.solve({ balances, variables: new Float64Array(sway.length) }).balances;
  };
  const leverage = new Float64Array(sway.length);
  for (const [variable, reading] of system.readings.entries()) {
    const used = reading.value !== undefined && structure.redundant[variable];
    if (!used) sway[variable] = 0;
    else leverage[variable] = leverageOf(variable, columns, saddle, spread);
  }
  const balanceLeverage = multipliers.map((_, index) => Math.max(saddle.balanceInverse(index), 0));
  return { multipliers, balanceLeverage, sway, leverage, spread, columns, structure, layout, saddle };
};

const leverageOf = (
  variable: number,
  columns: Columns,
  saddle: Saddle,
  spread: (variable: number) => Float64Array,
): number => {
  const variance = saddle.variances[variable]!;
  if (saddle.kept[variable]) return Math.max(0, variance - saddle.keptVariance(variable)) / variance ** 2;
  const quadratic = saddle.quadratic(variable);
  if (!quadratic) return Math.max(0, along(columns, variable, spread(variable)));
  return quadratic.sum > ROUNDING * quadratic.size ? quadratic.sum : 0;
};

/** aᵀ times a row over the balances, for the column a of a variable. */
export const along = ({ start, balance, coefficient }: Columns, variable: number, over: Float64Array): number => {
  let sum = 0;
  for (let at = start[variable]!; at < start[variable + 1]!; at++) sum += coefficient[at]! * over[balance[at]!]!;
  return sum;
};

const uncertaintiesOf = (
  saddle: Saddle,
  standings: readonly Standing[],
  leverage: Float64Array,
): (number | undefined)[] =>
  standings.map((standing, variable) => {
    if (standing === 'unknown') return undefined;
    if (saddle.kept[variable]) return Math.sqrt(saddle.keptVariance(variable));
    const variance = saddle.variances[variable]!;
    const left = variance - variance * variance * leverage[variable]!;
    // A value that the balances alone fix keeps no variance: what rounding leaves of the difference would be the square of a false uncertainty.
    return left > ROUNDING * variance ? Math.sqrt(left) : 0;
  });
