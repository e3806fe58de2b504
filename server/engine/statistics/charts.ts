/**
 * Control charts of single figures in their order: individuals with moving ranges, and EWMA (NIST/SEMATECH e-Handbook 6.3.2.2 and
 * 6.3.2.4). Where lots differ tenfold in size, chart what is unaccounted in units of its own uncertainty, not the raw per cent; where losses
 * span a decade, their logarithm.
 */
import { normalQuantile } from './distributions';
import { mean, median } from './robust';

/** Mean of the range of two normal values, in their standard deviations: 2/√π, printed as 1.128. */
export const RANGE_OF_TWO = 2 / Math.sqrt(Math.PI);
/** Median of it: √2 times the third quartile of the normal, printed as 0.954. */
export const MEDIAN_RANGE_OF_TWO = Math.SQRT2 * normalQuantile(0.75);
/** Upper limit of the range of two, in mean ranges: 1 + 3 √(2 − 4/π)/(2/√π), printed as 3.267. */
export const RANGE_LIMIT = 1 + (3 * Math.sqrt(2 - 4 / Math.PI)) / RANGE_OF_TWO;

/** Fewer figures than this give no limits (common practice, no source). */
export const FEWEST = 8;
/** With fewer than this, limits are drawn but rough (common practice, no source). */
export const ROUGH_BELOW = 20;

/** What is to be said of so many figures beside a chart; undefined where there are enough. */
export const smallNumbers = (count: number): string | undefined => {
  if (count < FEWEST) return `${count} ${count === 1 ? 'figure' : 'figures'}: too few for limits, which want ${FEWEST}`;
  if (count < ROUGH_BELOW) return `${count} figures: limits are rough until there are ${ROUGH_BELOW}`;
  return undefined;
};

export interface Limits {
  readonly low: number;
  readonly high: number;
}

export interface IndividualsChart {
  readonly centre: number;
  /** |xₜ − xₜ₋₁|; one fewer than there are figures. */
  readonly ranges: readonly number[];
  readonly meanRange: number;
  /** From neighbours only, so that a slow drift does not widen it. */
  readonly sigma: number;
  /** Three sigma about the centre; none of fewer than eight figures. */
  readonly limits: Limits | undefined;
  readonly rangeLimit: number | undefined;
  /** Indexes of figures beyond the limits, and of ranges beyond theirs. */
  readonly beyond: readonly number[];
  readonly rangesBeyond: readonly number[];
  readonly smallNumbers: string | undefined;
}

export interface IndividualsOptions {
  /** `median` of figures and ranges instead of their means, so that a single slip neither moves nor widens the limits. */
  readonly from?: 'mean' | 'median';
  /** The divisor of the mean range, 2/√π if not given. */
  readonly divisor?: number;
}

/** NaN figures of fewer than two values. */
export const individualsChart = (
  values: readonly number[],
  { from = 'mean', divisor = RANGE_OF_TWO }: IndividualsOptions = {},
): IndividualsChart => {
  const ranges = values.slice(1).map((value, at) => Math.abs(value - values[at]!));
  const meanRange = mean(ranges);
  const [centre, sigma] =
    from === 'mean' ? [mean(values), meanRange / divisor] : [median(values), median(ranges) / MEDIAN_RANGE_OF_TWO];
  const enough = values.length >= FEWEST;
  const limits = enough ? { low: centre - 3 * sigma, high: centre + 3 * sigma } : undefined;
  const rangeLimit = enough ? RANGE_LIMIT * divisor * sigma : undefined;
  return {
    centre,
    ranges,
    meanRange,
    sigma,
    limits,
    rangeLimit,
    beyond: limits ? indexesOf(values, (value) => value < limits.low || value > limits.high) : [],
    rangesBeyond: indexesOf(ranges, (range) => range > (rangeLimit ?? Number.POSITIVE_INFINITY)),
    smallNumbers: smallNumbers(values.length),
  };
};

const indexesOf = (values: readonly number[], holds: (value: number) => boolean): number[] =>
  values.flatMap((value, at) => (holds(value) ? [at] : []));

export interface EwmaOptions {
  /** Share of the newest figure, 0 to 1; 0.2 to 0.3 is usual. */
  readonly weight: number;
  readonly centre: number;
  readonly sigma: number;
  /** Width of the limits, 3 if not given. */
  readonly width?: number;
}

export interface EwmaChart {
  /** zₜ = weight · xₜ + (1 − weight) · zₜ₋₁, from the centre. */
  readonly smoothed: readonly number[];
  /** centre ± width · sigma · √(weight/(2 − weight) · (1 − (1 − weight)²ᵗ)): narrower for the first. */
  readonly limits: readonly Limits[];
  /** What they come to after many. */
  readonly finalLimits: Limits;
  readonly beyond: readonly number[];
}

/** Exponentially weighted moving average: finds a small lasting shift sooner than single figures do. Throws a RangeError on a weight outside. */
export const ewmaChart = (values: readonly number[], { weight, centre, sigma, width = 3 }: EwmaOptions): EwmaChart => {
  if (!(weight > 0 && weight <= 1)) throw new RangeError(`a weight lies above 0 and up to 1, not at ${weight}`);
  const about = (variance: number): Limits => ({
    low: centre - width * sigma * Math.sqrt(variance),
    high: centre + width * sigma * Math.sqrt(variance),
  });
  const most = weight / (2 - weight);
  let before = centre;
  const smoothed = values.map((value) => {
    // As a step towards the figure, so that figures all alike stay where they are to the last digit.
    before += weight * (value - before);
    return before;
  });
  const limits = values.map((_, at) => about(most * (1 - (1 - weight) ** (2 * (at + 1)))));
  const beyond = smoothed.flatMap((value, at) => (value < limits[at]!.low || value > limits[at]!.high ? [at] : []));
  return { smoothed, limits, finalLimits: about(most), beyond };
};
