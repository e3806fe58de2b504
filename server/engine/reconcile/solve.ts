/** Reconciliation: readings adjusted as little as their uncertainties allow, so that every balance closes. */
import { covarianceOfTerms, type Solved, varianceOf } from './covariance';
import { type Evidence, evidenceOf, swayOf, uncertaintyOf } from './evidence';
import { type Layout, layOut } from './layout';
import { type Saddle, saddleOf } from './saddle';
import { type Expanded, type Term, trueTerms, withSources } from './shared';
import type { Standing, Structure } from './structure';
import { type AnySystem, type Columns, checkSystem, columnsOf, figuresOf, kindOf, type Reading } from './system';

export type { Term } from './shared';

export interface Reconciled {
  /** As asked. */
  readonly asked: AnySystem;
  /** As solved: sources of shared errors are variables after the others, each read as 0 ± 1. All lists are as long as its readings. */
  readonly system: Expanded;
  readonly standings: readonly Standing[];
  /** Adjusted or inferred; undefined where unknown. */
  readonly values: readonly (number | undefined)[];
  /** Standard uncertainty of each value; undefined where unknown. */
  readonly u: readonly (number | undefined)[];
  /** The same of one, and no more worked out for it than it needs. */
  readonly uOf: (variable: number) => number | undefined;
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

/**
 * Weighted least squares under linear balances, V diagonal: x̂ = x − V Aᵀ (A V Aᵀ)⁻¹ (A x − c) and V̂ = V − V Aᵀ (A V Aᵀ)⁻¹ A V, the
 * unmeasured eliminated (Narasimhan and Jordache 2000, Data Reconciliation and Gross Error Detection; formulas as in published summaries).
 *
 * `pinned` gives the values at which unknown variables are held while the rest is solved (0 if not given); no known value depends on them.
 * Throws a RangeError on a system that is not one.
 */
export const reconcile = (system: AnySystem, pinned?: ArrayLike<number>): Reconciled => {
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
  if (evidence.layout.lean || !sameShape(asked.readings, readings)) return reconcile(system);
  checkSystem(system);
  const all = [...readings, ...old.readings.slice(old.firstSource)];
  const expanded = { ...old, readings: all, figures: figuresOf(all) };
  const same = readings.every((reading, at) => (reading.u ?? 0) === (asked.readings[at]!.u ?? 0));
  return complete(system, expanded, evidence.layout, undefined, same ? evidence.saddle : undefined);
};

const sameShape = (before: readonly Reading[], after: readonly Reading[]): boolean =>
  before.length === after.length &&
  before.every((reading, at) => kindOf(reading) === kindOf(after[at]!) && reading.shared === after[at]!.shared);

/** As `reconcile`, of a system that has this layout. */
export const complete = (
  asked: AnySystem,
  system: Expanded,
  layout: Layout,
  pinned?: ArrayLike<number>,
  factored?: Saddle,
): Reconciled => {
  const { told, solved } = tellAll(asked, system, layout, pinned, factored);
  const u = told.values.map((_, variable) => uncertaintyOf(variable, solved, told.evidence.leverage));
  return { ...told, u, uOf: (variable) => u[variable], ...variancesOf(solved) };
};

/** The same of a lean layout: for what that does not tell, the equations are taken apart in `full` as soon as it is asked for. */
export const completeLean = (
  asked: AnySystem,
  system: Expanded,
  layout: Layout,
  full: () => Layout,
  pinned?: ArrayLike<number>,
): Reconciled => {
  const { told, solved } = tellAll(asked, system, layout, pinned);
  let made: Solved | undefined;
  const whole = (): Solved => {
    if (made) return made;
    const wide = full();
    const columns = columnsOf(wide.shape, system.rows);
    made = { ...solved, columns, saddle: saddleOf(wide, columns, system.figures.variance) };
    return made;
  };
  const solvedFor = (...variables: number[]): Solved =>
    variables.every((variable) => system.readings[variable]!.value !== undefined) ? solved : whole();
  const uOf = (variable: number): number | undefined =>
    uncertaintyOf(variable, solvedFor(variable), told.evidence.leverage);
  return {
    ...told,
    get u() {
      return told.values.map((_, variable) => uOf(variable));
    },
    uOf,
    varianceOf: (terms) => variancesOf(solvedFor(...terms.map(({ variable }) => variable))).varianceOf(terms),
    covarianceOf: (variable, other) => variancesOf(solvedFor(variable, other)).covarianceOf(variable, other),
  };
};

const tellAll = (
  asked: AnySystem,
  system: Expanded,
  layout: Layout,
  pinned?: ArrayLike<number>,
  factored?: Saddle,
): {
  readonly told: Omit<Reconciled, 'u' | 'uOf' | 'varianceOf' | 'covarianceOf'>;
  readonly solved: Solved;
} => {
  const solution = solveSystem(system, layout, pinned, factored);
  const { columns, saddle, start, multipliers, sway } = solution;
  const { structure } = layout;
  const standings = standingsOf(system, structure);
  const evidence = evidenceOf(system, layout, columns, saddle, multipliers, sway);
  let gamma = 0;
  for (let variable = 0; variable < sway.length; variable++)
    gamma += saddle.variances[variable]! * sway[variable]! ** 2;
  const values: (number | undefined)[] = [];
  const adjustments: number[] = [];
  for (let variable = 0; variable < sway.length; variable++) {
    const value = solution.values[variable]!;
    values.push(Number.isNaN(value) ? undefined : value);
    adjustments.push(Number.isNaN(system.figures.value[variable]) ? 0 : value - start[variable]!);
  }
  const { freedom, contradictions } = structure;
  return {
    told: { asked, system, standings, values, adjustments, gamma, freedom, contradictions, evidence },
    solved: { system, columns, saddle, standings },
  };
};

const variancesOf = (solved: Solved): Pick<Reconciled, 'varianceOf' | 'covarianceOf'> => {
  const itself = (of: number): readonly Term[] => trueTerms(solved.system, of) ?? [{ variable: of, coefficient: 1 }];
  return {
    varianceOf: (terms) =>
      varianceOf(
        terms.flatMap(({ variable, coefficient }) =>
          itself(variable).map((term) => ({ variable: term.variable, coefficient: coefficient * term.coefficient })),
        ),
        solved,
      ),
    covarianceOf: (variable, other) => covarianceOfTerms(itself(variable), itself(other), solved),
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
  const columns = columnsOf(layout.shape, system.rows);
  const saddle = factored ?? saddleOf(layout, columns, system.figures.variance, inPassing);
  const start = startOf(system, saddle, pinned);
  const misses = missesOf(system, columns, layout.structure, start);
  const solved = saddle.solve({ balances: misses, variables: new Float64Array(start.length) });
  const sway = swayOf(columns, solved.balances);
  const own = Float64Array.from(start);
  for (let variable = 0; variable < own.length; variable++) {
    if (saddle.variances[variable]! > 0) own[variable]! -= saddle.variances[variable]! * sway[variable]!;
    else if (saddle.kept[variable]) own[variable] = -solved.variables[variable]!;
  }
  if (layout.lean) tellAlone(system, layout.structure, own);
  for (let variable = 0; variable < own.length; variable++) {
    const isRead = !Number.isNaN(system.figures.value[variable]);
    if (!isRead && !layout.structure.observable[variable]) own[variable] = Number.NaN;
  }
  const values =
    system.firstSource === own.length
      ? own
      : own.map((value, variable) => {
          const terms = trueTerms(system, variable);
          return terms ? terms.reduce((sum, term) => sum + term.coefficient * own[term.variable]!, 0) : value;
        });
  return { columns, saddle, start, multipliers: solved.balances, sway, values };
};

/** What a lean layout leaves out: each from its own balance, in which only those stand that are told before it. */
const tellAlone = ({ rows }: Expanded, { pivots, alone }: Structure, values: Float64Array): void => {
  const { start, variable: of, coefficient, constant } = rows;
  for (let pivot = alone - 1; pivot >= 0; pivot--) {
    const balance = pivots.balance[pivot]!;
    const variable = pivots.variable[pivot]!;
    let left = constant[balance]!;
    let own = 0;
    for (let at = start[balance]!; at < start[balance + 1]!; at++) {
      if (of[at] === variable) own += coefficient[at]!;
      else left -= coefficient[at]! * values[of[at]!]!;
    }
    values[variable] = left / own;
  }
};

const standingsOf = ({ figures: { value } }: Expanded, { observable, redundant }: Structure): Standing[] => {
  const standings: Standing[] = [];
  for (let variable = 0; variable < value.length; variable++) {
    if (!Number.isNaN(value[variable])) standings.push(redundant[variable] ? 'checked' : 'unchecked');
    else standings.push(observable[variable] ? 'inferred' : 'unknown');
  }
  return standings;
};

/** Readings as read; what is solved for starts at nothing, what is unknown where it is pinned. */
const startOf = ({ figures: { value } }: Expanded, { kept }: Saddle, pinned?: ArrayLike<number>): Float64Array => {
  const start = Float64Array.from(value);
  for (let variable = 0; variable < start.length; variable++) {
    if (Number.isNaN(start[variable])) start[variable] = kept[variable] ? 0 : (pinned?.[variable] ?? 0);
  }
  return start;
};

const missesOf = (
  { rows: { constant } }: Expanded,
  { start, balance, coefficient }: Columns,
  { dependent }: Structure,
  values: Float64Array,
): Float64Array => {
  const misses = new Float64Array(constant.length);
  for (let index = 0; index < misses.length; index++) misses[index] = -constant[index]!;
  for (let variable = 0; variable < values.length; variable++) {
    const value = values[variable]!;
    for (let at = start[variable]!; at < start[variable + 1]!; at++) misses[balance[at]!]! += coefficient[at]! * value;
  }
  for (let index = 0; index < misses.length; index++) if (dependent[index]) misses[index] = 0;
  return misses;
};
