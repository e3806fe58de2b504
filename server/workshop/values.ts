/** One reader for each kind of value. A reader gives the value, or says what is amiss and gives none. */
import type { ChargeTerm, Price, Range, UsualLoss } from '../engine/workshop';
import { type Decimal, decimal } from '../quantity/decimal';
import { toCelsius, type UnitRow, unit } from '../quantity/units';
import { roundingOfLoad, statedUncertainty } from '../quantity/weighing';
import { isDate } from '../text/calendar';
import { nearest } from '../text/nearest';
import { parseFormula } from '../vocabulary/compounds';
import { ELEMENTS, element } from '../vocabulary/elements';
import { type Constituent, MATERIALS, material } from '../vocabulary/materials';
import { VERBS, verb } from '../vocabulary/verbs';
import { BASES } from '../vocabulary/words';
import { readPlain, readQuantity, readShare } from './figures';
import { CHARGE, PART, type ValueKind } from './keys';
import { type Reading, reportKind, reportUnknownKey, reportValue } from './reading';
import { type Item, type MapItem, type Pair, shown } from './tree';
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
  days: number;
  date: string;
  'yes or no': boolean;
  class: AccuracyClass;
  role: 'own' | 'customer' | 'refiner' | 'lab' | 'supplier';
  paper: 'A4' | 'letter';
  currency: string;
  'mass unit': UnitRow;
  price: Price;
  material: string;
  composition: readonly Constituent[];
  parts: ReadonlyMap<string, Decimal>;
  metals: ReadonlyMap<string, Decimal>;
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

const isCurrency = (text: string): boolean => /^[A-Z]{3}$/.test(text);

const readCurrency: Reader<'currency'> = (item, reading) => {
  const text = textOf(item) ?? '';
  if (isCurrency(text)) return text;
  const upper = text.toUpperCase();
  return reportKind(reading, item, 'currency', isCurrency(upper) ? upper : undefined);
};

const readMassUnit: Reader<'mass unit'> = (item, reading) => {
  const word = readWord('mass unit', MASS_UNITS)(item, reading);
  return word === undefined ? undefined : unit(word);
};

const readPrice: Reader<'price'> = (item, reading) => {
  const figures = readPlain(item, reading, 'price', { zero: true });
  if (!figures) return undefined;
  const [currency = '', per = '', ...more] = figures.rest.split('/');
  const row = unit(per);
  if (!isCurrency(currency) || row?.kind !== 'mass' || more.length > 0) return reportKind(reading, item, 'price');
  return { amount: figures.low, currency, per: row };
};

const readBuiltIn: Reader<'material'> = (item, reading) => {
  const name = textOf(item);
  if (name === undefined) return reportKind(reading, item, 'material');
  if (material(name)) return name;
  const names = MATERIALS.map((row) => row.name);
  reportUnknownKey(reading, item, name, 'built-in material', names, 'workshop-unknown-material');
  return undefined;
};

/** The pairs of a list of keys; says so where it is none. */
const pairsOf = (item: Item, reading: Reading, kind: ValueKind): readonly Pair[] => {
  if (item.kind === 'map') return item.pairs;
  reportKind(reading, item, kind);
  return [];
};

/** The pairs that have a value, by key; a key alone waits for it. */
const readPairs = <Value>(
  item: Item,
  reading: Reading,
  kind: ValueKind,
  read: (pair: Pair, value: Item) => Value | undefined,
): Map<string, Value> => {
  const found = new Map<string, Value>();
  for (const pair of pairsOf(item, reading, kind)) {
    const value = pair.value && read(pair, pair.value);
    if (value !== undefined) found.set(pair.key, value);
  }
  return found;
};

const readComposition: Reader<'composition'> = (item, reading) => {
  const parts = readPairs(item, reading, 'composition', (pair, value) =>
    isFormula(pair, reading) ? readShare(value, reading, 'share range') : undefined,
  );
  const least = total([...parts.values()].map(({ low }) => low));
  if (least.greaterThan(1)) {
    const percent = least.times(100).toDecimalPlaces(4).toString();
    reading.report.add('workshop-above-whole', item, () => ({
      says: `The composition comes to ${percent} %: more than the whole.`,
    }));
    return undefined;
  }
  return [...parts].map(([what, { low, high }]) => constituent(what, low, high));
};

const constituent = (what: string, low: Decimal, high: Decimal): Constituent => {
  if (low.equals(high)) return { what, fraction: low.toNumber() };
  return { what, fraction: low.plus(high).div(2).toNumber(), low: low.toNumber(), high: high.toNumber() };
};

const isFormula = ({ key, at }: Pair, reading: Reading): boolean => {
  if (parseFormula(key)) return true;
  reading.report.add('workshop-unknown-material', at, () => {
    const near = nearest(key, symbols(), 1);
    return {
      says: `\`${shown(key)}\` is no formula and no symbol of a metal.${near ? ` Did you mean \`${near}\`?` : ''}`,
      write: near,
    };
  });
  return false;
};

const symbols = (): string[] => ELEMENTS.map(({ symbol }) => symbol);

const total = (figures: readonly Decimal[]): Decimal => figures.reduce((sum, figure) => sum.plus(figure), decimal(0));

/** How the parts of one recipe are counted: all in one way. */
const PART_WORDS: ReadonlyMap<string, 'parts' | '%' | 'g'> = new Map([
  ['', 'parts'],
  ['part', 'parts'],
  ['parts', 'parts'],
  ['%', '%'],
  ['g', 'g'],
]);

/** A recipe counts only when every part of it was read: a share of less than all would be wrong for each. */
const readParts: Reader<'parts'> = (item, reading) => {
  let counted: string | undefined;
  const parts = readPairs(item, reading, 'parts', (pair, value) => {
    const part = readPart(pair, value, reading, counted);
    counted ??= part?.way;
    return part?.amount;
  });
  if (item.kind !== 'map' || parts.size < item.pairs.length || parts.size === 0) return undefined;
  const whole = total([...parts.values()]);
  if (counted !== '%' || whole.equals(100)) return parts;
  const code = whole.greaterThan(100) ? 'workshop-above-whole' : 'workshop-wrong-value';
  reading.report.add(code, item, () => ({ says: `The parts come to ${whole.toString()} %, not to 100 %.` }));
  return undefined;
};

const readPart = (pair: Pair, value: Item, reading: Reading, counted: string | undefined) => {
  if (!reading.isMaterial(pair.key)) {
    reportUnknownKey(
      reading,
      pair.at,
      pair.key,
      'known material',
      reading.materialNames(),
      'workshop-unknown-material',
    );
  }
  const figures = readPlain(value, reading, PART);
  if (!figures) return undefined;
  const way = PART_WORDS.get(figures.rest);
  if (!way) return reportKind(reading, value, PART);
  if (counted === undefined || way === counted) return { way, amount: figures.low };
  return reportValue(reading, value, `The parts above are in ${counted}: write all of a recipe in one way.`);
};

const isMetal = ({ key, at }: Pair, reading: Reading): boolean => {
  if (element(key)) return true;
  reportUnknownKey(reading, at, key, 'symbol of a metal', symbols());
  return false;
};

const readMetals: Reader<'metals'> = (item, reading) =>
  readPairs(item, reading, 'metals', (pair, value) =>
    isMetal(pair, reading) ? readShare(value, reading, 'share')?.low : undefined,
  );

const readCharges: Reader<'charges'> = (item, reading) =>
  readPairs(item, reading, 'charges', (_, value) => readCharge(value, reading));

/** `45.00 USD`, `0.30 USD/g of melted`, `1 % of value`. */
const readCharge = (item: Item, reading: Reading): ChargeTerm | undefined => {
  const figures = readPlain(item, reading, CHARGE, { zero: true });
  if (!figures) return undefined;
  const [what = '', of, ...more] = figures.rest.split(' of ');
  const basis = of?.trim();
  const isBasis = basis === undefined || BASES.some(({ word }) => word === basis) || element(basis) !== undefined;
  if (more.length > 0 || !isBasis)
    return reportValue(reading, item, `A charge is of ${basesText()} or a metal: \`0.30 USD/g of melted\`.`);
  const share = unit(what)?.kind === 'proportion' ? unit(what) : undefined;
  if (share) return { amount: figures.low.times(share.factor), currency: undefined, per: undefined, of: basis };
  const [currency = '', per] = what.split('/');
  const row = per === undefined ? undefined : unit(per);
  const right = isCurrency(currency) && (per === undefined || row?.kind === 'mass');
  return right ? { amount: figures.low, currency, per: row, of: basis } : reportKind(reading, item, CHARGE);
};

const basesText = (): string => BASES.map(({ word }) => `\`${word}\``).join(', ');

const readLosses: Reader<'losses'> = (item, reading) =>
  readPairs(item, reading, 'losses', (pair, value) => {
    if (!isStep(pair, reading)) return undefined;
    const share = readShare(value, reading, 'share range');
    if (!share) return undefined;
    const one = share.low.equals(share.high);
    return { low: one ? 0 : share.low.toNumber(), high: share.high.toNumber() };
  });

/** `melt`, or `melt black-sand`. */
const isStep = ({ key, at }: Pair, reading: Reading): boolean => {
  const blank = key.indexOf(' ');
  const word = blank < 0 ? key : key.slice(0, blank);
  if (!verb(word)?.flows) {
    const steps = VERBS.filter((row) => row.flows).map((row) => row.word);
    reportUnknownKey(reading, at, word, 'kind of step', steps);
    return false;
  }
  const of = blank < 0 ? undefined : key.slice(blank + 1);
  if (of === undefined || reading.isMaterial(of)) return true;
  reading.report.add('workshop-unknown-material', at, () => {
    const near = nearest(of, reading.materialNames());
    const meant = near ? ` Did you mean \`${near}\`?` : '';
    return { says: `\`${shown(of)}\` is no known material.${meant}`, write: near && `${word} ${near}` };
  });
  return false;
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
  days: readDays,
  date: readDate,
  'yes or no': readYesOrNo,
  class: readWord('class', ['I', 'II', 'III', 'IIII'] as const),
  role: readWord('role', ['own', 'customer', 'refiner', 'lab', 'supplier'] as const),
  paper: readWord('paper', ['A4', 'letter'] as const),
  currency: readCurrency,
  'mass unit': readMassUnit,
  price: readPrice,
  material: readBuiltIn,
  composition: readComposition,
  parts: readParts,
  metals: readMetals,
  charges: readCharges,
  losses: readLosses,
  terms: readTerms,
};
