/** What duplicates and laboratories are expected to scatter by. */

/**
 * Standard deviation of one result from pairs, √(Σ d²/(2n)). Of sampling and assay together where the samples were taken apart, of the
 * assay alone where one sample was split. NaN of no pairs.
 */
export const duplicateDeviation = (pairs: readonly (readonly [number, number])[]): number =>
  Math.sqrt(pairs.reduce((sum, [first, second]) => sum + (first - second) ** 2, 0) / (2 * pairs.length));

/** Sampling alone: the squares subtracted, and zero where the assay explains all. */
export const samplingDeviation = (together: number, assayAlone: number): number =>
  Math.sqrt(Math.max(0, together ** 2 - assayAlone ** 2));

/**
 * Horwitz: relative standard deviation between laboratories in per cent, 2^(1 − ½ log₁₀ C) for the mass fraction C (AOAC's table). Not for
 * bars: fire assay of bullion is far better. Throws a RangeError outside 0 to 1.
 */
export const horwitzPercent = (fraction: number): number => {
  if (!(fraction > 0 && fraction <= 1))
    throw new RangeError(`a mass fraction lies above 0 and up to 1, not at ${fraction}`);
  return 2 ** (1 - 0.5 * Math.log10(fraction));
};

/**
 * Thompson's amended form as a standard deviation in mass fraction: 0.22 C below 1.2·10⁻⁷, 0.02 C^0.8495 up to 0.138, 0.01 √C above (the
 * upper branch from memory).
 */
export const horwitzThompson = (fraction: number): number => {
  if (!(fraction >= 0 && fraction <= 1))
    throw new RangeError(`a mass fraction lies between 0 and 1, not at ${fraction}`);
  if (fraction < 1.2e-7) return 0.22 * fraction;
  return fraction <= 0.138 ? 0.02 * fraction ** 0.8495 : 0.01 * Math.sqrt(fraction);
};
