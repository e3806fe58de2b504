/** Gamma and beta functions, complete and incomplete, as the distributions need them. */

const TINY = 1e-300;
const CLOSE = 1e-16;
const MOST_TERMS = 100_000;

/** Lanczos' sum with g = 607/128 and 15 terms (Godfrey's coefficients, from memory; held against computed values by the tests). */
const LANCZOS = [
  57.15623566586292, -59.59796035547549, 14.136097974741746, -0.4919138160976202, 3.399464998481189e-5,
  4.652362892704858e-5, -9.837447530487956e-5, 0.0001580887032249125, -0.00021026444172410488, 0.00021743961811521265,
  -0.0001643181065367639, 8.441822398385275e-5, -2.6190838401581408e-5, 3.6899182659531625e-6,
];

/** ln Γ(x) for x > 0. */
export const logGamma = (x: number): number => {
  const shifted = x + 607 / 128 + 0.5;
  let sum = 0.9999999999999971;
  for (const [index, term] of LANCZOS.entries()) sum += term / (x + index + 1);
  return (x + 0.5) * Math.log(shifted) - shifted + Math.log((Math.sqrt(2 * Math.PI) * sum) / x);
};

/** Regularised incomplete gamma P(a, x). */
export const lowerGamma = (a: number, x: number): number =>
  x <= 0 ? 0 : x < a + 1 ? gammaSeries(a, x) : 1 - gammaFraction(a, x);

/** Q(a, x) = 1 − P(a, x), without cancelling where it is small. */
export const upperGamma = (a: number, x: number): number =>
  x <= 0 ? 1 : x < a + 1 ? 1 - gammaSeries(a, x) : gammaFraction(a, x);

/** Regularised incomplete beta I_x(a, b), for x from 0 to 1. */
export const lowerBeta = (a: number, b: number, x: number): number => {
  const front = Math.exp(a * Math.log(x) + b * Math.log1p(-x) - logBeta(a, b));
  return x < (a + 1) / (a + b + 2) ? (front * betaFraction(a, b, x)) / a : 1 - (front * betaFraction(b, a, 1 - x)) / b;
};

/** ln B(a, b); for a large argument by Stirling's formula, where the big logarithms have cancelled beforehand. */
const logBeta = (a: number, b: number): number => {
  const [large, small] = [Math.max(a, b), Math.min(a, b)];
  if (large < 30) return logGamma(a) + logGamma(b) - logGamma(a + b);
  const rise = (large + small - 0.5) * Math.log1p(small / large) + small * Math.log(large) - small;
  return logGamma(small) - rise - stirlingRest(large + small) + stirlingRest(large);
};

/** What Stirling's formula leaves of ln Γ(a) (Abramowitz and Stegun 6.1.41). */
const stirlingRest = (a: number): number =>
  1 / (12 * a) - 1 / (360 * a ** 3) + 1 / (1260 * a ** 5) - 1 / (1680 * a ** 7);

/** Abramowitz and Stegun 6.5.29. */
const gammaSeries = (a: number, x: number): number => {
  let term = 1 / a;
  let sum = term;
  for (let count = 1; term > sum * CLOSE; count++) {
    term *= x / (a + count);
    sum += term;
  }
  return sum * gammaFront(a, x);
};

/** Abramowitz and Stegun 6.5.31, evaluated from the front (Lentz). */
const gammaFraction = (a: number, x: number): number => {
  if (x === Number.POSITIVE_INFINITY) return 0;
  let below = x + 1 - a;
  let c = 1 / TINY;
  let d = 1 / below;
  let product = d;
  for (let count = 1; count < MOST_TERMS; count++) {
    const above = -count * (count - a);
    below += 2;
    d = 1 / away(above * d + below);
    c = away(below + above / c);
    product *= c * d;
    if (Math.abs(c * d - 1) < CLOSE * 2) break;
  }
  return product * gammaFront(a, x);
};

/** xᵃ e⁻ˣ / Γ(a). For large a by Stirling's formula, where the big logarithms have cancelled beforehand. */
const gammaFront = (a: number, x: number): number => {
  if (a < 30) return Math.exp(a * Math.log(x) - x - logGamma(a));
  const off = (x - a) / a;
  return Math.sqrt(a / (2 * Math.PI)) * Math.exp(a * (Math.log1p(off) - off) - stirlingRest(a));
};

/** Abramowitz and Stegun 26.5.8. */
const betaFraction = (a: number, b: number, x: number): number => {
  let c = 1;
  let d = 1 / away(1 - ((a + b) * x) / (a + 1));
  let product = d;
  for (let count = 1; count < MOST_TERMS; count++) {
    const even = (count * (b - count) * x) / ((a + 2 * count - 1) * (a + 2 * count));
    d = 1 / away(1 + even * d);
    c = away(1 + even / c);
    product *= c * d;
    const odd = (-(a + count) * (a + b + count) * x) / ((a + 2 * count) * (a + 2 * count + 1));
    d = 1 / away(1 + odd * d);
    c = away(1 + odd / c);
    product *= c * d;
    if (Math.abs(c * d - 1) < CLOSE * 2) break;
  }
  return product;
};

const away = (value: number): number => (Math.abs(value) < TINY ? TINY : value);
