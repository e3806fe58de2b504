/** How sure a difference is: coverage, tests and their limits. What is judged is a plain number with its standard uncertainty, in one unit. */
import { chiSquarePoint, normalBelow, normalPoint, studentPoint } from './distributions';

/** One part of a combined uncertainty: c·u, and the degrees of freedom it was found with (infinite for a stated limit). */
export interface Contribution {
  readonly u: number;
  readonly freedom: number;
}

/** Root of the sum of squares, for independent parts. */
export const combined = (parts: readonly { readonly u: number }[]): number => Math.hypot(...parts.map(({ u }) => u));

/** Effective degrees of freedom, Welch and Satterthwaite (GUM G.4.1); independent parts only. */
export const effectiveFreedom = (parts: readonly Contribution[]): number =>
  combined(parts) ** 4 / parts.reduce((total, { u, freedom }) => total + u ** 4 / freedom, 0);

/** The k that covers this share, two-sided: from Student's t where few readings stand behind u, else from the normal distribution. */
export const coverageFactor = (share: number, freedom = Number.POSITIVE_INFINITY): number => {
  const below = (1 + share) / 2;
  return Number.isFinite(freedom) ? studentPoint(below, freedom) : normalPoint(below);
};

/** En of ISO 13528: a result against a reference, each with its expanded uncertainty; |En| ≤ 1 agrees. */
export const enScore = (result: number, expanded: number, reference: number, referenceExpanded: number): number =>
  (result - reference) / Math.hypot(expanded, referenceExpanded);

/** Two results by one method, under like conditions, differ by no more than this in 95 of 100 cases: 1.96·√2·s (ISO 5725-6). */
export const repeatabilityLimit = (standardDeviation: number): number =>
  coverageFactor(0.95) * Math.SQRT2 * standardDeviation;

/** Risk of accepting what is beyond the limit, for a result that sits on a limit guarded by so many u (ILAC-G8). */
export const falseAcceptance = (guardOverU: number): number => normalBelow(-guardOverU);

/** The smallest loss that is found with these risks of false alarm and of a miss, one-sided. */
export const detectable = (u: number, falseAlarm = 0.05, miss = 0.05): number =>
  (normalPoint(1 - falseAlarm) + normalPoint(1 - miss)) * u;

/** Two-sided normal limit when several tests are made together, so that all keep quiet with probability 1 − risk (Šidák). */
export const jointLimit = (tests: number, risk = 0.05): number => normalPoint(1 - (1 - (1 - risk) ** (1 / tests)) / 2);

/** Largest chi-square that chance explains in 1 − risk of cases. */
export const chiSquareLimit = (freedom: number, risk = 0.05): number => chiSquarePoint(1 - risk, freedom);

export interface Sample {
  readonly count: number;
  readonly mean: number;
  readonly standardDeviation: number;
}

/** Student's t of two samples with one common scatter, and its degrees of freedom. */
export const pooledT = (a: Sample, b: Sample): { readonly t: number; readonly freedom: number } => {
  const freedom = a.count + b.count - 2;
  const squares = (a.count - 1) * a.standardDeviation ** 2 + (b.count - 1) * b.standardDeviation ** 2;
  return { t: (a.mean - b.mean) / Math.sqrt((squares / freedom) * (1 / a.count + 1 / b.count)), freedom };
};

/** Grubbs' statistic: the farthest value from the mean, in standard deviations. Throws a RangeError on fewer than three values. */
export const grubbs = (values: readonly number[]): number => {
  if (values.length < 3) throw new RangeError('an outlier needs three values at least');
  const mean = values.reduce((total, value) => total + value, 0) / values.length;
  const away = values.map((value) => Math.abs(value - mean));
  const scatter = Math.sqrt(away.reduce((total, distance) => total + distance ** 2, 0) / (values.length - 1));
  return scatter === 0 ? 0 : Math.max(...away) / scatter;
};

/** The limit of Grubbs' statistic for one suspect side (`sides` 1) or either (2). */
export const grubbsLimit = (count: number, risk: number, sides: 1 | 2): number => {
  const t = studentPoint(1 - risk / (sides * count), count - 2);
  return ((count - 1) / Math.sqrt(count)) * Math.sqrt(t ** 2 / (count - 2 + t ** 2));
};

/** Scatter of results against their own uncertainties (Birge): about 1 when they agree, well above when some u is too small. */
export const birgeRatio = (results: readonly { readonly value: number; readonly u: number }[]): number => {
  const weights = results.map(({ u }) => 1 / u ** 2);
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  const mean = results.reduce((sum, { value }, at) => sum + value * weights[at]!, 0) / total;
  const chiSquare = results.reduce((sum, { value, u }) => sum + ((value - mean) / u) ** 2, 0);
  return Math.sqrt(chiSquare / (results.length - 1));
};
