/**
 * The equations of weighted least squares under balances, sparse.
 *
 * With S = A V Aᵀ over the measured, the multipliers λ of the balances and the unmeasured u solve
 *
 *     | S   A_u | |  λ |   | A x − c |
 *     | A_uᵀ 0  | | −u | = |    0    |
 *
 * and the adjusted readings are x − V Aᵀ λ (measurement.md's x̂ = x − V Aᵀ S⁻¹ r, with the unmeasured not projected out but kept).
 * Of the inverse, the upper left part Z is (A V Aᵀ)⁻¹ after projection, the lower right the negative covariance of u. A measured variable
 * that stands in many balances is kept like an unmeasured one, with −1/v on the diagonal, so that it does not tie them all together.
 */
import { type Factor, factorise } from './factor';
import type { Structure } from './structure';
import { type Columns, kindOf, type SparseRow, type System } from './system';

/** One part per balance, one per variable; zero where a balance or variable does not take part. */
export interface Pair {
  readonly balances: Float64Array;
  readonly variables: Float64Array;
}

export interface Saddle {
  /** Variance of each variable as read; 0 where exact or unmeasured. */
  readonly variances: Float64Array;
  /** 1: the variable stands in the equations itself. */
  readonly kept: Uint8Array;
  readonly solve: (right: Pair) => Pair;
  /** Entry of Z; undefined if not computed. */
  readonly balanceInverse: (balance: number, other: number) => number | undefined;
  /** Variance of a kept variable. */
  readonly keptVariance: (variable: number) => number;
}

/** In more balances than this a measured variable is kept. */
const MOST_ABSORBED = 6;
const REFINEMENTS = 2;

interface Layout {
  readonly variances: Float64Array;
  readonly kept: Uint8Array;
  readonly placeOfBalance: Int32Array;
  readonly placeOfVariable: Int32Array;
  readonly size: number;
  readonly groups: readonly number[][];
}

export const saddleOf = (
  system: System,
  sparse: readonly SparseRow[],
  columns: Columns,
  structure: Structure,
): Saddle => {
  const layout = layOut(system, columns, structure);
  const { rows, scale } = assemble(system, columns, layout, sparse.length);
  const factor = factorise(rows, layout.groups);
  const { placeOfBalance, placeOfVariable, variances, kept } = layout;
  return {
    variances,
    kept,
    solve: (right) => solveRefined(right, factor, scale, layout, columns),
    balanceInverse: (balance, other) => {
      const [p, q] = [placeOfBalance[balance]!, placeOfBalance[other]!];
      if (p < 0 || q < 0) return 0;
      const entry = factor.inverse(p, q);
      return entry === undefined ? undefined : entry * scale[p]! * scale[q]!;
    },
    keptVariance: (variable) => {
      const place = placeOfVariable[variable]!;
      return Math.max(0, -factor.inverse(place, place)! * scale[place]! ** 2);
    },
  };
};

const layOut = ({ readings }: System, columns: Columns, { pivots, dependent }: Structure): Layout => {
  const placeOfBalance = new Int32Array(dependent.length).fill(-1);
  const placeOfVariable = new Int32Array(readings.length).fill(-1);
  const kept = new Uint8Array(readings.length);
  const groups: number[][] = [];
  let size = 0;
  for (const { balance, variable } of pivots) {
    placeOfBalance[balance] = size++;
    placeOfVariable[variable] = size++;
    kept[variable] = 1;
    groups.push([size - 2, size - 1]);
  }
  for (const balance of dependent.keys()) {
    if (dependent[balance] || placeOfBalance[balance]! >= 0) continue;
    groups.push([size]);
    placeOfBalance[balance] = size++;
  }
  for (const [variable, balances] of columns.balances.entries()) {
    if (balances.length <= MOST_ABSORBED || kindOf(readings[variable]!) !== 'measured') continue;
    groups.push([size]);
    placeOfVariable[variable] = size++;
    kept[variable] = 1;
  }
  const variances = Float64Array.from(readings, (reading) => (kindOf(reading) === 'measured' ? reading.u! ** 2 : 0));
  return { variances, kept, placeOfBalance, placeOfVariable, size, groups };
};

const assemble = (
  { readings }: System,
  columns: Columns,
  layout: Layout,
  balances: number,
): { rows: Map<number, number>[]; scale: Float64Array } => {
  const { kept, variances, placeOfBalance, placeOfVariable, size } = layout;
  const scale = scaleOf(columns, layout, balances);
  const rows: Map<number, number>[] = Array.from({ length: size }, (_, place) => new Map([[place, 0]]));
  const addTo = (p: number, q: number, value: number): void => {
    rows[p]!.set(q, (rows[p]!.get(q) ?? 0) + value * scale[p]! * scale[q]!);
  };
  for (const [variable, list] of columns.balances.entries()) {
    const coefficients = columns.coefficients[variable]!;
    const place = placeOfVariable[variable]!;
    if (kept[variable]) {
      if (variances[variable]! > 0) addTo(place, place, -1 / variances[variable]!);
      for (const [at, balance] of list.entries()) {
        const other = placeOfBalance[balance]!;
        if (other < 0) continue;
        addTo(place, other, coefficients[at]!);
        addTo(other, place, coefficients[at]!);
      }
    } else if (list.length <= MOST_ABSORBED && readings[variable]!.value !== undefined) {
      // An exact reading adds nothing, but makes room for the entries of the inverse that its test asks for.
      absorb(list, coefficients, variances[variable]!, placeOfBalance, addTo);
    }
  }
  return { rows, scale };
};

const absorb = (
  list: readonly number[],
  coefficients: readonly number[],
  variance: number,
  placeOfBalance: Int32Array,
  addTo: (p: number, q: number, value: number) => void,
): void => {
  for (const [i, first] of list.entries()) {
    for (const [j, second] of list.entries()) {
      const [p, q] = [placeOfBalance[first]!, placeOfBalance[second]!];
      if (p >= 0 && q >= 0) addTo(p, q, variance * coefficients[i]! * coefficients[j]!);
    }
  }
};

/** Makes every diagonal entry, or where it is zero the largest entry of the row, of the order of one. */
const scaleOf = (columns: Columns, layout: Layout, balances: number): Float64Array => {
  const { kept, variances, placeOfBalance, placeOfVariable, size } = layout;
  const diagonal = new Float64Array(balances);
  const largest = new Float64Array(balances);
  for (const [variable, list] of columns.balances.entries()) {
    for (const [at, balance] of list.entries()) {
      const coefficient = columns.coefficients[variable]![at]!;
      if (kept[variable]) largest[balance] = Math.max(largest[balance]!, Math.abs(coefficient));
      else diagonal[balance]! += variances[variable]! * coefficient ** 2;
    }
  }
  const scale = new Float64Array(size).fill(1);
  for (const [balance, place] of placeOfBalance.entries()) {
    if (place < 0) continue;
    if (diagonal[balance]! > 0) scale[place] = 1 / Math.sqrt(diagonal[balance]!);
    else if (largest[balance]! > 0) scale[place] = 1 / largest[balance]!;
  }
  for (const [variable, list] of columns.balances.entries()) {
    if (!kept[variable]) continue;
    let most = variances[variable]! > 0 ? 1 / Math.sqrt(variances[variable]!) : 0;
    for (const [at, balance] of list.entries()) {
      const place = placeOfBalance[balance]!;
      if (place >= 0) most = Math.max(most, Math.abs(columns.coefficients[variable]![at]!) * scale[place]!);
    }
    if (most > 0) scale[placeOfVariable[variable]!] = 1 / most;
  }
  return scale;
};

/** Iterative refinement: what the factors leave over is computed from the balances themselves and solved for again. */
const solveRefined = (right: Pair, factor: Factor, scale: Float64Array, layout: Layout, columns: Columns): Pair => {
  const answer = solveOnce(right, factor, scale, layout);
  for (let pass = 0; pass < REFINEMENTS; pass++) {
    const more = solveOnce(residual(right, answer, layout, columns), factor, scale, layout);
    for (const [index, value] of more.balances.entries()) answer.balances[index]! += value;
    for (const [index, value] of more.variables.entries()) answer.variables[index]! += value;
  }
  return answer;
};

const solveOnce = (right: Pair, factor: Factor, scale: Float64Array, layout: Layout): Pair => {
  const { placeOfBalance, placeOfVariable, size } = layout;
  const vector = new Float64Array(size);
  for (const [index, place] of placeOfBalance.entries()) {
    if (place >= 0) vector[place] = right.balances[index]! * scale[place]!;
  }
  for (const [index, place] of placeOfVariable.entries()) {
    if (place >= 0) vector[place] = right.variables[index]! * scale[place]!;
  }
  const solved = factor.solve(vector);
  const take = (place: number): number => (place < 0 ? 0 : solved[place]! * scale[place]!);
  return { balances: Float64Array.from(placeOfBalance, take), variables: Float64Array.from(placeOfVariable, take) };
};

const residual = (right: Pair, answer: Pair, layout: Layout, columns: Columns): Pair => {
  const { kept, variances, placeOfBalance } = layout;
  const balances = Float64Array.from(right.balances);
  const variables = Float64Array.from(right.variables);
  for (const [variable, list] of columns.balances.entries()) {
    const coefficients = columns.coefficients[variable]!;
    let sway = 0;
    for (let at = 0; at < list.length; at++) sway += coefficients[at]! * answer.balances[list[at]!]!;
    const value = kept[variable] ? answer.variables[variable]! : variances[variable]! * sway;
    for (let at = 0; at < list.length; at++) balances[list[at]!]! -= coefficients[at]! * value;
    if (!kept[variable]) continue;
    variables[variable]! -= sway;
    if (variances[variable]! > 0) variables[variable]! += answer.variables[variable]! / variances[variable]!;
  }
  for (const [balance, place] of placeOfBalance.entries()) if (place < 0) balances[balance] = 0;
  return { balances, variables };
};
