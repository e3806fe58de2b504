/** A question as a page: entries apart by `;` or by lines, those that could be planned as plans; a question in a few words in those of the journal. */
import { findMaterial } from '../engine/shelf';
import type { Workshop } from '../engine/workshop';
import { unit } from '../quantity/units';
import { DETAILS, detail, remark } from '../vocabulary/details';
import { ELEMENTS } from '../vocabulary/elements';
import { MATERIALS } from '../vocabulary/materials';
import { verb } from '../vocabulary/verbs';
import { KIND_WORDS } from '../vocabulary/words';

export interface Asked {
  /** The page. */
  readonly text: string;
  /** Entries that the question did not write so, in the words of the journal. */
  readonly meant: readonly string[];
}

/** `isLot`: whether the journal beside has a lot of that name. */
export const askedOf = (text: string, day: string, workshop: Workshop, isLot: (name: string) => boolean): Asked => {
  const entries = text
    .split(/;|\n(?=\S)/)
    .map((entry) => entry.trim())
    .filter((entry) => entry !== '')
    .reduce(together, [])
    .map((entry, index) => inFewWords(entry, index, workshop, isLot) ?? { entries: [asPlan(entry, index)], meant: [] });
  return {
    text: `${[day, ...entries.flatMap((one) => one.entries)].join('\n\n')}\n`,
    meant: entries.flatMap(({ meant }) => meant),
  };
};

/** `; expect Cu 8 %` is a line of what stands before it: no entry begins with a detail. */
const together = (entries: readonly string[], next: string): string[] => {
  const [word = ''] = /^[a-z-]+/.exec(next) ?? [];
  const isLine = entries.length > 0 && !verb(word) && (detail(word) ?? remark(word)) !== undefined;
  return isLine ? [...entries.slice(0, -1), `${entries.at(-1)}\n  ${next}`] : [...entries, next];
};

/** Of a question no name is asked: one is put where it is missing. */
const asPlan = (entry: string, index: number): string => {
  if (/^(receive|assay|weigh)\b/.test(entry)) return entry;
  const rest = entry.replace(/^plan\s+/, '');
  const [word = ''] = /^[a-z-]+/.exec(rest) ?? [];
  const behind = rest.slice(word.length);
  const isNameless = word !== '' && /^(?:[,\n]|$)/.test(behind.replace(/^[^\S\n]+/, ''));
  const named = isNameless ? `${word} asked-${index + 1}${behind}` : rest;
  return `plan ${named.replace(/,\s*([a-z-]+)\b/g, (all, one: string) => (HAS_LINE.has(one) ? `\n  ${one}` : all))}`;
};

/** A detail that may have figures gets a line of its own. */
const HAS_LINE: ReadonlySet<string> = new Set(
  DETAILS.filter(({ group }) => group === 'flows' || group === 'gear').map(({ word }) => word),
);

/** Words of the bench for what the journal has another for. */
const ALSO: ReadonlyMap<string, string> = new Map([
  ['smelt', 'melt'],
  ['alloy', 'cast'],
  ['inquart', 'melt'],
]);

/** `cupel 61 g button with 8 % Cu`, `melt 200 g of black sand`, `cast 50 g 22 k to 18 k`. */
const FEW = /^(?:plan\s+)?([a-z]+)\s+(?:in\s+)?(~?\d[\d.]*)\s*([a-zA-Z]+)\b\s*(?:of\s+|an?\s+)?(.*)$/s;
const HOLDS = /\b(?:with|at|holding|that holds)\b|,/;

/** The same in entries; none for a question in other words. */
const inFewWords = (
  entry: string,
  index: number,
  workshop: Workshop,
  isLot: (name: string) => boolean,
): { readonly entries: readonly string[]; readonly meant: readonly string[] } | undefined => {
  const [, first = '', figure, symbol = '', tail = ''] = FEW.exec(entry) ?? [];
  const word = ALSO.get(first) ?? first;
  if (verb(word)?.flows !== true || unit(symbol)?.kind !== 'mass') return undefined;
  const [before, target] = tail.split(/\bto\b/).map((part) => part.trim());
  const parts = (before ?? '').split(HOLDS).map((part) => part.trim());
  const readings = parts.map(readingsIn);
  const names = parts.map((part, at) => (readings[at] === undefined ? part : '')).filter((part) => part !== '');
  const [name = ''] = names.length === 1 ? names : [];
  const isOfLot = isLot(name) && readings.every((one) => one === undefined);
  // What nobody knows is told as a material that is not known, rather than that nothing went in.
  const material = isKind(name) || isOfLot ? undefined : (materialOf(name, workshop) ?? unknownIn(name));
  const wanted = target === undefined ? undefined : readingsIn(target);
  const isRead = names.length === 0 || isOfLot || isKind(name) || material;
  if (!isRead || (target !== undefined && !wanted)) return undefined;
  const lot = `asked-${index + 1}`;
  const held = readings.flatMap((one) => one ?? []).join(', ');
  const received = [
    `receive ${lot} ${figure} ${symbol}`,
    ...(material ? [`  material ${material}`] : []),
    ...(material && held !== '' ? [`  expect ${held}`] : []),
  ].join('\n');
  // What is asked of metal is to be taken as it is said: an expectation would be a guess.
  const assayed = !material && held !== '' ? [`assay ${lot} by fire\n  ${held}`] : [];
  const lines = [
    ...(first === 'inquart' ? ['  add silver ?'] : []),
    ...(wanted ? [`  out ${lot}b, expect ${wanted.join(', ')}`] : []),
  ];
  const planned = [
    `plan ${word} step-${index + 1}`,
    isOfLot ? `  in ${figure} ${symbol} of ${name}` : `  in ${lot}`,
    ...lines,
  ].join('\n');
  const asOne = (text: string): string => text.replace(/\n\s*/g, ', ');
  const entries = isOfLot ? [planned] : [received, ...assayed, planned];
  return { entries, meant: entries.map(asOne) };
};

const isKind = (words: string): boolean => KIND_WORDS.has(words);

/** A name of one word or two; more of them say something else. */
const unknownIn = (words: string): string | undefined =>
  /^\p{L}[\p{L}\d-]*(?: \p{L}[\p{L}-]*)?$/u.test(words) ? words.replace(' ', '-') : undefined;

/** `black sand`, as the shelf has it. */
const materialOf = (words: string, workshop: Workshop): string | undefined =>
  [words, words.replace(/\s+/g, '-')].find((name) => findMaterial(workshop, name)) ??
  MATERIALS.find(({ name }) => name === words.toLowerCase().replace(/\s+/g, '-'))?.name;

const SYMBOLS: ReadonlyMap<string, string> = new Map(
  ELEMENTS.flatMap(({ symbol, name }) => [
    [symbol.toLowerCase(), symbol],
    [name, symbol],
  ]),
);
/** A range is a figure too: `22..30`. */
const BEHIND_METAL = /^([A-Za-z]+)\s+(~?\d[\d.]*)\s*(%|‰|ppm|fine|karat|carat|kt?)$/;
const BEFORE_METAL = /^(~?\d[\d.]*)\s*(%|‰|ppm|fine|karat|carat|kt?)((?:[^a-z].*)?)$/;

/** `8 % Cu and 90 % silver`, `Au 750 fine`, `18 k`; undefined where there is anything else. */
const readingsIn = (text: string): readonly string[] | undefined => {
  const parts = text.split(/,|\band\b|\+/).map((part) => part.trim());
  const read = parts
    .filter((part) => part !== '')
    .map((part) => {
      const [, before, ...behindMetal] = BEHIND_METAL.exec(part) ?? [];
      const [one, ofOne, rest = ''] = BEFORE_METAL.exec(part)?.slice(1) ?? [];
      const behind = rest.trim().replace(/^of\s/, '').trim() || undefined;
      const [figure, of] = before === undefined ? [one, ofOne] : behindMetal;
      const metal = before ?? behind ?? (of && !/[%‰m]/.test(of) ? 'gold' : undefined);
      const symbol = metal && SYMBOLS.get(metal.toLowerCase());
      return figure && of && symbol ? `${symbol} ${figure} ${/^(?:karat|carat|kt)$/.test(of) ? 'k' : of}` : undefined;
    });
  return read.length > 0 && read.every((one) => one !== undefined) ? (read as string[]) : undefined;
};
