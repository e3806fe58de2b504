/** What is known of a composition only as bounds. */

export interface Interval {
  readonly low: number;
  readonly high: number;
}

/**
 * Parts of a whole, each within bounds, tightened by the others: low′ = max(low, total − Σ other highs), high′ = min(high, total − Σ other
 * lows). One pass is exact. Undefined if the bounds leave no way to make up the whole. A part of which nothing is known is [0, total].
 */
export const tightenParts = (parts: readonly Interval[], total = 1): Interval[] | undefined => {
  const lows = parts.reduce((sum, { low }) => sum + low, 0);
  const highs = parts.reduce((sum, { high }) => sum + high, 0);
  const slack = 1e-12 * Math.abs(total);
  if (lows > total + slack || highs < total - slack || parts.some(({ low, high }) => low > high)) return undefined;
  return parts.map(({ low, high }) => ({
    low: Math.max(low, total - (highs - high)),
    high: Math.min(high, total - (lows - low)),
  }));
};
