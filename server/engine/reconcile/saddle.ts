/**
 * The equations of weighted least squares under balances, sparse.
 *
 * With S = A V Aᵀ over the measured, the multipliers λ of the balances and the unmeasured u solve
 *
 *     | S   A_u | |  λ |   | A x − c |
 *     | A_uᵀ 0  | | −u | = |    0    |
 *
 * and the adjusted readings are x − V Aᵀ λ (x̂ = x − V Aᵀ S⁻¹ r, with the unmeasured not projected out but kept). Of the inverse, the
 * upper left part Z is (A V Aᵀ)⁻¹ after projection, the lower right the negative covariance of u. A measured variable that stands in many
 * balances is kept like an unmeasured one, with −1/v on the diagonal, so that it does not tie them all together.
 */
import { factorise } from './factor';
import type { Layout } from './layout';
import { slotOfPair } from './pattern';
import type { Columns } from './system';

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
  /** Diagonal entry of Z; 0 for a balance that takes no part. */
  readonly balanceInverse: (balance: number) => number;
  /** aᵀ Z a of a variable's column a, 0 where it is rounding; undefined where Z was not computed there. */
  readonly quadratic: (variable: number) => number | undefined;
  /** Variance of a kept variable. */
  readonly keptVariance: (variable: number) => number;
  /** Entry of the inverse between a kept variable and a balance; undefined where it was not computed. */
  readonly keptBalance: (variable: number, balance: number) => number | undefined;
  /** Entry of Z; undefined where it was not computed. */
  readonly balancePair: (balance: number, other: number) => number | undefined;
}

const REFINEMENTS = 2;

/** The plan of the factors is left in the layout, for the next figures of the same shape. */
export const saddleOf = (layout: Layout, columns: Columns, variances: Float64Array, inPassing = false): Saddle => {
  const scale = scaleOf(columns, layout, variances);
  const values = assemble(columns, layout, variances, scale);
  let factor = factorise(layout, values, inPassing);
  layout.plan = factor.plan;
  const equations = { layout, columns, variances };
  const solve = (right: Pair): Pair => {
    if (!inPassing) return solveRefined(right, factor.solve, scale, equations);
    const answer = solveUntil(right, factor.solve, scale, equations);
    if (answer) return answer;
    // Where a pivot was put in, refining does not always come home.
    factor = factorise(layout, values, false);
    layout.plan = factor.plan;
    return solveRefined(right, factor.solve, scale, equations);
  };
  const { placeOfBalance, placeOfVariable, kept, pattern } = layout;
  const diagonal = (place: number): number => factor.inverse()[pattern.start[place]!]! * scale[place]! ** 2;
  const entry = (p: number, q: number): number | undefined => {
    if (p < 0 || q < 0) return 0;
    const slot = slotOfPair(pattern, p, q);
    return slot < 0 ? undefined : factor.inverse()[slot]! * scale[p]! * scale[q]!;
  };
  return {
    variances,
    kept,
    solve,
    balanceInverse: (balance) => (placeOfBalance[balance]! < 0 ? 0 : diagonal(placeOfBalance[balance]!)),
    quadratic: (variable) => quadraticOf(variable, columns, layout, factor.inverse(), scale),
    keptVariance: (variable) => Math.max(0, -diagonal(placeOfVariable[variable]!)),
    keptBalance: (variable, balance) => entry(placeOfVariable[variable]!, placeOfBalance[balance]!),
    balancePair: (balance, other) => entry(placeOfBalance[balance]!, placeOfBalance[other]!),
  };
};

const assemble = (columns: Columns, layout: Layout, variances: Float64Array, scale: Float64Array): Float64Array => {
  const { start, balance, coefficient } = columns;
  const { taking, kept, placeOfBalance, placeOfVariable, pattern, pairStart, slotOf } = layout;
  const values = new Float64Array(pattern.slots);
  for (let each = 0; each < taking.length; each++) {
    const variable = taking[each]!;
    let pair = pairStart[variable]!;
    const from = start[variable]!;
    const to = start[variable + 1]!;
    const variance = variances[variable]!;
    if (kept[variable]) {
      const place = placeOfVariable[variable]!;
      if (variance > 0) values[pattern.start[place]!]! -= scale[place]! ** 2 / variance;
      for (let at = from; at < to; at++) {
        values[slotOf[pair++]!]! += coefficient[at]! * scale[place]! * scale[placeOfBalance[balance[at]!]!]!;
      }
      continue;
    }
    for (let i = from; i < to; i++) {
      const factor = variance * coefficient[i]! * scale[placeOfBalance[balance[i]!]!]!;
      for (let j = i; j < to; j++) {
        values[slotOf[pair++]!]! += factor * coefficient[j]! * scale[placeOfBalance[balance[j]!]!]!;
      }
    }
  }
  return values;
};

/** Computed with correlated parts, this share of the terms is rounding. */
const ROUNDING = 1e-11;

const quadraticOf = (
  variable: number,
  { start, balance, coefficient }: Columns,
  { absorbed, placeOfBalance, pairStart, slotOf }: Layout,
  inverse: Float64Array,
  scale: Float64Array,
): number | undefined => {
  if (!absorbed[variable]) return undefined;
  let sum = 0;
  let size = 0;
  let pair = pairStart[variable]!;
  for (let i = start[variable]!; i < start[variable + 1]!; i++) {
    const p = placeOfBalance[balance[i]!]!;
    for (let j = i; j < start[variable + 1]!; j++) {
      const q = placeOfBalance[balance[j]!]!;
      const weight = coefficient[i]! * coefficient[j]! * scale[p]! * scale[q]! * (i === j ? 1 : 2);
      const term = weight * inverse[slotOf[pair++]!]!;
      sum += term;
      size += Math.abs(term);
    }
  }
  return sum > ROUNDING * size ? sum : 0;
};

/** Rounds of balancing: each takes the root of what is left. */
const ROUNDS = 5;

/**
 * Makes the largest entry of every row of the order of one. Rows and variables are scaled in turn, so that a balance whose readings hardly
 * enter it, such as a lot that is all metal, does not drown the others that its unmeasured values stand in (Ruiz 2001; from memory).
 */
const scaleOf = (columns: Columns, layout: Layout, variances: Float64Array): Float64Array => {
  const { start, balance, coefficient } = columns;
  const { taking, kept, placeOfBalance, placeOfVariable, pattern } = layout;
  const diagonal = new Float64Array(pattern.size);
  for (let each = 0; each < taking.length; each++) {
    const variable = taking[each]!;
    const variance = variances[variable]!;
    if (kept[variable]) {
      diagonal[placeOfVariable[variable]!] = variance > 0 ? 1 / variance : 0;
      continue;
    }
    for (let at = start[variable]!; at < start[variable + 1]!; at++) {
      diagonal[placeOfBalance[balance[at]!]!]! += variance * coefficient[at]! ** 2;
    }
  }
  const bound = taking.filter((variable) => kept[variable]);
  const scale = new Float64Array(pattern.size).fill(1);
  const most = new Float64Array(pattern.size);
  for (let round = 0; round < ROUNDS; round++) {
    for (let place = 0; place < most.length; place++) most[place] = diagonal[place]! * scale[place]! ** 2;
    for (let each = 0; each < bound.length; each++) {
      const variable = bound[each]!;
      const own = placeOfVariable[variable]!;
      for (let at = start[variable]!; at < start[variable + 1]!; at++) {
        const other = placeOfBalance[balance[at]!]!;
        const entry = Math.abs(coefficient[at]!) * scale[own]! * scale[other]!;
        if (entry > most[own]!) most[own] = entry;
        if (entry > most[other]!) most[other] = entry;
      }
    }
    for (let place = 0; place < most.length; place++) if (most[place]! > 0) scale[place]! /= Math.sqrt(most[place]!);
  }
  return scale;
};

interface Equations {
  readonly layout: Layout;
  readonly columns: Columns;
  readonly variances: Float64Array;
}

/** Iterative refinement: what the factors leave over is computed from the balances themselves and solved for again. */
const solveRefined = (
  right: Pair,
  solve: (x: Float64Array) => void,
  scale: Float64Array,
  equations: Equations,
): Pair => {
  const answer = solveOnce(right, solve, scale, equations.layout);
  for (let pass = 0; pass < REFINEMENTS; pass++) {
    addTo(answer, solveOnce(residual(right, answer, equations), solve, scale, equations.layout));
  }
  return answer;
};

/** What the equations may be out by, as a share of the largest of their right sides. */
const SOLVED = 1e-7;
/** With so little left over, refining is not worth its time on the way. */
const WELL_SOLVED = 1e-13;

/** Refined only as far as there is something to refine; undefined where that does not come home. */
const solveUntil = (
  right: Pair,
  solve: (x: Float64Array) => void,
  scale: Float64Array,
  equations: Equations,
): Pair | undefined => {
  const { layout } = equations;
  const most = sizeOf(right, scale, layout);
  const answer = solveOnce(right, solve, scale, layout);
  for (let pass = 0; ; pass++) {
    const left = residual(right, answer, equations);
    const size = sizeOf(left, scale, layout);
    if (size <= WELL_SOLVED * most) return answer;
    if (pass === REFINEMENTS) return size <= SOLVED * most ? answer : undefined;
    addTo(answer, solveOnce(left, solve, scale, layout));
  }
};

const addTo = (answer: Pair, more: Pair): void => {
  for (let at = 0; at < answer.balances.length; at++) answer.balances[at]! += more.balances[at]!;
  for (let at = 0; at < answer.variables.length; at++) answer.variables[at]! += more.variables[at]!;
};

const sizeOf = ({ balances, variables }: Pair, scale: Float64Array, layout: Layout): number => {
  let most = 0;
  const look = (places: Int32Array, values: Float64Array): void => {
    for (let at = 0; at < places.length; at++) {
      if (places[at]! >= 0) most = Math.max(most, Math.abs(values[at]! * scale[places[at]!]!));
    }
  };
  look(layout.placeOfBalance, balances);
  look(layout.placeOfVariable, variables);
  return most;
};

const solveOnce = (right: Pair, solve: (x: Float64Array) => void, scale: Float64Array, layout: Layout): Pair => {
  const { placeOfBalance, placeOfVariable, pattern } = layout;
  const vector = new Float64Array(pattern.size);
  const put = (places: Int32Array, values: Float64Array): void => {
    for (let at = 0; at < places.length; at++) {
      const place = places[at]!;
      if (place >= 0) vector[place] = values[at]! * scale[place]!;
    }
  };
  put(placeOfBalance, right.balances);
  put(placeOfVariable, right.variables);
  solve(vector);
  const take = (places: Int32Array): Float64Array => {
    const values = new Float64Array(places.length);
    for (let at = 0; at < places.length; at++) {
      const place = places[at]!;
      if (place >= 0) values[at] = vector[place]! * scale[place]!;
    }
    return values;
  };
  return { balances: take(placeOfBalance), variables: take(placeOfVariable) };
};

const residual = (right: Pair, answer: Pair, { layout, columns, variances }: Equations): Pair => {
  const { taking, kept, placeOfBalance } = layout;
  const { start, balance, coefficient } = columns;
  const balances = Float64Array.from(right.balances);
  const variables = Float64Array.from(right.variables);
  for (let each = 0; each < taking.length; each++) {
    const variable = taking[each]!;
    const from = start[variable]!;
    const to = start[variable + 1]!;
    let sway = 0;
    for (let at = from; at < to; at++) sway += coefficient[at]! * answer.balances[balance[at]!]!;
    const value = kept[variable] ? answer.variables[variable]! : variances[variable]! * sway;
    for (let at = from; at < to; at++) balances[balance[at]!]! -= coefficient[at]! * value;
    if (!kept[variable]) continue;
    variables[variable]! -= sway;
    if (variances[variable]! > 0) variables[variable]! += answer.variables[variable]! / variances[variable]!;
  }
  for (let index = 0; index < balances.length; index++) if (placeOfBalance[index]! < 0) balances[index] = 0;
  return { balances, variables };
};
