/**
 * Figures cut to what they mean. The ± is twice the standard uncertainty, cut to one digit, or to two where the first is a 1
 * (GUM 7.2.6: at most two); the value goes to the same place.
 */
import { type Decimal, decimal, toPlain } from './decimal';
import { type Measured, uncertainty } from './measured';
import { fromBase, unit as unitRow } from './units';

const COVERAGE = 2;

/** Digits after the point that a ± of this size leaves a meaning to; never negative. */
export const placesFor = (spread: number): number => {
  if (!(spread > 0)) return 0;
  const exponent = Math.floor(Math.log10(spread) + 1e-12);
  const leading = spread / 10 ** exponent;
  const digits = leading < 1.95 ? 1 : 0;
  return Math.max(0, digits - exponent);
};

/** The value to so many places, trailing noughts kept. */
export const showPlaces = (value: Decimal, places: number): string => {
  const text = value.toFixed(Math.max(0, places));
  return /^-0(\.0*)?$/.test(text) ? text.slice(1) : text;
};

/** `58.16 g ±0.01`; a value without error as it is; a guess with its `~`. */
export const showQuantity = (of: Measured, symbol: string): string => {
  const { value, spread } = inUnit(of, symbol);
  const mark = of.guessed ? '~' : '';
  if (!(spread > 0)) return `${mark}${toPlain(value)} ${symbol}`;
  const places = placesFor(spread);
  return `${mark}${showPlaces(value, places)} ${symbol} ±${showPlaces(decimal(spread), places)}`;
};

/** `58.16 g`: to the place that means something, without the ±. */
export const showMass = (of: Measured, symbol = 'g'): string => {
  const { value, spread } = inUnit(of, symbol);
  const text = spread > 0 ? showPlaces(value, placesFor(spread)) : toPlain(value);
  return `${of.guessed ? '~' : ''}${text} ${symbol}`;
};

const inUnit = (of: Measured, symbol: string): { value: Decimal; spread: number } => {
  const row = unitRow(symbol);
  const value = row ? fromBase(of.value, row) : of.value;
  const spread = (COVERAGE * uncertainty(of)) / (row ? row.factor.toNumber() : 1);
  return { value, spread };
};

/** A share as per cent, cut to what its uncertainty leaves: at most two places. */
export const showPercent = (fraction: number, u: number): string => {
  const places = u > 0 ? Math.min(2, placesFor(COVERAGE * u * 100)) : 2;
  return `${showPlaces(decimal(fraction * 100), places)} %`;
};
