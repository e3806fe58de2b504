/** Variances and covariances of what was solved for. */
import type { Saddle } from './saddle';
import type { Expanded, Term } from './shared';
import type { Standing } from './structure';
import type { Columns } from './system';

export interface Solved {
  readonly system: Expanded;
  readonly columns: Columns;
  readonly saddle: Saddle;
  readonly standings: readonly Standing[];
}

/** kᵀVk − hᵀ M⁻¹ h, with M the saddle matrix and h = (A V k, k of the kept variables). */
export const varianceOf = (
  terms: readonly Term[],
  { system, columns, saddle, standings }: Solved,
): number | undefined => {
  const { start, balance, coefficient: column } = columns;
  const balances = new Float64Array(system.rows.constant.length);
  const variables = new Float64Array(system.readings.length);
  let own = 0;
  const summed = new Map<number, number>();
  for (const { variable, coefficient } of terms) summed.set(variable, (summed.get(variable) ?? 0) + coefficient);
  for (const [variable, coefficient] of summed) {
    if (standings[variable] === 'unknown') return undefined;
    if (saddle.kept[variable]) variables[variable] = coefficient;
    else {
      const weight = saddle.variances[variable]! * coefficient;
      own += weight * coefficient;
      for (let at = start[variable]!; at < start[variable + 1]!; at++) balances[balance[at]!]! += column[at]! * weight;
    }
  }
  const solved = saddle.solve({ balances, variables });
  let less = 0;
  for (const [index, entry] of balances.entries()) less += entry * solved.balances[index]!;
  for (const [index, entry] of variables.entries()) less += entry * solved.variables[index]!;
  return Math.max(0, own - less);
};

/** From entries of the inverse that are there already, else by solving. A variance is not negative. */
export const covarianceOfTerms = (one: readonly Term[], other: readonly Term[], solved: Solved): number | undefined => {
  let sum = 0;
  for (const first of one) {
    for (const second of other) {
      if (solved.standings[first.variable] === 'unknown' || solved.standings[second.variable] === 'unknown')
        return undefined;
      sum += first.coefficient * second.coefficient * covarianceOf(first.variable, second.variable, solved);
    }
  }
  return one === other ? Math.max(0, sum) : sum;
};

const covarianceOf = (variable: number, other: number, solved: Solved): number => {
  const known = knownCovariance(variable, other, solved.columns, solved.saddle);
  if (known !== undefined) return known;
  const of = (sign: number): number =>
    varianceOf(
      [
        { variable, coefficient: 1 },
        { variable: other, coefficient: sign },
      ],
      solved,
    )!;
  return (of(1) - of(-1)) / 4;
};

const knownCovariance = (variable: number, other: number, columns: Columns, saddle: Saddle): number | undefined => {
  const { kept, variances } = saddle;
  const { start, balance, coefficient } = columns;
  if (kept[variable] && variable === other) return saddle.keptVariance(variable);
  if (kept[variable] && kept[other]) return undefined;
  if (kept[other]) return knownCovariance(other, variable, columns, saddle);
  let sum = 0;
  for (let j = start[other]!; j < start[other + 1]!; j++) {
    let entry: number | undefined = 0;
    if (kept[variable]) entry = saddle.keptBalance(variable, balance[j]!);
    else {
      for (let i = start[variable]!; i < start[variable + 1]! && entry !== undefined; i++) {
        const pair = saddle.balancePair(balance[i]!, balance[j]!);
        entry = pair === undefined ? undefined : entry + coefficient[i]! * pair;
      }
    }
    if (entry === undefined) return undefined;
    sum += coefficient[j]! * entry;
  }
  if (kept[variable]) return -variances[other]! * sum;
  return (variable === other ? variances[variable]! : 0) - variances[variable]! * variances[other]! * sum;
};
