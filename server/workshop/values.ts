/** One reader for each kind of value. A reader gives the value, or says what is amiss and gives none. */
import { DEGREES } from '../engine/bench/degree';
import type { Bands, ChargeTerm, Cut, MoneyRate, Price, Range, UsualLoss } from '../engine/workshop';
import { type Decimal, decimal } from '../quantity/decimal';
import { toCelsius, type UnitRow, unit } from '../quantity/units';
import { roundingOfLoad, statedUncertainty } from '../quantity/weighing';
import { isDate } from '../text/calendar';
import { nearest } from '../text/nearest';
import { type Constituent, MATERIALS, material } from '../vocabulary/materials';
import { readPlain, readQuantity, readShare } from './figures';
import { CHOICES, type ValueKind } from './keys';
import { readCharges, readComposition, readLosses, readMetals, readParts } from './lists';
import { readCurrency, readPrice, readRate } from './money';
import { readCuts, readPayables } from './payable';
import { type Reading, reportKind, reportUnknownKey, reportValue } from './reading';
import { type Item, type MapItem, shown } from './tree';
import { DENSITY, MASS, MASS_UNITS, POWER, TEMPERATURE, VOLUME } from './units';
import type { AccuracyClass } from './verified';

/** What each kind is read as. Masses in grams, volumes in millilitres, shares as fractions of 1. */
export interface Values {
  text: string;
  mass: Decimal;
  'mass and spread': { readonly grams: Decimal; readonly u: number };
  volume: number;
  temperature: number;
  power: number;
  density: Range;
  share: Decimal;
  'share range': Range;
  coverage: number;
  degree: Range;
  slack: number;
  deviations: number;
  'newest share': number;
  heats: number;
  days: number;
  date: string;
  'yes or no': boolean;
  class: AccuracyClass;
  heating: 'resistance' | 'induction' | 'gas';
  role: 'own' | 'customer' | 'refiner' | 'lab' | 'supplier';
  paper: 'A4' | 'letter';
  currency: string;
  'mass unit': UnitRow;
  price: Price;
  material: string;
  composition: readonly Constituent[];
  parts: ReadonlyMap<string, Decimal>;
  wage: MoneyRate;
  'monthly sum': MoneyRate;
  'assay rule': 'theirs' | 'exchange';
  'umpire rule': 'result' | 'nearest' | 'middle';
  'price day': 'shipped' | 'settled' | 'paid';
  rounding: 'half-even' | 'half-up' | 'down';
  keeper: 'shop' | 'owner';
  metals: ReadonlyMap<string, Decimal>;
  payables: ReadonlyMap<string, Bands>;
  cuts: ReadonlyMap<string, Cut>;
  charges: ReadonlyMap<string, ChargeTerm>;
  losses: ReadonlyMap<string, UsualLoss>;
  /** Read by whoever knows the keys of terms. */
  terms: MapItem;
}

type Reader<Kind extends ValueKind> = (item: Item, reading: Reading) => Values[Kind] | undefined;

const textOf = (item: Item): string | undefined => (item.kind === 'text' ? item.text.trim() : undefined);

const readText: Reader<'text'> = (item, reading) => textOf(item) ?? reportKind(reading, item, 'text');

const readMass: Reader<'mass'> = (item, reading) => {
  const quantity = readQuantity(item, reading, 'mass', MASS);
  return quantity?.low.times(quantity.factor);
};

const readTare: Reader<'mass and spread'> = (item, reading) => {
  const quantity = readQuantity(item, reading, 'mass and spread', MASS, { spread: true });
  if (!quantity) return undefined;
  const { low, half, decimals, factor } = quantity;
  const division = decimal(10).pow(-decimals).times(factor).toNumber();
  const u = half ? statedUncertainty(half.times(factor).toNumber(), 'limits') : roundingOfLoad(division);
  return { grams: low.times(factor), u };
};

const readVolume: Reader<'volume'> = (item, reading) => {
  const quantity = readQuantity(item, reading, 'volume', VOLUME);
  return quantity?.low.times(quantity.factor).toNumber();
};

/** No furnace of a shop is hotter than platinum needs, none is of use below the heat of a drying oven. */
const COLDEST = 40;
const HOTTEST = 2500;

const readTemperature: Reader<'temperature'> = (item, reading) => {
  const quantity = readQuantity(item, reading, 'temperature', TEMPERATURE);
  if (!quantity) return undefined;
  const celsius = toCelsius(quantity.low, unit(quantity.symbol)!).toNumber();
  if (celsius >= COLDEST && celsius <= HOTTEST) return celsius;
  return reportValue(reading, item, `No furnace is made for \`${shown(textOf(item)!)}\`.`);
};

const readPower: Reader<'power'> = (item, reading) => {
  const quantity = readQuantity(item, reading, 'power', POWER);
  return quantity?.low.times(quantity.factor).toNumber();
};

/** The densest element, g/mL; a bulk material is lighter than any. */
const DENSEST = 22.6;

const readDensity: Reader<'density'> = (item, reading) => {
  const quantity = readQuantity(item, reading, 'density', DENSITY, { range: true });
  if (!quantity) return undefined;
  const of = (figure: Decimal): number => figure.times(quantity.factor).toNumber();
  const range = { low: of(quantity.low), high: of(quantity.high) };
  return range.high <= DENSEST
    ? range
    : reportValue(reading, item, `Nothing is as heavy as \`${shown(textOf(item)!)}\`.`);
};

const readOneShare: Reader<'share'> = (item, reading) => readShare(item, reading, 'share')?.low;

const readShareRange: Reader<'share range'> = (item, reading) => {
  const share = readShare(item, reading, 'share range');
  return share && { low: share.low.toNumber(), high: share.high.toNumber() };
};

const readCoverage: Reader<'coverage'> = (item, reading) => {
  const figures = readPlain(item, reading, 'coverage');
  if (!figures) return undefined;
  const k = figures.low.toNumber();
  return figures.rest === '' && k >= 1 && k <= 4 ? k : reportKind(reading, item, 'coverage');
};

const readDegree: Reader<'degree'> = (item, reading) => {
  const figures = readPlain(item, reading, 'degree', { range: true });
  if (!figures) return undefined;
  const [low, high] = [figures.low.toNumber(), figures.high.toNumber()];
  if (figures.rest === '' && low >= DEGREES.low && high <= DEGREES.high) return { low, high };
  return reportKind(reading, item, 'degree');
};

const readDeviations: Reader<'deviations'> = (item, reading) => {
  const figures = readPlain(item, reading, 'deviations');
  if (!figures) return undefined;
  const number = figures.low.toNumber();
  const right = figures.rest === '' && number >= 0.1 && number <= 20;
  return right ? number : reportKind(reading, item, 'deviations');
};

/** The largest of thirty figures lies some two deviations off: what passes over that sees nothing. */
const MOST_SLACK = 2;

const readSlack: Reader<'slack'> = (item, reading) => {
  const figures = readPlain(item, reading, 'slack');
  if (!figures) return undefined;
  const number = figures.low.toNumber();
  return figures.rest === '' && number >= 0.1 && number <= MOST_SLACK ? number : reportKind(reading, item, 'slack');
};

/** Of a moving average in which the newest counts less, nothing is seen within a shop's life. */
const LEAST_NEWEST = 0.01;

const readNewestShare: Reader<'newest share'> = (item, reading) => {
  const share = readShare(item, reading, 'newest share')?.low.toNumber();
  if (share === undefined) return undefined;
  return share >= LEAST_NEWEST ? share : reportKind(reading, item, 'newest share');
};

const MOST_HEATS = 10_000;

const readHeats: Reader<'heats'> = (item, reading) => {
  const figures = readPlain(item, reading, 'heats');
  if (!figures) return undefined;
  const right = figures.rest === '' && figures.decimals === 0 && figures.low.lessThanOrEqualTo(MOST_HEATS);
  return right ? figures.low.toNumber() : reportKind(reading, item, 'heats');
};

const DAY_WORDS = ['', 'days', 'day', 'd'];

const readDays: Reader<'days'> = (item, reading) => {
  const figures = readPlain(item, reading, 'days', { zero: true });
  if (!figures) return undefined;
  const right = DAY_WORDS.includes(figures.rest) && figures.decimals === 0 && figures.low.lessThanOrEqualTo(3660);
  return right ? figures.low.toNumber() : reportKind(reading, item, 'days');
};

const readDate: Reader<'date'> = (item, reading) => {
  const text = textOf(item);
  return text !== undefined && isDate(text) ? text : reportKind(reading, item, 'date');
};

/** One of a few words; another case, or one letter off, is asked about. */
const readWord =
  <Word extends string>(kind: ValueKind, words: readonly Word[]) =>
  (item: Item, reading: Reading): Word | undefined => {
    const text = textOf(item);
    const word = words.find((known) => known === text);
    if (word !== undefined) return word;
    const near =
      text === undefined
        ? undefined
        : (words.find((known) => known.toLowerCase() === text.toLowerCase()) ?? nearest(text, words));
    return reportKind(reading, item, kind, near);
  };

const readYesOrNo: Reader<'yes or no'> = (item, reading) => {
  const meant = new Map([
    ['true', 'yes'],
    ['on', 'yes'],
    ['false', 'no'],
    ['off', 'no'],
  ]).get(textOf(item)?.toLowerCase() ?? '');
  if (meant) return reportKind(reading, item, 'yes or no', meant);
  const word = readWord('yes or no', ['yes', 'no'])(item, reading);
  return word && word === 'yes';
};

const readMassUnit: Reader<'mass unit'> = (item, reading) => {
  const word = readWord('mass unit', MASS_UNITS)(item, reading);
  return word === undefined ? undefined : unit(word);
};

const readBuiltIn: Reader<'material'> = (item, reading) => {
  const name = textOf(item);
  if (name === undefined) return reportKind(reading, item, 'material');
  if (material(name)) return name;
  const names = MATERIALS.map((row) => row.name);
  reportUnknownKey(reading, item, name, 'built-in material', names, 'workshop-unknown-material');
  return undefined;
};

const readTerms: Reader<'terms'> = (item, reading) => (item.kind === 'map' ? item : reportKind(reading, item, 'terms'));

export const READERS: { readonly [Kind in ValueKind]: Reader<Kind> } = {
  text: readText,
  mass: readMass,
  'mass and spread': readTare,
  volume: readVolume,
  temperature: readTemperature,
  power: readPower,
  density: readDensity,
  share: readOneShare,
  'share range': readShareRange,
  coverage: readCoverage,
  degree: readDegree,
  slack: readSlack,
  deviations: readDeviations,
  'newest share': readNewestShare,
  heats: readHeats,
  days: readDays,
  date: readDate,
  'yes or no': readYesOrNo,
  class: readWord('class', CHOICES.class),
  heating: readWord('heating', CHOICES.heating),
  role: readWord('role', CHOICES.role),
  paper: readWord('paper', CHOICES.paper),
  currency: readCurrency,
  'mass unit': readMassUnit,
  price: readPrice,
  material: readBuiltIn,
  composition: readComposition,
  parts: readParts,
  wage: readRate('wage', 'h'),
  'monthly sum': readRate('monthly sum', 'month'),
  'assay rule': readWord('assay rule', ['theirs', 'exchange'] as const),
  'umpire rule': readWord('umpire rule', ['result', 'nearest', 'middle'] as const),
  'price day': readWord('price day', ['shipped', 'settled', 'paid'] as const),
  rounding: readWord('rounding', ['half-even', 'half-up', 'down'] as const),
  keeper: readWord('keeper', ['shop', 'owner'] as const),
  metals: readMetals,
  payables: readPayables,
  cuts: readCuts,
  charges: readCharges,
  losses: readLosses,
  terms: readTerms,
};
