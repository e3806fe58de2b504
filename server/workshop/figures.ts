/** Values that are figures with a unit. */
import type { Decimal } from '../quantity/decimal';
import { unit } from '../quantity/units';
import { type Figures, isMisread, type Misread, readFigures } from './amounts';
import type { Form, ValueKind } from './keys';
import { type Reading, reportKind, reportValue } from './reading';
import { type Item, shown, type TextItem } from './tree';
import { PROPORTION, type Units } from './units';

/** What a figure may be besides one number above nought. */
interface Allowed {
  readonly range?: true;
  readonly spread?: true;
  readonly zero?: true;
}

export interface Quantity extends Figures {
  /** Of the unit that stands there. */
  readonly factor: Decimal;
  readonly symbol: string;
}

/** The figures of a value, in the unit that stands there. */
export const readQuantity = (
  item: Item,
  reading: Reading,
  kind: ValueKind,
  units: Units,
  allowed: Allowed = {},
): Quantity | undefined => {
  const figures = readPlain(item, reading, kind, allowed);
  if (!figures) return undefined;
  const factor = units.factor(figures.rest);
  if (!factor) return reportUnit(item as TextItem, reading, figures, units);
  if (figures.rest === 'gr') reportGrains(item as TextItem, reading, figures);
  return { ...figures, factor, symbol: figures.rest };
};

/** Figures with anything behind them. */
export const readPlain = (
  item: Item,
  reading: Reading,
  kind: ValueKind | Form,
  allowed: Allowed = {},
): Figures | undefined => {
  if (item.kind !== 'text') return reportKind(reading, item, kind);
  const figures = readFigures(item.text);
  if (isMisread(figures)) return reportMisread(item, reading, kind, figures);
  if (figures.half && !allowed.spread) return reportKind(reading, item, kind);
  if (!allowed.range && !figures.high.equals(figures.low)) return reportKind(reading, item, kind);
  if (!allowed.zero && figures.high.isZero())
    return reportValue(reading, item, `\`${shown(item.text)}\` is nought: leave the line out if it is not known.`);
  return figures;
};

const reportMisread = (
  item: TextItem,
  reading: Reading,
  kind: ValueKind | Form,
  { wrong, write }: Misread,
): undefined => {
  const text = `\`${shown(item.text)}\``;
  if (wrong === 'comma') return reportValue(reading, item, `A number is written with a point: ${text}.`, write);
  if (wrong === 'sign') return reportValue(reading, item, `A number here has no sign: ${text}.`);
  if (wrong === 'size')
    return reportValue(reading, item, 'More digits than any scale shows: at most 15 before the point and 12 after.');
  if (wrong === 'backwards')
    return reportValue(reading, item, `The range ${text} goes down: write the lower figure first.`);
  if (wrong === 'guess') return reportValue(reading, item, `A guess mark has no use here: ${text}.`, write);
  return reportKind(reading, item, kind, write);
};

const reportUnit = (item: TextItem, reading: Reading, { rest, typed }: Figures, units: Units): undefined => {
  if (rest === '') {
    const write = `${typed} ${units.usual}`;
    reading.report.add('workshop-missing-unit', item, () => ({
      says: `\`${typed}\` has no unit. Is it \`${write}\`?`,
      write,
    }));
    return undefined;
  }
  const near = units.near(rest);
  if (near)
    return reportValue(
      reading,
      item,
      `\`${shown(rest)}\` is no unit here. Did you mean \`${near}\`?`,
      `${typed} ${near}`,
    );
  const known = unit(rest) ? `\`${rest}\` does not measure ${units.measures}` : `\`${shown(rest)}\` is no unit`;
  return reportValue(reading, item, `${known}: write it like \`${typed} ${units.usual}\`.`);
};

const reportGrains = (item: TextItem, reading: Reading, { typed }: Figures): void =>
  reading.report.add('workshop-which-unit', item, () => ({
    says: '`gr` is the grain, 0.0648 g. If grams are meant, write `g`.',
    write: `${typed} g`,
  }));

/** A share of a whole, 0 to 1; the same twice where no range may stand. */
export const readShare = (
  item: Item,
  reading: Reading,
  kind: 'share' | 'share range' | 'newest share',
): { readonly low: Decimal; readonly high: Decimal } | undefined => {
  const allowed: Allowed = kind === 'share range' ? { zero: true, range: true } : { zero: true };
  const quantity = readQuantity(item, reading, kind, PROPORTION, allowed);
  if (!quantity) return undefined;
  const [low, high] = [quantity.low.times(quantity.factor), quantity.high.times(quantity.factor)];
  if (high.greaterThan(1)) return reportAboveWhole(item as TextItem, reading);
  return { low, high };
};

const reportAboveWhole = (item: TextItem, { report }: Reading): undefined => {
  report.add('workshop-above-whole', item, () => ({ says: `\`${shown(item.text)}\` is more than the whole.` }));
  return undefined;
};
