/** What tests on the readings and balances of a result are made of, and the uncertainties of its values. */
import { covarianceOfTerms, type Solved } from './covariance';
import type { Layout } from './layout';
import type { Saddle } from './saddle';
import { type Expanded, trueTerms } from './shared';
import type { Structure } from './structure';
import type { Columns } from './system';

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

/** Of what a leverage leaves of a variance this share is rounding. */
const ROUNDING = 1e-11;

/** Of a reading's variance the balances take no less than this share, unless they take nothing: as much as of 1 g that is checked to a kilotonne. */
const CHECKED_BY_ROUNDING = 1e-18;

export const swayOf = ({ start, balance, coefficient }: Columns, multipliers: Float64Array): Float64Array => {
  const sway = new Float64Array(start.length - 1);
  for (let variable = 0; variable < sway.length; variable++) {
    let sum = 0;
    for (let at = start[variable]!; at < start[variable + 1]!; at++)
      sum += coefficient[at]! * multipliers[balance[at]!]!;
    sway[variable] = sum;
  }
  return sway;
};

export const evidenceOf = (
  { figures }: Expanded,
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
  for (let variable = 0; variable < sway.length; variable++) {
    const used = !Number.isNaN(figures.value[variable]) && structure.redundant[variable];
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
  const told = saddle.quadratic(variable) ?? Math.max(0, along(columns, variable, spread(variable)));
  return told * variance < CHECKED_BY_ROUNDING && variance > 0 ? 0 : told;
};

/** aᵀ times a row over the balances, for the column a of a variable. */
export const along = ({ start, balance, coefficient }: Columns, variable: number, over: Float64Array): number => {
  let sum = 0;
  for (let at = start[variable]!; at < start[variable + 1]!; at++) sum += coefficient[at]! * over[balance[at]!]!;
  return sum;
};

export const uncertaintyOf = (variable: number, solved: Solved, leverage: Float64Array): number | undefined => {
  const { system, saddle, standings } = solved;
  if (standings[variable] === 'unknown') return undefined;
  const terms = trueTerms(system, variable);
  if (terms) return Math.sqrt(covarianceOfTerms(terms, terms, solved)!);
  if (saddle.kept[variable]) return Math.sqrt(saddle.keptVariance(variable));
  const variance = saddle.variances[variable]!;
  const left = variance - variance * variance * leverage[variable]!;
  // A value that the balances alone fix keeps no variance: what rounding leaves of the difference would be the square of a false uncertainty.
  return left > ROUNDING * variance ? Math.sqrt(left) : 0;
};
