/**
 * Tests for gross errors: does the whole hang together, and if not, which reading or which step is it?
 * (Narasimhan and Jordache 2000, Data Reconciliation and Gross Error Detection; formulas as in published summaries.)
 */
import { detectableLoss } from '../statistics/decision';
import {
  chiSquaredQuantile,
  chiSquaredUpperTail,
  normalQuantile,
  normalUpperQuantile,
  sidakCriticalZ,
} from '../statistics/distributions';
import { along } from './evidence';
import { layOut } from './layout';
import { withSources } from './shared';
import { complete, type Reconciled } from './solve';
import { figuresOf, kindOf } from './system';

export interface GlobalTest {
  readonly gamma: number;
  readonly freedom: number;
  /** Chi-squared at 1 − level; infinite where nothing is checked. */
  readonly limit: number;
  /** Chance of a gamma as large when all readings are as good as they say. */
  readonly p: number;
  readonly passes: boolean;
}

export const globalTest = (result: Pick<Reconciled, 'gamma' | 'freedom'>, level = 0.05): GlobalTest => {
  const { gamma, freedom } = result;
  if (freedom === 0) return { gamma, freedom, limit: Number.POSITIVE_INFINITY, p: 1, passes: true };
  const limit = chiSquaredQuantile(1 - level, freedom);
  return { gamma, freedom, limit, p: chiSquaredUpperTail(gamma, freedom), passes: gamma <= limit };
};

/**
 * Measurement test: each adjustment against its own standard deviation, |a| / √((V Aᵀ S⁻¹ A V)ᵢᵢ). Undefined where nothing checks the
 * reading. Squared it is the likelihood ratio for a bias in that reading, which is what it tells of an exact reading.
 */
export const readingScores = ({ evidence: { sway, leverage } }: Reconciled): (number | undefined)[] =>
  [...sway].map((each, variable) => scoreOf(each, leverage[variable]!));

/** Nodal test: what a balance is out by before adjustment, |r| / √S. Undefined where it has an unmeasured part or only exact ones. */
export const balanceScores = ({ system: { readings, rows } }: Reconciled): (number | undefined)[] =>
  Array.from(rows.constant, (constant, index) => {
    let [miss, variance] = [-constant, 0];
    for (let at = rows.start[index]!; at < rows.start[index + 1]!; at++) {
      const { value, u } = readings[rows.variable[at]!]!;
      if (value === undefined) return undefined;
      miss += rows.coefficient[at]! * value;
      variance += (rows.coefficient[at]! * (u ?? 0)) ** 2;
    }
    return variance > 0 ? Math.abs(miss) / Math.sqrt(variance) : undefined;
  });

/** Root of the likelihood ratio for a leak at each balance; undefined where a leak would not show. */
export const leakScores = ({ evidence: { multipliers, balanceLeverage } }: Reconciled): (number | undefined)[] =>
  [...multipliers].map((each, balance) => scoreOf(each, balanceLeverage[balance]!));

/** The bias of a reading, were it the only fault: reading less what all others say of it. Undefined where nothing checks it. */
export const biasOf = ({ evidence: { sway, leverage } }: Reconciled, variable: number): number | undefined =>
  leverage[variable]! > 0 ? sway[variable]! / leverage[variable]! : undefined;

/**
 * The least error of a reading that would be noticed with 95 % chance by a one-sided test at 5 %: 3.29 standard deviations of that bias.
 * Large where a reading is checked only by much coarser ones; undefined where nothing checks it.
 */
export const smallestBiasSeen = (result: Reconciled, variable: number): number | undefined => {
  const sd = biasDeviation(result, variable);
  return sd === undefined ? undefined : detectableLoss(sd);
};

export interface FindOptions {
  /** Chance that the error is found, default 0.9. */
  readonly found?: number;
  /** Chance of a false alarm, default 0.05: on this reading alone, or with `tests` on any of so many that are watched (Sidak). */
  readonly level?: number;
  readonly tests?: number;
}

/**
 * What an error in this reading must come to, in its unit and of either sign, to be found nine times of ten by its own test; smaller ones
 * mostly hide. It follows from the uncertainties and the balances alone, so that it can be asked before anything is read, with any values.
 * Undefined where nothing checks the reading: no error of it would ever be found.
 */
export const errorFound = (result: Reconciled, variable: number, options: FindOptions = {}): number | undefined =>
  errorsFound(result, options)(variable);

/** The same for reading after reading. */
export const errorsFound = (
  result: Reconciled,
  { found = 0.9, level = 0.05, tests = 1 }: FindOptions = {},
): ((variable: number) => number | undefined) => {
  const deviations = sidakCriticalZ(level, tests) + normalQuantile(found);
  return (variable) => {
    const sd = biasDeviation(result, variable);
    return sd === undefined ? undefined : deviations * sd;
  };
};

/**
 * After reading: the largest error that the figures still leave room for, in the reading's unit: its apparent bias and what 95 in 100
 * cases stay below on top of it. Undefined where nothing checks the reading.
 */
export const errorLeft = (result: Reconciled, variable: number, level = 0.05): number | undefined => {
  const [bias, sd] = [biasOf(result, variable), biasDeviation(result, variable)];
  return bias === undefined || sd === undefined ? undefined : Math.abs(bias) + normalUpperQuantile(level) * sd;
};

/** Standard deviation of a reading's apparent bias when it has none: of the reading and of what all others say of it, together. */
const biasDeviation = ({ evidence: { leverage } }: Reconciled, variable: number): number | undefined =>
  leverage[variable]! > 0 ? 1 / Math.sqrt(leverage[variable]!) : undefined;

export interface Suspect {
  readonly variable: number;
  readonly score: number;
  /** Reading less what the others say of it. */
  readonly bias: number;
  /** Other readings that fit the facts as well: the figures cannot tell which of them it is. */
  readonly alike: readonly number[];
  /** Gamma and degrees of freedom once this reading is set aside. */
  readonly gamma: number;
  readonly freedom: number;
}

export interface SuspectOptions {
  /** Chance of a false alarm on the whole, default 0.05. */
  readonly level?: number;
  /** `global`: go on until gamma passes. `reading`: until no reading stands out (Sidak over all that are checked). */
  readonly until?: 'global' | 'reading';
  /** At most so many, default 20. */
  readonly most?: number;
}

/** Scores within this share of each other are the same: streams in series have one adjustment. */
const ALIKE = 1e-6;
/** What a reading's leverage falls to, as a share, when nothing checks it any more. */
const UNCHECKED = 1e-9;

/**
 * Serial elimination (Ripps 1965; citation from memory): sets the worst checked reading aside, judges the rest anew, and so on until the
 * test passes. The readings are not solved for again: with w = Z a for the reading's column a, each score follows from
 * Z − w wᵀ / aᵀZa, so that one more suspect costs one solve. An exact reading is never set aside.
 */
export const findSuspects = (result: Reconciled, options: SuspectOptions = {}): Suspect[] => {
  const { level = 0.05, until = 'global', most = 20 } = options;
  const state = startElimination(result);
  const suspects: Suspect[] = [];
  while (suspects.length < most) {
    const [worst, score] = worstOf(state);
    if (worst < 0 || passes(state, score, level, until)) break;
    suspects.push(setAside(state, worst, score));
  }
  return suspects;
};

/** The whole solved without these readings, or without these sources' being near nothing: with the suspects, what the others say. */
export const solutionWithout = ({ asked, system }: Reconciled, variables: readonly number[]): Reconciled => {
  const aside = new Set(variables);
  const readings = asked.readings.map((reading, at) => (aside.has(at) ? {} : reading));
  const left = { ...asked, readings };
  const { rows, readings: all, firstSource } = withSources(left);
  const open = all.map((reading, at) => (at >= system.firstSource && aside.has(at) ? {} : reading));
  const expanded = { rows, readings: open, figures: figuresOf(open), firstSource };
  return complete(left, expanded, layOut(expanded));
};

interface Elimination {
  readonly result: Reconciled;
  readonly candidates: readonly number[];
  readonly sway: Float64Array;
  readonly leverage: Float64Array;
  readonly aside: { readonly spread: Float64Array; readonly leverage: number }[];
  gamma: number;
  freedom: number;
}

const startElimination = (result: Reconciled): Elimination => ({
  result,
  candidates: [...result.standings.keys()].filter(
    (variable) => result.standings[variable] === 'checked' && kindOf(result.system.readings[variable]!) === 'measured',
  ),
  sway: Float64Array.from(result.evidence.sway),
  leverage: Float64Array.from(result.evidence.leverage),
  aside: [],
  gamma: result.gamma,
  freedom: result.freedom,
});

const scoreOf = (sway: number, leverage: number): number | undefined =>
  leverage > 0 ? Math.abs(sway) / Math.sqrt(leverage) : undefined;

const worstOf = ({ candidates, sway, leverage }: Elimination): [number, number] => {
  let [worst, most] = [-1, 0];
  for (const variable of candidates) {
    const score = scoreOf(sway[variable]!, leverage[variable]!) ?? -1;
    if (score > most * (1 + ALIKE)) [worst, most] = [variable, score];
  }
  return [worst, most];
};

const passes = (state: Elimination, score: number, level: number, until: 'global' | 'reading'): boolean => {
  if (until === 'global') return globalTest(state, level).passes;
  const checked = state.candidates.filter((variable) => state.leverage[variable]! > 0).length;
  return score <= sidakCriticalZ(level, checked);
};

const setAside = (state: Elimination, variable: number, score: number): Suspect => {
  const { result, candidates, sway, leverage, aside } = state;
  const { columns } = result.evidence;
  const alike = candidates.filter(
    (other) => other !== variable && (scoreOf(sway[other]!, leverage[other]!) ?? -1) > score * (1 - ALIKE),
  );
  const [ownSway, ownLeverage] = [sway[variable]!, leverage[variable]!];
  const spread = result.evidence.spread(variable);
  for (const earlier of aside) {
    const share = along(columns, variable, earlier.spread) / earlier.leverage;
    for (let balance = 0; balance < spread.length; balance++) spread[balance]! -= share * earlier.spread[balance]!;
  }
  for (const other of candidates) {
    const across = along(columns, other, spread);
    if (across === 0 || leverage[other] === 0) continue;
    const before = result.evidence.leverage[other]!;
    leverage[other]! -= (across * across) / ownLeverage;
    sway[other]! -= (across * ownSway) / ownLeverage;
    if (other === variable || leverage[other]! < UNCHECKED * before) leverage[other] = 0;
  }
  aside.push({ spread, leverage: ownLeverage });
  state.gamma = Math.max(0, state.gamma - (ownSway * ownSway) / ownLeverage);
  state.freedom--;
  return { variable, score, bias: ownSway / ownLeverage, alike, gamma: state.gamma, freedom: state.freedom };
};
