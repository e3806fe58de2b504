/**
 * Normal, chi-squared and Student distributions: probabilities and their inverses, good to about 1e-10.
 *
 * The incomplete gamma function is summed as a series below its bend and as a continued fraction above it (Abramowitz and Stegun 6.5.29
 * and 6.5.31), the incomplete beta function as a continued fraction (26.5.8); the inverse of the normal is found by Halley's method, the others
 * by halving.
 */
import { lowerBeta, lowerGamma, upperGamma } from './special';

const SQRT_2_PI = Math.sqrt(2 * Math.PI);

/** P(Z ≤ z) for a standard normal Z. */
export const normalProbability = (z: number): number =>
  z < 0 ? 0.5 * upperGamma(0.5, (z * z) / 2) : 0.5 + 0.5 * lowerGamma(0.5, (z * z) / 2);

/** P(Z > z): keeps its relative accuracy far out, where 1 − P(Z ≤ z) has none. */
export const normalUpperTail = (z: number): number => normalProbability(-z);

/** The z with P(Z ≤ z) = p. Infinite at 0 and 1; throws a RangeError outside. */
export const normalQuantile = (p: number): number => (p === 0.5 ? 0 : -normalUpperQuantile(p));

/** The z with P(Z > z) = tail, for a tail of any smallness. */
export const normalUpperQuantile = (tail: number): number => {
  checkProbability(tail);
  if (tail > 0.5) return -normalUpperQuantile(1 - tail);
  if (tail === 0) return Number.POSITIVE_INFINITY;
  let z = roughNormalQuantile(tail);
  // Each pass leaves about the third power of the miss before it: of 0.0005 two leave nothing.
  for (let pass = 0; pass < 2; pass++) {
    const miss = (normalUpperTail(z) - tail) / (Math.exp((-z * z) / 2) / SQRT_2_PI);
    z += miss / (1 - (z * miss) / 2);
  }
  return z;
};

/** P(X ≤ x) for chi-squared of `freedom` degrees. */
export const chiSquaredProbability = (x: number, freedom: number): number => {
  checkFreedom(freedom);
  return lowerGamma(freedom / 2, x / 2);
};

/** P(X > x): the p-value of a global test. */
export const chiSquaredUpperTail = (x: number, freedom: number): number => {
  checkFreedom(freedom);
  return upperGamma(freedom / 2, x / 2);
};

/** The x with P(X ≤ x) = p. */
export const chiSquaredQuantile = (p: number, freedom: number): number => {
  checkProbability(p);
  checkFreedom(freedom);
  if (p === 1) return Number.POSITIVE_INFINITY;
  return invert((x) => missOf(p, chiSquaredProbability(x, freedom), chiSquaredUpperTail(x, freedom)));
};

/** P(T ≤ t) for Student's t of `freedom` degrees (Abramowitz and Stegun 26.7.1). */
export const studentProbability = (t: number, freedom: number): number => studentUpperTail(-t, freedom);

/** P(T > t). */
export const studentUpperTail = (t: number, freedom: number): number => {
  checkFreedom(freedom);
  if (t < 0) return 1 - studentUpperTail(-t, freedom);
  const square = t * t;
  // Near the middle from its other side: there freedom/(freedom + t²) is so near to one that it tells no t.
  return square < 1
    ? 0.5 - 0.5 * lowerBeta(0.5, freedom / 2, square / (freedom + square))
    : 0.5 * lowerBeta(freedom / 2, 0.5, freedom / (freedom + square));
};

/** The t with P(T ≤ t) = p. With infinite freedom it is the normal quantile. */
export const studentQuantile = (p: number, freedom: number): number => {
  checkProbability(p);
  checkFreedom(freedom);
  if (p < 0.5) return -studentQuantile(1 - p, freedom);
  if (freedom === Number.POSITIVE_INFINITY || p === 1) return normalQuantile(p);
  return invert((t) => 1 - p - studentUpperTail(t, freedom));
};

/** The level of each of `tests` independent tests that together raise a false alarm at `level`. Sidak. */
export const sidakLevel = (level: number, tests: number): number => -Math.expm1(Math.log1p(-level) / tests);

/** The |z| above which one of `tests` readings stands out, at `level` for all of them together; two-sided. */
export const sidakCriticalZ = (level: number, tests: number): number =>
  tests === 0 ? Number.POSITIVE_INFINITY : normalUpperQuantile(sidakLevel(level, tests) / 2);

/** Abramowitz and Stegun 26.2.23: within 0.0005. */
const roughNormalQuantile = (tail: number): number => {
  const t = Math.sqrt(-2 * Math.log(tail));
  const above = 2.515517 + t * (0.802853 + t * 0.010328);
  return t - above / (1 + t * (1.432788 + t * (0.189269 + t * 0.001308)));
};

/** The tail that is small tells the difference without cancelling. */
const missOf = (p: number, below: number, above: number): number => (below < above ? below - p : 1 - p - above);

/** Where a rising function on the positive axis crosses zero: between doubled bounds, halved until no number lies between them. */
const invert = (miss: (x: number) => number): number => {
  let [low, high] = [0, 1];
  while (miss(high) < 0) [low, high] = [high, high * 2];
  for (;;) {
    const middle = (low + high) / 2;
    if (middle === low || middle === high) return middle;
    if (miss(middle) < 0) low = middle;
    else high = middle;
  }
};

const checkProbability = (p: number): void => {
  if (!(p >= 0 && p <= 1)) throw new RangeError(`a probability lies between 0 and 1, not at ${p}`);
};

const checkFreedom = (freedom: number): void => {
  if (!(freedom > 0)) throw new RangeError(`degrees of freedom are positive, not ${freedom}`);
};
