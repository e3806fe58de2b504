/** Do two figures differ, and how large must a loss be to be seen? */
import { normalUpperQuantile, normalUpperTail } from './distributions';

/** Difference of two independent readings in its own standard uncertainty. Infinite, or NaN for equal ones, where both are exact. */
export const differenceScore = (x1: number, u1: number, x2: number, u2: number): number =>
  (x1 - x2) / Math.hypot(u1, u2);

/** Eₙ = (x − X)/√(U² + U_ref²) with expanded uncertainties; |Eₙ| ≤ 1 passes (ISO 13528, as given by NIST Dataplot). */
export const normalisedError = (x: number, expandedU: number, reference: number, referenceU: number): number =>
  (x - reference) / Math.hypot(expandedU, referenceU);

/** The difference of two readings of division d that rounding explains: k √(2 d²/12), and never more than d itself. */
export const roundingDifference = (division: number, k: number): number =>
  Math.min(division, k * division * Math.sqrt(1 / 6));

/** Largest difference of two results under repeatability s that 95 % stay below: 1.96 √2 s (ISO 5725-6 rounds it to 2.8). */
export const repeatabilityLimit = (s: number): number => normalUpperQuantile(0.025) * Math.SQRT2 * s;

/** Chance that a thing is beyond the limit although its result is `guard` standard uncertainties within it (normal). */
export const falseAcceptance = (guard: number): number => normalUpperTail(guard);

/** The least loss seen with chance 1 − `miss` by a one-sided test that cries wolf with chance `alarm`: (z_alarm + z_miss) u. */
export const detectableLoss = (u: number, alarm = 0.05, miss = 0.05): number =>
  (normalUpperQuantile(alarm) + normalUpperQuantile(miss)) * u;

export interface Sample {
  readonly count: number;
  readonly mean: number;
  readonly sd: number;
}

/** Student's t for two samples with one common spread. */
export const pooledT = (a: Sample, b: Sample): { readonly t: number; readonly freedom: number } => {
  const freedom = a.count + b.count - 2;
  const variance = ((a.count - 1) * a.sd ** 2 + (b.count - 1) * b.sd ** 2) / freedom;
  return { t: (a.mean - b.mean) / Math.sqrt(variance * (1 / a.count + 1 / b.count)), freedom };
};
