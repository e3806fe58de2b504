/** The distributions that judge a difference: normal, Student's t, chi-square. Doubles, good to about twelve digits. */

/** Φ(z): the share of a normal distribution below z standard deviations. */
export const normalBelow = (z: number): number => {
  const tail = gammaAbove(0.5, (z * z) / 2) / 2;
  return z < 0 ? tail : 1 - tail;
};

/** The z below which this share lies. Throws a RangeError outside 0 < share < 1. */
export const normalPoint = (share: number): number => {
  checkShare(share);
  if (share < 0.5) return -normalPoint(1 - share);
  return risingRoot((z) => normalBelow(z) - share, 0, 40);
};

/** The share of Student's t below t, with this many degrees of freedom (not only whole ones). */
export const studentBelow = (t: number, freedom: number): number => {
  const tail = betaBelow(freedom / 2, 0.5, freedom / (freedom + t * t)) / 2;
  return t < 0 ? tail : 1 - tail;
};

/** The t below which this share lies. Throws a RangeError outside 0 < share < 1. */
export const studentPoint = (share: number, freedom: number): number => {
  checkShare(share);
  if (share < 0.5) return -studentPoint(1 - share, freedom);
  return risingRoot((t) => studentBelow(t, freedom) - share, 0, 2);
};

export const chiSquareBelow = (x: number, freedom: number): number => 1 - gammaAbove(freedom / 2, x / 2);

/** The value below which this share of chi-square lies. Throws a RangeError outside 0 < share < 1. */
export const chiSquarePoint = (share: number, freedom: number): number => {
  checkShare(share);
  return risingRoot((x) => chiSquareBelow(x, freedom) - share, 0, freedom + 1);
};

const checkShare = (share: number): void => {
  if (!(share > 0 && share < 1)) throw new RangeError('a share lies between 0 and 1');
};

/** Where a rising function crosses zero: the upper end is doubled until it is above, then the interval halved. */
const risingRoot = (rising: (x: number) => number, start: number, guess: number): number => {
  let low = start;
  let high = guess;
  while (rising(high) < 0) high *= 2;
  for (let middle = (low + high) / 2; middle > low && middle < high; middle = (low + high) / 2) {
    if (rising(middle) < 0) low = middle;
    else high = middle;
  }
  return high;
};

const TINY = 1e-300;
const CLOSE = 1e-16;
const MOST_TERMS = 10_000;

/** Q(a, x), the upper regularised incomplete gamma function: a series for small x, else a continued fraction. */
const gammaAbove = (a: number, x: number): number => {
  if (x <= 0) return 1;
  const scale = Math.exp(a * Math.log(x) - x - logGamma(a));
  return x < a + 1 ? 1 - scale * gammaSeries(a, x) : scale * gammaFraction(a, x);
};

const gammaSeries = (a: number, x: number): number => {
  let term = 1 / a;
  let total = term;
  for (let n = 1; n < MOST_TERMS && term > total * CLOSE; n++) {
    term *= x / (a + n);
    total += term;
  }
  return total;
};

const gammaFraction = (a: number, x: number): number =>
  1 / (x + 1 - a + continued((n) => [n * (a - n), x + 2 * n + 1 - a]));

/** I(x; a, b), the regularised incomplete beta function. */
const betaBelow = (a: number, b: number, x: number): number => {
  if (x <= 0) return 0;
  if (x >= 1) return 1;
  if (x > (a + 1) / (a + b + 2)) return 1 - betaBelow(b, a, 1 - x);
  const scale = Math.exp(logGamma(a + b) - logGamma(a) - logGamma(b) + a * Math.log(x) + b * Math.log1p(-x));
  return scale / (a * (1 + continued((n) => [betaTerm(a, b, x, n), 1])));
};

const betaTerm = (a: number, b: number, x: number, n: number): number => {
  const m = Math.floor(n / 2);
  const below = (a + n - 1) * (a + n);
  return n % 2 === 0 ? (m * (b - m) * x) / below : (-(a + m) * (a + b + m) * x) / below;
};

/** A continued fraction p₁/(q₁ + p₂/(q₂ + …)), by Lentz's method. */
const continued = (term: (n: number) => readonly [number, number]): number => {
  let value = TINY;
  let c = TINY;
  let d = 0;
  for (let n = 1; n < MOST_TERMS; n++) {
    const [p, q] = term(n);
    d = 1 / (q + p * d || TINY);
    c = q + p / c || TINY;
    value *= c * d;
    if (Math.abs(c * d - 1) < CLOSE * 4) break;
  }
  return value;
};

/** Stirling's series, moved up to where it is exact to the last digits. */
const logGamma = (x: number): number => {
  let shift = 0;
  let at = x;
  for (; at < 12; at++) shift -= Math.log(at);
  const square = 1 / (at * at);
  const series = 1 / 12 - square * (1 / 360 - square * (1 / 1260 - square * (1 / 1680 - square / 1188)));
  return shift + (at - 0.5) * Math.log(at) - at + Math.log(2 * Math.PI) / 2 + series / at;
};
