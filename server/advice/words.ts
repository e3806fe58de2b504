/** Estimates in words, and the way to an answer as Markdown. */
import { type Assumption, type Estimate, times } from '../engine/bench/result';
import { decimal } from '../quantity/decimal';
import { showDigits } from '../quantity/show';
import { brokenLines, escapeMarkdown, fenced, paragraphs } from '../reports/markdown';
import type { Working } from './advice';

/** Bounds that lie closer than this share of the best value are one figure. */
const NARROW = 0.04;

const figure = (value: number): string => showDigits(decimal(value), 2);

const LARGE: ReadonlyMap<string, string> = new Map([
  ['g', 'kg'],
  ['mL', 'L'],
]);

/** As the trade would say it: what is large in kilograms or litres, what is tiny in milligrams. */
const handy = (of: Estimate, unit: string): readonly [Estimate, string] => {
  const large = of.best >= 10_000 ? LARGE.get(unit) : undefined;
  if (large) return [times(of, 0.001), large];
  return unit === 'g' && isTiny(of) ? [times(of, 1000), 'mg'] : [of, unit];
};

const isTiny = ({ best, high }: Estimate): boolean => best > 0 && high < 0.05;

/** `95..160 g`; `52 g` where the bounds are close. Two digits: none of these is known better. */
export const rangeWords = (of: Estimate, inUnit: string): string => {
  const [{ low, best, high }, unit] = handy(of, inUnit);
  const [least, most] = [figure(low), figure(high)];
  const isOne = high - low <= NARROW * Math.abs(best) || least === most;
  return isOne ? `${figure(best)} ${unit}` : `${least}..${most} ${unit}`;
};

/** `52 g`: the best value alone. */
export const bestWords = (of: Estimate, inUnit: string): string => {
  const [{ best }, unit] = handy(of, inUnit);
  return `${figure(best)} ${unit}`;
};

/** `52 g (52..210)`; without bounds where these are close. */
export const estimateWords = (of: Estimate, unit: string): string => {
  const range = rangeWords(of, unit);
  return range.includes('..') ? `${bestWords(of, unit)} (${range.slice(0, range.indexOf(' '))})` : range;
};

/** A term of a sum, to three digits: what is worked with by hand wants one more than what it comes to. */
export const termWords = (value: number, unit: string): string => `${showDigits(decimal(value), 3)} ${unit}`.trim();

/** `61 %`, `61..74 %`, of a share 0 to 1. */
export const percentWords = ({ low, best, high }: Estimate): string => {
  const [least, most] = [Math.round(100 * low), Math.round(100 * high)];
  return least === most || high - low < 0.01 ? `${Math.round(100 * best)} %` : `${least}..${most} %`;
};

/** What a plan would have written: a guess, to two digits. Three where the first is a 1. */
export const guessWords = (of: Estimate, inUnit: string): string => {
  const [{ best }, unit] = handy(of, inUnit);
  const digits = `${best.toExponential(1)}`.startsWith('1') ? 3 : 2;
  return `~${showDigits(decimal(best), best >= 1000 ? 3 : digits)} ${unit}`;
};

/** Of what was weighed: as many digits as its bounds leave, to a hundredth at best; `49.1..50.4 g`, `49.02 g`. */
export const preciseWords = ({ low, best, high }: Estimate, unit: string): string => {
  if (high === low) return `${showDigits(decimal(best), 4)} ${unit}`;
  const spread = high - low;
  const digits = (value: number): number => Math.max(2, Math.ceil(Math.log10(Math.max(value, 1e-9) / spread)) + 2);
  const [least, most] = [low, high].map((value) => showDigits(decimal(value), Math.min(5, digits(value))));
  return least === most ? `${most} ${unit}` : `${least}..${most} ${unit}`;
};

/** Letters, figures and the marks that may stand between them: what a page takes for a name without quotes. */
export const PLAIN_NAME = /^[\p{L}\p{N}._-]+$/u;

/** A name of the shop as a page has it. */
export const nameWritten = (name: string): string => (PLAIN_NAME.test(name) ? name : `"${name}"`);

/** `cement-3, cement-4 or cement-5`. */
export const orWords = (names: readonly string[]): string =>
  names.length <= 1 ? (names[0] ?? '') : `${names.slice(0, -1).join(', ')} or ${names.at(-1)}`;

/** The sentences, the sum line by line, what it rests on, what to do. */
export const workingMarkdown = ({ says, rows = [], assumed, todo }: Working): string =>
  paragraphs(
    escapeMarkdown(says),
    rows.length > 0 ? fenced(rows) : undefined,
    brokenLines(assumed.map((one) => escapeMarkdown(assumptionWords(one)))),
    todo === undefined ? undefined : escapeMarkdown(todo),
  );

/** `Taken: fused borax dissolves about its own weight of FeO (Beringer & Beringer 1904).` */
export const assumptionWords = ({ says, source }: Assumption): string => `Taken: ${says} (${source}).`;
