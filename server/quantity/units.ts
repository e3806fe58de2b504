/** The units of the journal, each by its exact factor. Exact values by definition (NIST SP 811, Handbook 44); checked against GNU units in the tests. */
import { type Decimal, decimal, ONE } from './decimal';

export type UnitKind = 'mass' | 'volume' | 'temperature' | 'time' | 'proportion';

export interface UnitRow {
  readonly symbol: string;
  readonly kind: UnitKind;
  /** To g, mL, min, or mass fraction. Temperatures have an offset too, see `toCelsius`. */
  readonly factor: Decimal;
  /** How many make one base unit, where the factor has no end: a karat is 1/24. Conversion divides by it, so that 18 k is 0.75 exactly. */
  readonly parts?: Decimal;
  readonly meaning: string;
  readonly source: string;
}

const POUND = 'international pound, 0.45359237 kg exactly; 7000 grains';
const row = (kind: UnitKind, symbol: string, factor: Decimal, meaning: string, source: string): UnitRow => ({
  symbol,
  kind,
  factor,
  meaning,
  source,
});

const GRAIN = decimal('0.06479891');

export const UNITS: readonly UnitRow[] = [
  row('mass', 'g', ONE, 'gram', 'SI'),
  row('mass', 'kg', decimal(1000), 'kilogram', 'SI'),
  row('mass', 'mg', decimal('0.001'), 'milligram', 'SI'),
  row('mass', 'ozt', GRAIN.times(480), 'troy ounce, 31.1034768 g', POUND),
  row('mass', 'dwt', GRAIN.times(24), 'pennyweight, a twentieth of a troy ounce', POUND),
  row('mass', 'gr', GRAIN, 'grain, 0.06479891 g: not the gram', POUND),
  row('mass', 'oz', decimal('28.349523125'), 'common (avoirdupois) ounce', POUND),
  row('mass', 'lb', decimal('453.59237'), 'common (avoirdupois) pound', POUND),
  row('mass', 'ct', decimal('0.2'), 'metric carat of weight, 0.2 g', 'metric carat'),
  row('mass', 'tola', GRAIN.times(180), 'tola of 180 grains, 11.6638038 g', 'GNU units'),
  row('volume', 'mL', ONE, 'millilitre', 'SI'),
  row('volume', 'L', decimal(1000), 'litre', 'SI'),
  row('volume', 'cm3', decimal(1), 'cubic centimetre', 'SI'),
  row('temperature', '°C', decimal(1), 'degree Celsius', 'SI'),
  row('temperature', 'C', decimal(1), 'degree Celsius', 'SI'),
  row('temperature', '°F', decimal(5).div(9), 'degree Fahrenheit', 'NIST SP 811'),
  row('temperature', 'F', decimal(5).div(9), 'degree Fahrenheit', 'NIST SP 811'),
  row('time', 'min', decimal(1), 'minute', 'SI'),
  row('time', 'h', decimal(60), 'hour', 'SI'),
  row('proportion', '%', decimal('0.01'), 'per cent by mass', 'definition'),
  row('proportion', '‰', decimal('0.001'), 'thousandths by mass', 'definition'),
  row('proportion', 'fine', decimal('0.001'), 'fineness in thousandths', 'ISO 9202'),
  { ...row('proportion', 'k', decimal(1).div(24), 'karat, a twenty-fourth', 'definition'), parts: decimal(24) },
  row('proportion', 'ppm', decimal('0.000001'), 'parts in a million by mass', 'definition'),
  row('proportion', 'g/t', decimal('0.000001'), 'grams in a tonne', 'definition'),
];

const units = new Map(UNITS.map((unit) => [unit.symbol, unit]));

export const unit = (symbol: string): UnitRow | undefined => units.get(symbol);

/** In g, mL, min or as a mass fraction. Not for temperatures. */
export const toBase = (value: Decimal, of: UnitRow): Decimal =>
  of.parts ? value.div(of.parts) : of.factor === ONE ? value : value.times(of.factor);

export const fromBase = (base: Decimal, of: UnitRow): Decimal =>
  of.parts ? base.times(of.parts) : base.div(of.factor);

export const toCelsius = (value: Decimal, of: UnitRow): Decimal =>
  of.symbol.endsWith('F') ? value.minus(32).times(5).div(9) : value;

/** A temperature in °C, in the unit asked for. */
export const fromCelsius = (celsius: Decimal, of: UnitRow): Decimal =>
  of.symbol.endsWith('F') ? celsius.times(9).div(5).plus(32) : celsius;

const NEAR: readonly (readonly [string, string])[] = [
  ['g', 'gram grams gramme grammes gm gms gs grm G'],
  ['kg', 'kgs kilo kilos kilogram kilograms Kg KG'],
  ['mg', 'mgs milligram milligrams MG'],
  ['ozt', 'oztr toz troy OZT oz-t'],
  ['oz', 'OZ Oz ozs ounce ounces'],
  ['dwt', 'dwts pennyweight pennyweights pwt DWT'],
  ['gr', 'grain grains gn grs'],
  ['lb', 'lbs pound pounds LB'],
  ['ct', 'carat carats cts'],
  ['tola', 'tolas'],
  ['mL', 'ml ML mls cc millilitre milliliter'],
  ['L', 'l litre liter litres liters ltr'],
  ['cm3', 'cm³ ccm'],
  ['°C', 'c degC deg celsius'],
  ['°F', 'f degF fahrenheit'],
  ['min', 'mins minute minutes'],
  ['h', 'hr hrs hour hours'],
  ['%', 'percent pct per-cent'],
  ['‰', 'permille promille'],
  ['fine', 'fineness'],
  ['k', 'K kt karat karats Kt KT kts'],
  ['ppm', 'PPM'],
  ['g/t', 'gpt g/T'],
];

const nearUnits = new Map(NEAR.flatMap(([symbol, words]) => words.split(' ').map((word) => [word, symbol] as const)));

/**
 * The unit that a common other spelling means: `grams`, `oz.`, `K` (karat; there is no kelvin), `cc`. A bare `ounce` is the common one, which
 * is then asked about: nobody is moved to the troy ounce unasked. None for what is a unit already.
 */
export const nearUnit = (word: string): string | undefined => {
  if (units.has(word)) return undefined;
  const lower = word.toLowerCase();
  const bare = lower.replaceAll('.', '').replaceAll(' ', '');
  const known = nearUnits.get(word) ?? nearUnits.get(lower) ?? nearUnits.get(bare);
  if (known) return known;
  return units.has(bare) ? bare : undefined;
};
