/** Location, spread and outliers, also where one figure in ten is wrong. */
import { studentQuantile } from './distributions';

/** Two-pass, so that large values with a small spread keep their digits. NaN of nothing. */
export const mean = (values: readonly number[]): number => {
  const rough = values.reduce((sum, value) => sum + value, 0) / values.length;
  return rough + values.reduce((sum, value) => sum + (value - rough), 0) / values.length;
};

/** Of a sample (n − 1). NaN of fewer than two values. */
export const standardDeviation = (values: readonly number[]): number => {
  const centre = mean(values);
  return Math.sqrt(values.reduce((sum, value) => sum + (value - centre) ** 2, 0) / (values.length - 1));
};

/** Lag-1 autocorrelation: how much one value resembles the one before. */
export const lagOneCorrelation = (values: readonly number[]): number => {
  const off = values.map((value) => value - mean(values));
  const together = off.slice(1).reduce((sum, each, index) => sum + each * off[index]!, 0);
  return together / off.reduce((sum, each) => sum + each * each, 0);
};

/** How far a tail reaches out on one side, above nought to the right: the mean cube of the distances from the mean in standard deviations. 0 where all agree. */
export const skewness = (values: readonly number[]): number => {
  const [centre, spread] = [mean(values), standardDeviation(values)];
  return spread > 0 ? mean(values.map((value) => ((value - centre) / spread) ** 3)) : 0;
};

/** NaN of nothing. */
export const median = (values: readonly number[]): number => {
  const sorted = Float64Array.from(values).sort();
  const half = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[half]! : (sorted[half - 1]! + sorted[half]!) / 2;
};

/** Median absolute deviation from the median, as it is. */
export const medianDeviation = (values: readonly number[]): number => {
  const centre = median(values);
  return median(values.map((value) => Math.abs(value - centre)));
};

/** The median absolute deviation that equals the standard deviation of normal data: times 1.4826. */
export const scaledMedianDeviation = (values: readonly number[]): number => 1.4826 * medianDeviation(values);

/**
 * Huber's location: a mean in which nothing pulls with more than k scaled median deviations (k = 1.5, the scale held). The median where
 * more than half agree, since there is no scale then.
 */
export const huberLocation = (values: readonly number[], k = 1.5): number => {
  const reach = k * scaledMedianDeviation(values);
  let centre = median(values);
  // Only what is held back moves with the centre, so each step is its share of the step before: with k = 1.5 less than half of it.
  for (let pass = 0; pass < 200; pass++) {
    const [low, high] = [centre - reach, centre + reach];
    centre = mean(values.map((value) => Math.min(high, Math.max(low, value))));
  }
  return centre;
};

/**
 * 0.6745 (x − median) / MAD for each value; above 3.5 it is usually flagged (Iglewicz and Hoaglin, from memory). Where half agree and MAD
 * is zero, `least` takes its place, such as the scale's division.
 */
export const modifiedScores = (values: readonly number[], least = 0): number[] => {
  const [centre, spread] = [median(values), Math.max(medianDeviation(values), least)];
  return values.map((value) => (value === centre ? 0 : (0.6745 * (value - centre)) / spread));
};

/** Grubbs' statistic: the largest distance from the mean in standard deviations, 0 where all agree. Throws a RangeError on fewer than three. */
export const grubbs = (values: readonly number[]): number => {
  if (values.length < 3) throw new RangeError('an outlier needs three values at least');
  const [centre, spread] = [mean(values), standardDeviation(values)];
  return spread === 0 ? 0 : Math.max(...values.map((value) => Math.abs(value - centre))) / spread;
};

/**
 * What Grubbs' statistic of n values exceeds by chance at `level` (NIST/SEMATECH e-Handbook 1.3.5.17): (n − 1)/√n · √(t²/(n − 2 + t²)), with
 * t at level/n, or level/(2n) if the outlier may lie on either side. Needs three values or more.
 */
export const grubbsLimit = (count: number, level: number, sides: 1 | 2): number => {
  const t = studentQuantile(1 - level / (sides * count), count - 2);
  return ((count - 1) / Math.sqrt(count)) * Math.sqrt((t * t) / (count - 2 + t * t));
};
