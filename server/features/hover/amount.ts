/** An amount: in other units, how good it is and why, net of its tare; a share as fineness and karat, and in grams of its lot. */

import { MARK_SOURCE, type Mark, markAt, markFor } from '../../engine/bench/fineness';
import type { Weight } from '../../engine/book';
import type { Amount, Digits, Entry, Said } from '../../engine/entry';
import { GUESS_UNCERTAINTY, scaleOf, weighAmount } from '../../engine/weigh';
import { decimal, decimalsOf, toPlain } from '../../quantity/decimal';
import type { Measured } from '../../quantity/measured';
import { uncertainty } from '../../quantity/measured';
import { showMass, showPlaces, showQuantity } from '../../quantity/show';
import { fromBase, fromCelsius, toBase, toCelsius, unit } from '../../quantity/units';
import { showSize } from '../../reports/figures';
import { escapeMarkdown, fenced, paragraphs } from '../../reports/markdown';
import { sumLines } from '../../reports/sum';
import type { Workspace } from '../../workspace/workspace';
import type { SpokenAmount } from './amounts';

export const amountMarkdown = (workspace: Workspace, entry: Entry, { amount, said, name }: SpokenAmount): string => {
  const kind = kindOf(amount);
  if (amount.absent) return absentWords(workspace, entry, amount);
  if (kind === 'proportion') return paragraphs(shareMarkdown(amount), markWords(entry, amount, name));
  if (kind === 'temperature' || kind === 'time') return simpleMarkdown(amount, kind);
  const weight = weighAmount(amount, said, workspace.workshop, name);
  if (weight.volume) return volumeMarkdown(weight.volume, amount);
  if (!weight.mass) return paragraphs('No weight can be read here.', withoutTare(amount));
  return paragraphs(
    `**${escapeMarkdown(showQuantity(weight.mass, 'g'))}**${stateWords(weight)}`,
    escapeMarkdown(otherUnits(weight.mass, amount)),
    tareSum(weight, said),
    escapeMarkdown(whyGood(workspace, weight, amount, said)),
    amount.was ? escapeMarkdown(`Corrected; what stood here before: ${digitsText(amount.was)}.`) : undefined,
  );
};

/** The mark of the trade that a fineness is, where it is said of a metal. */
const markWords = (entry: Entry, amount: Amount, symbol: string): string | undefined => {
  const digits = amount.figure?.form === 'reading' ? amount.figure.digits : undefined;
  if (!digits?.unit) return undefined;
  const fineness = 1000 * toBase(digits.value, digits.unit).toNumber();
  const mark = markAt(symbol, fineness);
  const named = ({ finenessPpt, name }: Mark): string => (name ? `${finenessPpt}: ${name}` : `${finenessPpt}`);
  if (mark && (entry.verb !== 'assay' || mark.finenessPpt <= fineness))
    return escapeMarkdown(`The mark ${named(mark)} (${MARK_SOURCE}). A mark stands at or below the assay.`);
  // A share that is paid is no fineness.
  const under = entry.verb === 'assay' ? markFor(symbol, fineness).value : undefined;
  return (
    under &&
    escapeMarkdown(`Marked ${under.finenessPpt} at most: a mark stands at or below the assay (${MARK_SOURCE}).`)
  );
};

const firstDigits = ({ figure }: Amount): Digits | undefined => {
  if (!figure) return undefined;
  if (figure.form === 'range') return figure.low;
  return 'parts' in figure ? figure.parts[0] : figure.digits;
};

const kindOf = (amount: Amount) => firstDigits(amount)?.unit?.kind;

const digitsText = (amount: Amount): string => {
  const digits = firstDigits(amount);
  return digits ? `${digits.text}${digits.unit ? ` ${digits.unit.symbol}` : ''}` : (amount.absent ?? '?');
};

const absentWords = ({ book }: Workspace, entry: Entry, amount: Amount): string => {
  if (amount.absent === 'none') return '**none** · Looked, and there was none.';
  if (amount.absent === 'not-determined') return '**nd** · Not determined.';
  const step = book.step(entry);
  const solved = step?.solved?.flow.amount?.place === amount.place ? step.solved.mass : undefined;
  if (!solved) return '**?** · Not known yet.';
  return paragraphs(
    `**${escapeMarkdown(showQuantity(solved, 'g'))}** · what the balance leaves`,
    'Not weighed yet; nothing checks it.',
  );
};

const withoutTare = ({ gross }: Amount): string =>
  gross
    ? 'It is gross, and its tare is not known: write `tare` and a weight, or a vessel of the workshop file.'
    : 'Its unit is no unit of mass.';

const stateWords = ({ states }: Weight): string => (states.length > 0 ? ` · ${states.join(', ')}` : '');

/** Units to show a mass in, from heavy to light, with the least and most grams where each is a handy one. */
const HANDY: readonly { readonly symbol: string; readonly from: number; readonly to: number }[] = [
  { symbol: 'kg', from: 500, to: Number.POSITIVE_INFINITY },
  { symbol: 'g', from: 0, to: Number.POSITIVE_INFINITY },
  { symbol: 'ozt', from: 0.5, to: Number.POSITIVE_INFINITY },
  { symbol: 'dwt', from: 0.05, to: 2000 },
  { symbol: 'gr', from: 0, to: 10 },
  { symbol: 'mg', from: 0, to: 1 },
];

const otherUnits = (mass: Measured, amount: Amount): string => {
  const written = firstDigits(amount)?.unit?.symbol;
  const grams = Math.abs(mass.value.toNumber());
  const units = HANDY.filter(
    ({ symbol, from, to }) => symbol !== 'g' && symbol !== written && grams >= from && grams < to,
  );
  return units.map(({ symbol }) => showMass(mass, symbol)).join(' · ');
};

const tareSum = ({ gross, tare, mass }: Weight, { tare: said }: Said): string | undefined => {
  if (!gross || !tare || !mass) return undefined;
  const name = said && 'name' in said ? `tare ${said.name}` : 'tare';
  return fenced(
    sumLines([
      { sign: '+', word: 'gross', mass: gross },
      { sign: '-', word: name, mass: tare },
      { sign: '=', word: 'net', mass },
    ]),
  );
};

const whyGood = ({ workshop }: Workspace, weight: Weight, amount: Amount, said: Said): string => {
  if (amount.spread) return `± as written: ${SPREADS[amount.spread.meaning]}.`;
  const { figure } = amount;
  if (amount.guessed || weight.mass?.guessed) {
    if (figure?.form === 'range') return 'A range is a guess: every value in it as likely as another.';
    return `A guess, taken good to ±${showSize(2 * GUESS_UNCERTAINTY * 100)} %; marked in all that follows.`;
  }
  const name = (amount.scale ?? said.scale)?.name;
  const scale = scaleOf(amount, said, workshop);
  const times =
    figure?.form === 'repeats'
      ? `Mean of ${figure.parts.length}. `
      : figure?.form === 'sum'
        ? `Sum of ${figure.parts.length}. `
        : '';
  if (!scale) {
    const step = showSize(weight.divisionGrams);
    const why = name ? `${name} is not in the workshop file` : 'No scale named';
    return `${times}${why}: its last digit, ${step} g, is taken for the division. ± is for 95 of 100.`;
  }
  const facts = [
    scale.division && `division ${toPlain(scale.division)} g at the load and at zero`,
    scale.repeatability === undefined ? undefined : `repeats to ${showSize(scale.repeatability)} g`,
    scale.permissibleError === undefined ? undefined : `held to ±${showSize(scale.permissibleError)} g`,
  ].filter((fact) => fact !== undefined);
  return `${times}Read on ${scale.name}: ${facts.join(', ')}. ± is for 95 of 100.`;
};

const SPREADS = {
  limits: 'limits, every value between them as likely as another',
  expanded: 'expanded, k = 2',
  standard: 'standard uncertainty, k = 1',
} as const;

const volumeMarkdown = (volume: Measured, amount: Amount): string => {
  const litres = firstDigits(amount)?.unit?.symbol === 'L' ? 'mL' : 'L';
  const u = uncertainty(volume);
  return paragraphs(
    `**${escapeMarkdown(showQuantity(volume, 'mL'))}**`,
    `${escapeMarkdown(showMass(volume, litres))}. ${u > 0 ? 'A volume is no weight: the balance here is made by metal.' : ''}`,
  );
};

const shareMarkdown = (amount: Amount): string => {
  const { figure } = amount;
  if (figure?.form === 'range') {
    const written = `${figure.low.text}..${figure.high.text} ${figure.high.unit?.symbol ?? ''}`;
    return paragraphs(
      `**${escapeMarkdown(written)}** · a range, so a guess`,
      escapeMarkdown(shareWords([figure.low, figure.high])),
    );
  }
  const digits = firstDigits(amount);
  if (!digits) return '';
  const side = figure?.form === 'limit' ? figure.side : undefined;
  const mark = side === undefined ? '' : side === 'below' ? '<' : '>';
  const what = side === undefined ? '' : ` · ${side} what the method can tell`;
  const written = `${mark}${digits.text} ${digits.unit?.symbol ?? ''}`;
  return paragraphs(`**${escapeMarkdown(written)}**${what}`, escapeMarkdown(shareWords([digits])));
};

interface ShareUnit {
  readonly symbol: string;
  /** How many more digits after the point than per cent has. */
  readonly more: number;
}

const SHARE_UNITS: readonly ShareUnit[] = [
  { symbol: '%', more: 0 },
  { symbol: 'fine', more: -1 },
  { symbol: 'k', more: 1 },
];
const TRACE_UNITS: readonly ShareUnit[] = [
  { symbol: '%', more: 0 },
  { symbol: 'g/t', more: -4 },
];
/** Digits after the point of a share as if it were written in per cent. */
const PERCENT_PLACES: ReadonlyMap<string, number> = new Map([
  ['fine', 1],
  ['‰', 1],
  ['k', 1],
  ['ppm', 4],
  ['g/t', 4],
]);
/** Below this a share is told in grams in a tonne. */
const TRACE = '0.0005';

/** A share, or both ends of a range of it, in the other ways to write it. */
const shareWords = (ends: readonly Digits[]): string => {
  const [first] = ends;
  const symbol = first?.unit?.symbol ?? '%';
  const shares = ends.map(({ value, unit: row }) => (row ? toBase(value, row) : value));
  const places = decimalsOf(first?.text ?? '') + (PERCENT_PLACES.get(symbol) ?? 0);
  const isTrace = shares.every((share) => share.lessThan(TRACE));
  return (isTrace ? TRACE_UNITS : SHARE_UNITS)
    .filter((row) => row.symbol !== symbol && !(row.symbol === 'fine' && symbol === '‰'))
    .map((row) => {
      const said = shares.map((share) =>
        showPlaces(fromBase(share, unit(row.symbol)!), Math.max(0, places + row.more)),
      );
      return `${said.join('..')} ${row.symbol}`;
    })
    .join(' · ');
};

const simpleMarkdown = (amount: Amount, kind: 'temperature' | 'time'): string => {
  const digits = firstDigits(amount)!;
  const written = `**${escapeMarkdown(`${digits.text} ${digits.unit!.symbol}`)}**`;
  if (kind === 'time') return `${written} · ${toPlain(toBase(digits.value, digits.unit!))} min`;
  return `${written} · ${temperatureWords(digits)}`;
};

/** The same temperature on the other scale, to whole degrees. */
export const temperatureWords = ({ value, unit: row }: Digits): string => {
  const celsius = toCelsius(value, row!);
  const isFahrenheit = row!.symbol.endsWith('F');
  const other = fromCelsius(celsius, unit(isFahrenheit ? '°C' : '°F')!);
  return `${showPlaces(decimal(other), 0)} ${isFahrenheit ? '°C' : '°F'}`;
};
