/**
 * Figures cut to what they mean. The ± is twice the standard uncertainty, to one digit, or to two where the first is a 1 (GUM 7.2.6: at
 * most two); the value goes to the same place. But a sum of readings is not shown finer than they were read, as long as rounding it there
 * adds no more than reading it did: 58.16 g, good to ±0.006 by its rounding, is `58.16 g ±0.01` and not `58.160 g ±0.006`.
 */
import { type Decimal, decimal, roundTo, toPlain } from './decimal';
import { type Measured, uncertainty } from './measured';
import { fromBase, unit as unitRow } from './units';

const COVERAGE = 2;

/** Digits after the point that a ± of this size leaves a meaning to; never negative. */
export const placesFor = (spread: number): number => Math.max(0, placeOf(spread));

/** The value to so many places, trailing noughts kept; -2 is to hundreds. */
export const showPlaces = (value: Decimal, places: number): string => {
  const text = places < 0 ? roundTo(value, power(-places), 'half-even').toFixed(0) : value.toFixed(places);
  return /^-0(\.0*)?$/.test(text) ? text.slice(1) : text;
};

/** Cut to so many digits that mean something, written out: `38`, `5.13`, `0.0412`, `130`. */
export const showDigits = (value: Decimal, digits: number): string => {
  if (value.isZero()) return '0';
  // Rounded first: 0.9999 to three digits is 1.00, one place less than its own first digit has.
  return showPlaces(value, digits - 1 - value.toSignificantDigits(digits).e);
};

/** A value given in the unit itself, to so many places: `12.50 kg`. */
export const showPlain = (value: Decimal, symbol: string, places: number): string =>
  `${showPlaces(value, places)} ${symbol}`;

/** `58.16 g ±0.01`; a value without error as it is; a guess with its `~`. */
export const showQuantity = (of: Measured, symbol: string): string => {
  const { value, spread, places } = inUnit(of, symbol);
  const mark = of.guessed ? '~' : '';
  if (!(spread > 0)) return `${mark}${toPlain(value)} ${symbol}`;
  return `${mark}${showPlain(value, symbol, places)} ±${showSpread(spread, places)}`;
};

/** `58.16 g`: to the place that means something, without the ±. */
export const showMass = (of: Measured, symbol = 'g'): string => {
  const { value, spread, places } = inUnit(of, symbol);
  const text = spread > 0 ? showPlaces(value, places) : toPlain(value);
  return `${of.guessed ? '~' : ''}${text} ${symbol}`;
};

const percentPlaces = (u: number, most: number): number =>
  u > 0 ? Math.min(most, placesFor(COVERAGE * u * 100)) : Math.min(most, 2);

/** A share as per cent, cut to what its uncertainty leaves: at most two places, or as many as are asked for. */
export const showPercent = (fraction: number, u: number, most = 2): string =>
  `${showPlaces(decimal(fraction).times(100), percentPlaces(u, most))} %`;

/** The ± of such a share, to the same place; one too small for it to its own first digit. */
export const showPercentSpread = (u: number, most = 2): string => {
  const spread = COVERAGE * u * 100;
  const places = percentPlaces(u, most);
  return placesFor(spread) > places ? showDigits(decimal(spread), 1) : showPlaces(decimal(spread), places);
};

/** An uncertainty alone, to so many significant digits; `up` is the careful choice that GUM 7.2.6 allows. */
export const cutUncertainty = (u: Decimal, digits: 1 | 2, mode: 'half-even' | 'up'): Decimal => {
  if (u.isZero()) return u;
  return roundTo(u, decimal(10).pow(u.e - (digits - 1)), mode);
};

interface Shown {
  readonly value: Decimal;
  /** The ±, in the unit. */
  readonly spread: number;
  readonly places: number;
}

const inUnit = (of: Measured, symbol: string): Shown => {
  const row = unitRow(symbol);
  const value = row ? fromBase(of.value, row) : of.value;
  const u = uncertainty(of) / (row ? row.factor.toNumber() : 1);
  const byError = placeOf(COVERAGE * u);
  const shift = row ? Math.log10(row.factor.toNumber()) : 0;
  const read = of.places !== undefined && Number.isInteger(shift) ? of.places + shift : byError;
  return { value, spread: COVERAGE * u, places: Math.min(byError, Math.max(read, coarsestPlace(u))) };
};

/** Never `±0`: what is there is shown as one step of the last place at least. */
const showSpread = (spread: number, places: number): string => {
  const step = power(-places);
  const cut = roundTo(decimal(spread), step, 'half-even');
  return showPlaces(cut.isZero() ? step : cut, places);
};

/** Place of the last digit of a ± that has a meaning: 2 for hundredths, -2 for hundreds. */
const placeOf = (spread: number): number => {
  if (!(spread > 0)) return 0;
  const exponent = Math.floor(Math.log10(spread) + 1e-12);
  const leading = spread / 10 ** exponent;
  return (leading < 1.95 ? 1 : 0) - exponent;
};

/** The coarsest place whose own rounding, step/√12, is no worse than u. */
const coarsestPlace = (u: number): number => (u > 0 ? -Math.floor(Math.log10(u * Math.sqrt(12)) + 1e-9) : 0);

const power = (exponent: number): Decimal => decimal(10).pow(exponent);
