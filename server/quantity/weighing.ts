/**
 * The error of one weighing. Model: reading minus zero; both are rounded to the scale's division; beside that the scale's repeatability and
 * its permissible error, where they are stated (GUM 4.2, 4.3.7).
 */
import { type Decimal, sum } from './decimal';
import { type ErrorSource, type ErrorTerm, type Measured, subtract, uncertainty } from './measured';

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

const leans = new WeakMap<Scale, { readonly load: ErrorSource; readonly vessel: ErrorSource }>();

/**
 * What all readings of one scale share. A permissible error says how far off the scale may be, not how: it is taken as one unknown lean of
 * the scale, the same for every lot, so it adds up in a sum of readings, falls out where a lot is weighed twice on one scale, and stays where
 * two scales are compared. At the load of an empty vessel the lean may be another, so gross less tare does not lose it: of the partial
 * cancelling that a straight scale would give, nothing is claimed.
 */
export const leanOf = (scale: Scale, load: 'load' | 'vessel' = 'load'): ErrorSource => {
  const known = leans.get(scale);
  if (known) return known[load];
  const label = `permissible error of ${scale.name}`;
  const made = { load: { label }, vessel: { label: `${label}, empty vessel` } };
  leans.set(scale, made);
  return made[load];
};

/**
 * One reading of a value in grams; `typedDivision` is one unit of its last typed digit, in grams. Without a scale that is the division, and
 * only the load is rounded: the zero of an unknown scale is taken as true.
 */
export const weighed = (
  grams: Decimal,
  typedDivision: number,
  scale: Scale | undefined,
  label: string,
  load: 'load' | 'vessel' = 'load',
): Measured => {
  const division = scale?.division?.toNumber() ?? typedDivision;
  const rounding = scale && !scale.tracksZero ? roundingOfLoadAndZero(division) : roundingOfLoad(division);
  const u = Math.hypot(rounding, scale?.repeatability ?? 0);
  return readOn(scale, grams, u, division, label, load);
};

/**
 * The same thing read several times: the mean; u² = s²/n + d²/12, as rounding does not average away when s is small (GUM 4.2.3, 4.3.7).
 * Few readings scatter little by luck, so a repeatability that the scale states holds as the least s. Throws a RangeError without readings.
 */
export const repeated = (
  grams: readonly Decimal[],
  typedDivision: number,
  scale: Scale | undefined,
  label: string,
  load: 'load' | 'vessel' = 'load',
): Measured => {
  const mean = meanOf(grams);
  const division = scale?.division?.toNumber() ?? typedDivision;
  const scatter = Math.max(standardDeviation(grams), scale?.repeatability ?? 0) / Math.sqrt(grams.length);
  return readOn(scale, mean, Math.hypot(scatter, roundingOfLoad(division)), division, label, load);
};

/** Of one reading, from readings of the same thing; 0 of a single one. In grams. */
export const standardDeviation = (grams: readonly Decimal[]): number => {
  if (grams.length < 2) return 0;
  const mean = meanOf(grams);
  const squares = grams.reduce((total, value) => total + value.minus(mean).toNumber() ** 2, 0);
  return Math.sqrt(squares / (grams.length - 1));
};

const meanOf = (grams: readonly Decimal[]): Decimal => {
  if (grams.length === 0) throw new RangeError('mean of no readings');
  return sum(grams).div(grams.length);
};

const readOn = (
  scale: Scale | undefined,
  grams: Decimal,
  u: number,
  division: number,
  label: string,
  load: 'load' | 'vessel',
): Measured => {
  const errors: ErrorTerm[] = u === 0 ? [] : [{ source: { label }, size: u }];
  if (scale?.permissibleError) errors.push({ source: leanOf(scale, load), size: rectangular(scale.permissibleError) });
  return { value: grams, errors, guessed: false, places: placesOfDivision(division) };
};

/** 2 for a division of 0.01, 0.02 or 0.05. */
const placesOfDivision = (division: number): number | undefined =>
  division > 0 ? Math.max(0, Math.ceil(-Math.log10(division) - TOUCH)) : undefined;

/** Share of a division by which decimal steps are compared, so that 0.01 g is not more than 0.01 g. */
const TOUCH = 1e-9;

export interface Comparison {
  /** second − first */
  readonly difference: Measured;
  readonly u: number;
  /** |difference| in standard uncertainties. */
  readonly times: number;
  /** Weighing explains it. */
  readonly explained: boolean;
}

/**
 * Whether two weighings of the same thing differ by more than weighing explains: by more than k standard uncertainties, and by more than
 * the two roundings together can reach. Where rounding is all there is its hard limit decides: the difference of two rectangular errors
 * is a triangle, and never more than (d₁ + d₂)/2. `divisions` are d₁ and d₂ in grams, 0 for a value that was not read off a scale.
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
