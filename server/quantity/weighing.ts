/**
 * The error of one weighing. Model: reading minus zero; both are rounded to the scale's division; beside that the scale's repeatability and
 * its permissible error, where they are stated (GUM 4.2, 4.3.7).
 */
import { type Decimal, decimal } from './decimal';
import {
  add,
  type ErrorSource,
  exact,
  type Measured,
  subtract,
  scale as times,
  uncertainty,
  withError,
} from './measured';

export interface Scale {
  readonly name: string;
  /** Smallest step of the display, in grams. */
  readonly division: Decimal | undefined;
  /** Standard deviation of repeated readings, in grams. */
  readonly repeatability?: number;
  /** Largest error that the scale is held to, in grams; half-width. */
  readonly permissibleError?: number;
  readonly capacity?: Decimal;
  /** Least load that it is fit for, in grams. */
  readonly smallest?: Decimal;
  /** The display is forced to exactly zero, so only the load is rounded. */
  readonly tracksZero?: boolean;
}

/** Half-width of a rectangle to its standard uncertainty (GUM 4.3.7). */
export const rectangular = (half: number): number => half / Math.sqrt(3);

/** u of rounding to a division, of the load alone: d/√12. */
export const roundingOfLoad = (division: number): number => division / Math.sqrt(12);

/** u of rounding to a division at the load and at zero: d/√6. */
export const roundingOfLoadAndZero = (division: number): number => division / Math.sqrt(6);

export type SpreadMeaning = 'limits' | 'expanded' | 'standard';

/** u of a stated ±: limits of a rectangle, expanded with k = 2, or standard. */
export const statedUncertainty = (half: number, meaning: SpreadMeaning): number =>
  meaning === 'limits' ? rectangular(half) : meaning === 'expanded' ? half / 2 : half;

const spans = new WeakMap<Scale, ErrorSource>();

/**
 * What all readings of one scale share. A permissible error is one unknown lean of the scale, so it adds up in a sum of readings and falls
 * out of their difference.
 */
export const leanOf = (scale: Scale): ErrorSource => {
  const known = spans.get(scale);
  if (known) return known;
  const source = { label: `permissible error of ${scale.name}` };
  spans.set(scale, source);
  return source;
};

/** One reading of a value in grams. Without a scale the division is the last typed digit, and only the load is rounded. */
export const weighed = (grams: Decimal, typedDivision: number, scale: Scale | undefined, label: string): Measured => {
  const division = scale?.division?.toNumber() ?? typedDivision;
  const rounding = scale && !scale.tracksZero ? roundingOfLoadAndZero(division) : roundingOfLoad(division);
  const own = Math.hypot(rounding, scale?.repeatability ?? 0);
  const reading = withError(exact(grams), { label }, own);
  return scale?.permissibleError ? withError(reading, leanOf(scale), rectangular(scale.permissibleError)) : reading;
};

/** The same thing read several times: the mean; u² = s²/n + d²/12, as rounding does not average away when s is small. */
export const repeated = (
  grams: readonly Decimal[],
  typedDivision: number,
  scale: Scale | undefined,
  label: string,
): Measured => {
  const count = grams.length;
  const mean = times(add(...grams.map(exact)), decimal(1).div(count)).value;
  const division = scale?.division?.toNumber() ?? typedDivision;
  const squares = grams.reduce((total, value) => total + value.minus(mean).toNumber() ** 2, 0);
  const scatter = count > 1 ? squares / (count - 1) / count : 0;
  const reading = withError(exact(mean), { label }, Math.sqrt(scatter + division ** 2 / 12));
  return scale?.permissibleError ? withError(reading, leanOf(scale), rectangular(scale.permissibleError)) : reading;
};

export interface Comparison {
  /** second − first */
  readonly difference: Measured;
  readonly u: number;
  /** |difference| in standard uncertainties. */
  readonly times: number;
  /** Weighing explains it. */
  readonly explained: boolean;
}

/** Share of a division by which decimal steps are compared, so that 0.01 g is not more than 0.01 g. */
const TOUCH = 1e-9;

/**
 * Whether two weighings of the same thing differ by more than weighing explains: by more than k standard uncertainties, and by more than
 * the two roundings together can reach. Where rounding is all there is its hard limit decides: the difference of two rectangular errors
 * is a triangle, and never more than one division (d₁ + d₂)/2.
 */
export const differ = (
  first: Measured,
  second: Measured,
  k: number,
  divisions: readonly [number, number],
): Comparison => {
  const difference = subtract(second, first);
  const u = uncertainty(difference);
  const size = Math.abs(difference.value.toNumber());
  const hard = (divisions[0] + divisions[1]) / 2;
  return {
    difference,
    u,
    times: u > 0 ? size / u : size > 0 ? Number.POSITIVE_INFINITY : 0,
    explained: size <= k * u || size <= hard * (1 + TOUCH),
  };
};
