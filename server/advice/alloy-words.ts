/** Alloying in words: what goes in, what is wanted, what is added, line by line. */
import { type Fractions, usualSilver } from '../engine/bench/alloy';
import { type Assumption, assume, COMMON_PRACTICE, type Estimate } from '../engine/bench/result';
import type { Target } from '../engine/target';
import { decimal } from '../quantity/decimal';
import { showDigits } from '../quantity/show';
import { fitting } from '../reports/figures';
import type { Advice } from './advice';
import { type Melt, markAssumption, shareFigure, type Wanted, wantedWords } from './target';
import { estimateWords, rangeWords } from './words';

export const ALLOY_TOPIC = 'alloy';

export interface Given {
  readonly name: string;
  readonly make: Fractions;
}

/** Something to add, by the name that the shelf has for it. */
export interface Addition {
  readonly name: string;
  readonly make: Fractions;
  readonly grams: Estimate;
}

/** So much in all, of whichever of these metals. */
export interface Choice {
  readonly anyOf: readonly string[];
  readonly grams: Estimate;
}

export const shareIn = ({ grams, metals }: Melt, symbol: string): Estimate => {
  const { low, best, high } = metals.get(symbol)!;
  return { low: low / grams.best, best: best / grams.best, high: high / grams.best };
};

/** As many digits as the assays bear: four where what goes in is well known. */
export const amountWords = (grams: Estimate): string => {
  if (isWide(grams)) return rangeWords(grams, 'g');
  return grams.best < 1e-6 ? '0 g' : `${showDigits(decimal(grams.best), 4)} g`;
};

/** The result of a sum that can be followed by hand: its best value, and behind it how far it is known. */
const sumWords = (grams: Estimate): string => (isWide(grams) ? estimateWords(grams, 'g') : amountWords(grams));

export const isWide = ({ low, best, high }: Estimate): boolean => high - low > 0.04 * best;

export const meltRows = (melt: Melt, wanted: readonly Wanted[]): readonly string[] => [
  `goes in           ${showDigits(decimal(melt.grams.best), 5)} g`,
  ...wanted.flatMap(({ symbol, share }) => {
    const metal = melt.metals.get(symbol);
    const has = metal ? `${estimateWords(metal, 'g')}, ${shareFigure(metal.best / melt.grams.best)}` : 'not known';
    return [`  ${symbol.padEnd(16)}${has}; wanted ${shareFigure(share.best)}`];
  }),
];

export const additionRows = (melt: Melt, wanted: readonly Wanted[], found: readonly Addition[]): readonly string[] => {
  const { symbol, share } = wanted[0]!;
  const [only, ...others] = found;
  const gives = only?.make.get(symbol) ?? 0;
  const formula =
    only && others.length === 0
      ? [
          `${only.name} = ${showDigits(decimal(melt.grams.best), 4)} g × (${share.best.toFixed(4)} − ${shareIn(melt, symbol).best.toFixed(4)})/(${gives.toFixed(4)} − ${share.best.toFixed(4)})`,
        ]
      : ['each metal = wanted share × weight after − what is there; the metal there is most of is not added'];
  return [...formula, ...afterRow(melt, wanted, found), ...partRows(melt, found, wanted)];
};

/** `weight after      99.99 g Au / 0.9167 = 109.1 g`: by a metal that is not added. */
const afterRow = (melt: Melt, wanted: readonly Wanted[], found: readonly Addition[]): readonly string[] => {
  const fixed = wanted.find(({ symbol }) => !found.some(({ make }) => (make.get(symbol) ?? 0) > 0));
  if (!fixed || found.length < 2) return [];
  const after = weightAfter(melt, found);
  const { symbol, share } = fixed;
  return [
    `weight after      ${figureWords(share.best * after)} ${symbol} / ${share.best.toFixed(4)} = ${figureWords(after)}`,
  ];
};

const weightAfter = (melt: Melt, found: readonly Addition[]): number =>
  found.reduce((so, { grams }) => so + grams.best, melt.grams.best);

const figureWords = (grams: number): string => `${showDigits(decimal(grams), 4)} g`;

/** `0.0500 × 109.1 g − 0 g = `, of a fine metal whose share is wanted. */
const byShare = (melt: Melt, after: number, { make }: Addition, wanted: readonly Wanted[]): string => {
  const [symbol, ...others] = make.keys();
  const share = wanted.find((one) => one.symbol === symbol)?.share.best;
  const has = melt.metals.get(symbol ?? '')?.best;
  if (others.length > 0 || share === undefined || has === undefined) return '';
  return `${share.toFixed(4)} × ${figureWords(after)} − ${figureWords(has)} = `;
};

/** Each part, and what the whole then weighs. */
export const partRows = (melt: Melt, found: readonly Addition[], wanted: readonly Wanted[] = []): readonly string[] => {
  const total = weightAfter(melt, found);
  const how = (one: Addition): string => (found.length > 1 ? byShare(melt, total, one, wanted) : '');
  return [
    ...found.map((one) => `${one.name.padEnd(17)} ${how(one)}${sumWords(one.grams)}`),
    `comes to          ${figureWords(total)}`,
  ];
};

/** `usual silver      0.1250 × 61.11 g − 2.000 g there = 5.639 g`, the rest copper. */
export const usualRow = (melt: Melt, wanted: readonly Wanted[], found: readonly Addition[]): readonly string[] => {
  const silver = found.find(({ name }) => name === 'silver');
  const has = melt.metals.get('Ag')?.best;
  if (!silver || found.length < 2 || has === undefined) return [];
  const after = weightAfter(melt, found);
  const usual = usualSilver(wanted[0]!.share.best);
  return [`usual silver      ${usual.toFixed(4)} × ${figureWords(after)} − ${figureWords(has)} there`];
};

export const assumptionsOf = (melt: Melt, wanted: readonly Wanted[]): readonly Assumption[] => [
  ...melt.assumed,
  ...wanted.flatMap(markAssumption),
];

const DOWN = 'more copper makes it redder and harder, more silver paler';

/** So much in all, of whichever of these metals: as it was reckoned. */
export const choiceRows = (melt: Melt, wanted: readonly Wanted[], { grams }: Choice): readonly string[] => {
  const [{ symbol, share }] = wanted as readonly [Wanted];
  return [
    ...meltRows(melt, wanted),
    `to add            ${showDigits(decimal(melt.grams.best), 4)} g × (${shareIn(melt, symbol).best.toFixed(4)} − ${share.best.toFixed(4)})/${share.best.toFixed(4)}`,
    `                  = ${sumWords(grams)}`,
  ];
};

export const choiceAssumed = (wanted: readonly Wanted[]): readonly Assumption[] =>
  wanted[0]?.symbol === 'Au' ? [assume(DOWN, COMMON_PRACTICE)] : [];

export const toChoose = (target: Target, melt: Melt, wanted: readonly Wanted[], choice: Choice): Advice => {
  const { anyOf, grams } = choice;
  const amount = amountWords(grams);
  const metals = togetherWords(anyOf);
  return {
    topic: ALLOY_TOPIC,
    at: target.place,
    label: fitting(`${amount} ${metals}`, `${amount} of other metal`),
    rank: 'doubt',
    working: () => ({
      says: `For ${wantedWords(wanted)} add ${amount} of ${metals}, in whatever share.`,
      rows: [...choiceRows(melt, wanted, choice), ...anyOf.map((name) => `  ${name.padEnd(16)}from none to all of it`)],
      assumed: [
        ...assumptionsOf(melt, wanted),
        ...choiceAssumed(wanted),
        assume('nothing is lost in the melt, and what is added is as its name says', 'balance of mass'),
      ],
      todo: `Name the metals with their amounts, or all of the alloy in the target, such as \`expect Au 750 fine, Ag 125 fine, Cu 125 fine\`.`,
    }),
  };
};

/** `silver and copper together`. */
export const togetherWords = (names: readonly string[]): string =>
  names.length > 1 ? `${names.slice(0, -1).join(', ')} and ${names.at(-1)} together` : names[0]!;
