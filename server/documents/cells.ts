/** Figures of the engine as cells: cut for the reader, whole for a machine. */
import { type Inexact, isGuess, spread } from '../engine/accounts/inexact';
import type { MetalGround } from '../engine/accounts/known';
import { type Fine, groundIn } from '../engine/accounts/stock';
import type { FlowWeight, Weight } from '../engine/book';
import type { Amount, Digits, Money, Figure as Typed } from '../engine/entry';
import { type Decimal, decimal, toPlain } from '../quantity/decimal';
import { exact, type Measured, uncertainty } from '../quantity/measured';
import { type Money as Coins, roundMoney, showMoney } from '../quantity/money';
import { showDigits, showQuantity } from '../quantity/show';
import { asMeasured, fineWords, isNothing, isShown } from '../reports/fine';
import { spreadMoney } from '../reports/selling/money';
import { GROUND_WORDS } from '../reports/wording';
import { type Cell, type Figure, NOTHING } from './model';

/** Less than a tenth of a microgram is the rounding of sums. */
const PLACES = 7;

const plain = (value: Decimal): string => toPlain(value.toDecimalPlaces(PLACES));

/** Three digits of an uncertainty are more than anybody needs. */
const plainSpread = (u: number): string => plain(decimal(decimal(2 * u).toPrecision(3)));

const figure = (value: Decimal, u: number, unit: string): Figure => ({
  value: plain(value),
  unit,
  ...(u > 0 ? { plusMinus: plainSpread(u) } : {}),
});

export type Unit = 'g' | 'mL';

export const mass = (of: Measured | undefined, unit: Unit = 'g', ground?: string): Cell =>
  of
    ? {
        text: showQuantity(of, unit),
        figure: figure(of.value, uncertainty(of), unit),
        ...grounded(ground ?? (of.guessed ? GROUND_WORDS.guessed : undefined)),
      }
    : NOTHING;

const grounded = (ground: string | undefined): { readonly ground?: string } => (ground === undefined ? {} : { ground });

/** What a flow weighs, or measures; `?` where that is not known. */
export const weight = (of: Weight | FlowWeight, solved?: Measured): Cell => {
  const size = of.mass ?? of.volume;
  if (!size && solved) return mass(solved, 'g', GROUND_WORDS.solved);
  if (!size) return { text: '?', ground: GROUND_WORDS.unknown };
  return mass(size, of.mass ? 'g' : 'mL', GROUND_WORDS[of.ground]);
};

/** Fine grams. */
export const grams = (of: Inexact | undefined, ground?: MetalGround | string): Cell => {
  if (!of) return NOTHING;
  if (isNothing(of)) return { text: '0 g', figure: figure(decimal(of.value), spread(of), 'g') };
  return {
    text: showQuantity(asMeasured(of, ground === 'guessed'), 'g'),
    figure: figure(decimal(of.value), spread(of), 'g'),
    ...grounded(ground ?? guessGround(of)),
  };
};

/** Of a figure that no one thing tells: whether it is a guess, or has one in it that shows. */
const guessGround = (of: Inexact): string | undefined => {
  if (!isGuess(of)) return undefined;
  return Math.abs(of.guess!) < 0.99 * Math.abs(of.value) ? 'guessed in part' : 'guessed';
};

/** What a lot holds of a metal: its fine weight, bounds, or that there is none to speak of. Nothing where nothing is known. */
export const fine = (of: Fine | undefined): Cell => {
  if (!of) return NOTHING;
  const ground = groundIn(of);
  if (!isShown(of)) return { text: 'none to speak of', ...(of.grams ? { figure: grams(of.grams).figure! } : {}) };
  return { ...(of.grams ? grams(of.grams, ground) : { ground }), text: fineWords(of) };
};

/** Gold and silver of a lot, in two cells; where they are not told apart both stand in the first. */
export const goldAndSilver = (all: readonly Fine[]): readonly [Cell, Cell] => {
  const of = (metal: string): Fine | undefined => all.find((one) => one.metal === metal);
  const [gold, silver, both] = [of('Au'), of('Ag'), of('Au+Ag')];
  const told = [gold, silver].some((one) => one && isShown(one));
  if (!told && both && isShown(both)) {
    const cell = fine(both);
    return [{ ...cell, text: `${cell.text} with silver` }, NOTHING];
  }
  return [fine(gold), fine(silver)];
};

/** A share of a whole: `91.34 % ±0.06`. */
export const percent = (share: Inexact, ground?: MetalGround): Cell => ({
  text: showQuantity(asMeasured(share, ground === 'guessed'), '%'),
  figure: figure(decimal(share.value).times(100), 100 * spread(share), '%'),
  ...grounded(ground ?? guessGround(share)),
});

/** A plain figure of which no ± is known: `12`, `3.5 %`. */
export const plainFigure = (value: number, unit: string, digits = 3): Cell => ({
  text: `${showDigits(decimal(value), digits)}${unit === '' ? '' : ` ${unit}`}`,
  figure: figure(decimal(value), 0, unit),
});

/** With the mark of what it was worked out from, where that is a guess. */
export const restingOn = (cell: Cell, ...from: readonly (Inexact | undefined)[]): Cell => {
  const ground = from.flatMap((one) => (one && guessGround(one)) ?? [])[0];
  return ground === undefined || cell.text === '' || cell.text.startsWith('~')
    ? cell
    : { ...cell, text: `~${cell.text}`, ground: cell.ground ?? ground };
};

export const count = (value: number): Cell => ({ text: `${value}`, figure: { value: `${value}`, unit: '' } });

export const typedMoney = ({ digits, currency, per }: Money): Cell => {
  const unit = per ? `${currency}/${per.symbol}` : currency;
  return { text: `${digits.text} ${unit}`, figure: { value: digits.text, unit } };
};

/** Exact, in the currency's own digits. */
export const coins = (of: Coins): Cell => ({
  text: showMoney(of),
  figure: { value: toPlain(of.amount), unit: of.currency },
});

export const moneySum = (all: readonly Money[]): readonly Cell[] => {
  const sums = new Map<string, Decimal>();
  for (const { currency, digits } of all) sums.set(currency, (sums.get(currency) ?? decimal(0)).plus(digits.value));
  return [...sums].map(([currency, value]) => {
    const text = value.toFixed(Math.max(2, value.decimalPlaces()));
    return { text: `${text} ${currency}`, figure: { value: text, unit: currency } };
  });
};

/** An amount as it was written: `78..82 %`, `14 k`, `<0.01 %`, `91.34 ±0.06 % expanded`. */
export const typed = ({ figure: of, absent, spread: stated, guessed }: Amount): string => {
  if (absent) return absent === 'unknown' ? '?' : absent === 'none' ? 'none' : 'nd';
  if (!of) return '';
  const mark = guessed ? '~' : '';
  if (!stated) return `${mark}${typedFigure(of)}`;
  const meaning = stated.meaning === 'limits' ? '' : ` ${stated.meaning}`;
  if (of.form !== 'reading' || stated.half.unit?.symbol !== of.digits.unit?.symbol)
    return `${mark}${typedFigure(of)} ±${withUnit(stated.half)}${meaning}`;
  return `${mark}${of.digits.text} ±${withUnit(stated.half)}${meaning}`;
};

const withUnit = ({ text, unit, measure }: Digits): string =>
  `${text}${unit ? ` ${unit.symbol}` : measure ? ` ${measure}` : ''}`;

const typedFigure = (of: Typed): string => {
  switch (of.form) {
    case 'reading':
      return withUnit(of.digits);
    case 'limit':
      return `${of.side === 'below' ? '<' : '>'}${withUnit(of.digits)}`;
    case 'range':
      return `${of.low.text}..${withUnit(of.high)}`;
    default:
      return of.parts.map(withUnit).join(of.form === 'sum' ? ' + ' : ' / ');
  }
};

/** `45.2 g ±0.5 (1.453 ozt)`: with the unit that the workshop wants beside grams; grams themselves are not said twice. */
export const besides = (cell: Cell, symbol: string | undefined, factor: Decimal | undefined): Cell => {
  if (!symbol || !factor || symbol === 'g' || cell.figure?.unit !== 'g') return cell;
  const value = decimal(cell.figure.value).div(factor);
  const u = Number(cell.figure.plusMinus ?? 0) / 2 / factor.toNumber();
  const shown = showQuantity({ ...exact(value), errors: u > 0 ? [{ source: { label: symbol }, size: u }] : [] }, '');
  const [text = ''] = shown.split(' ');
  return { ...cell, text: `${cell.text} (${u > 0 ? text : showDigits(value, 5)} ${symbol})` };
};

/** Where the column says how all of it is known. */
export const withoutGround = ({ ground: _, ...cell }: Cell): Cell => cell;

/** Rounded to the currency's own digits; nothing of nothing. */
export const moneyCell = (of: Coins | undefined): Cell => (of ? coins(roundMoney(of)) : NOTHING);

/** Money that was reckoned from what is weighed and assayed, cut to what its error leaves. */
export const reckonedMoney = (of: Inexact | undefined, currency: string | undefined, guessed = false): Cell => {
  if (!of || currency === undefined) return NOTHING;
  const { value, plusMinus } = figure(decimal(of.value), spread(of), currency);
  const coins = toPlain(roundMoney({ amount: decimal(value), currency }).amount);
  return {
    text: spreadMoney(of, currency, guessed),
    figure: { value: coins, unit: currency, ...(plusMinus === undefined ? {} : { plusMinus }) },
    ...grounded(guessGround(of) ?? (guessed ? 'guessed' : undefined)),
  };
};
