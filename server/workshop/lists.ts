/** Values that are a list of keys: compositions, recipes, payable shares, charges, usual losses. */
import type { ChargeTerm, UsualLoss } from '../engine/workshop';
import { type Decimal, sum } from '../quantity/decimal';
import { nearest } from '../text/nearest';
import { parseFormula } from '../vocabulary/compounds';
import { ELEMENTS, element } from '../vocabulary/elements';
import type { Constituent } from '../vocabulary/materials';
import { VERBS, verb } from '../vocabulary/verbs';
import { readPlain, readShare } from './figures';
import { PART, type ValueKind } from './keys';
import { readCharge } from './money';
import { type Reading, reportKind, reportUnknownKey, reportValue } from './reading';
import { type Item, type Pair, shown } from './tree';

/** The pairs of a list of keys; says so where it is none. */
export const pairsOf = (item: Item, reading: Reading, kind: ValueKind): readonly Pair[] => {
  if (item.kind === 'map') return item.pairs;
  reportKind(reading, item, kind);
  return [];
};

/** The pairs that have a value, by key; a key alone waits for it. */
export const readPairs = <Value>(
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

export const readComposition = (item: Item, reading: Reading): readonly Constituent[] | undefined => {
  const parts = readPairs(item, reading, 'composition', (pair, value) =>
    isFormula(pair, reading) ? readShare(value, reading, 'share range') : undefined,
  );
  const least = sum([...parts.values()].map(({ low }) => low));
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

/** How the parts of one recipe are counted: all in one way. */
const PART_WORDS: ReadonlyMap<string, 'parts' | '%' | 'g'> = new Map([
  ['', 'parts'],
  ['part', 'parts'],
  ['parts', 'parts'],
  ['%', '%'],
  ['g', 'g'],
]);

/** A recipe counts only when every part of it was read: a share of less than all would be wrong for each. */
export const readParts = (item: Item, reading: Reading): ReadonlyMap<string, Decimal> | undefined => {
  let counted: string | undefined;
  const parts = readPairs(item, reading, 'parts', (pair, value) => {
    const part = readPart(pair, value, reading, counted);
    counted ??= part?.way;
    return part?.amount;
  });
  if (item.kind !== 'map' || parts.size < item.pairs.length || parts.size === 0) return undefined;
  const whole = sum(parts.values());
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

export const isMetal = ({ key, at }: Pair, reading: Reading): boolean => {
  if (element(key)) return true;
  reportUnknownKey(reading, at, key, 'symbol of a metal', symbols());
  return false;
};

export const readMetals = (item: Item, reading: Reading): ReadonlyMap<string, Decimal> =>
  readPairs(item, reading, 'metals', (pair, value) =>
    isMetal(pair, reading) ? readShare(value, reading, 'share')?.low : undefined,
  );

export const readCharges = (item: Item, reading: Reading): ReadonlyMap<string, ChargeTerm> =>
  readPairs(item, reading, 'charges', (_, value) => readCharge(value, reading));

export const readLosses = (item: Item, reading: Reading): ReadonlyMap<string, UsualLoss> =>
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
