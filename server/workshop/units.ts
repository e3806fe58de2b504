/** The units of a workshop file: the journal's own, and a few that only gear and prices need. */
import { type Decimal, decimal } from '../quantity/decimal';
import { nearUnit, UNITS, type UnitKind, unit } from '../quantity/units';

export interface Units {
  /** What such a figure is, in a sentence: `no weight`. */
  readonly measures: string;
  /** Written where none stands. */
  readonly usual: string;
  /** To the base unit; undefined for what is no unit of this kind. */
  readonly factor: (symbol: string) => Decimal | undefined;
  /** The unit that a common other spelling means. */
  readonly near: (word: string) => string | undefined;
}

const ofKind = (kind: UnitKind, usual: string, measures: string): Units => ({
  measures,
  usual,
  factor: (symbol) => (unit(symbol)?.kind === kind ? unit(symbol)!.factor : undefined),
  near: (word) => {
    const near = nearUnit(word);
    return near !== undefined && unit(near)?.kind === kind ? near : undefined;
  },
});

const ofTable = (factors: ReadonlyMap<string, Decimal>, usual: string, measures: string): Units => ({
  measures,
  usual,
  factor: (symbol) => factors.get(symbol),
  near: (word) =>
    [...factors.keys()].find((symbol) => symbol.toLowerCase() === word.toLowerCase().replace('cc', 'cm3')),
});

/** In grams. */
export const MASS = ofKind('mass', 'g', 'a weight');
/** In millilitres. */
export const VOLUME = ofKind('volume', 'mL', 'a volume');
/** `factor` tells only that it is one: temperatures have an offset too. */
export const TEMPERATURE = ofKind('temperature', '°C', 'a temperature');
/** As a fraction of 1. */
export const PROPORTION = ofKind('proportion', '%', 'a share');
/** In watts. */
export const POWER = ofTable(
  new Map([
    ['W', decimal(1)],
    ['kW', decimal(1000)],
  ]),
  'kW',
  'a power',
);
/** In grams a millilitre. */
export const DENSITY = ofTable(
  new Map([
    ['g/mL', decimal(1)],
    ['g/cm3', decimal(1)],
    ['kg/L', decimal(1)],
    ['kg/m3', decimal('0.001')],
  ]),
  'g/mL',
  'a density',
);

export const MASS_UNITS: readonly string[] = UNITS.filter(({ kind }) => kind === 'mass').map(({ symbol }) => symbol);
