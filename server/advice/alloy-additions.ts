/** What to add to come to a target: of metals that the plan leaves open, of the shelf's fine metals, or why it cannot be. */
import { additionFor, type Fractions, toComposition, twoAdditions, usualSilver } from '../engine/bench/alloy';
import { type Estimate, exactly, times } from '../engine/bench/result';
import { type Addition, type Choice, type Given, shareIn } from './alloy-words';
import type { Job } from './job';
import { isWhole, type Melt, makeOf, nameOf, openAdditions, shareFigure, type Wanted, wantedWords } from './target';
import { rangeWords } from './words';

/** A metal of the target that is not known of what goes in. */
export const NOT_KNOWN = Symbol('not known');

/** What is free to share, shared as usual. */
export interface Shared {
  readonly of: Choice;
  readonly parts: readonly Addition[];
}

/** Additions with their weights; a weight in all; or why it cannot be, as a sentence. */
type Found = readonly Addition[] | Choice | Shared | string;

/** What to add; why it cannot be, as a sentence; undefined where there is nothing to work out. */
export const additions = (job: Job, melt: Melt, wanted: readonly Wanted[]): Found | typeof NOT_KNOWN | undefined => {
  const open = openAdditions(job);
  const isWritten = job.entry.flows.some(
    ({ word, amount, material, part }) =>
      amount?.guessed === true &&
      // So much of a lot was worked out for the target.
      ((word === 'in' && part) ||
        (word === 'add' && material !== undefined && makeOf(job, material.name) !== undefined)),
  );
  if (open.length === 0 && (isWritten || isMet(melt, wanted))) return undefined;
  if (wanted.some(({ symbol }) => !isKnownIn(melt, symbol))) return NOT_KNOWN;
  const isPure = open.every(({ make }) => make.size === 1 && wanted.some(({ symbol }) => make.has(symbol)));
  if (isWhole(wanted) && isPure)
    return fineMetals(
      job,
      melt,
      wanted,
      open.map(({ make }) => [...make.keys()][0]!),
    );
  const together = open.length > 1 && wanted.length < 2 ? choiceOf(melt, wanted, open) : undefined;
  if (together) return shared(job, melt, wanted, together);
  if (open.length > 2 || (open.length === 2 && wanted.length < 2))
    return `The target does not say how much of each to add. Name all its metals, such as \`expect Au 750 fine, Ag 125 fine, Cu 125 fine\`.`;
  const pair = open.length === 0 && wanted.length === 2 ? leastPair(job, melt, wanted) : undefined;
  if (pair) return pair;
  if (open.length === 2) return twoOpen(melt, wanted, open as unknown as readonly [Given, Given]);
  return oneOpen(job, melt, wanted, open[0] ?? shelfMetal(job, melt, wanted));
};

/** A share that may be anywhere in more than this of the whole, as the usual make of scrap, is nothing to alloy by. A guess. */
const LOOSE = 0.25;

export const isKnownIn = ({ metals, grams }: Melt, symbol: string): boolean => {
  const metal = metals.get(symbol);
  return metal !== undefined && metal.high - metal.low <= LOOSE * grams.best;
};

/** Up in gold with gold; down only with what is named. */
const shelfMetal = (job: Job, melt: Melt, wanted: readonly Wanted[]): Given | undefined => {
  const { symbol, share } = wanted[0]!;
  const name = nameOf(symbol);
  const make = shareIn(melt, symbol).best < share.best ? makeOf(job, name) : undefined;
  return make && { name, make };
};

/** Nearer than this a fineness is met: half a part in a thousand. */
const MET_WITHIN = 0.0005;

const isMet = (melt: Melt, wanted: readonly Wanted[]): boolean =>
  wanted.every(({ symbol, share: { low, high } }) => {
    const has = melt.metals.has(symbol) ? shareIn(melt, symbol).best : Number.NaN;
    return has >= low - MET_WITHIN && has <= high + MET_WITHIN;
  });

/** Metals that hold as much of the first one as each other are as good as each other for it: what they share is the writer's. */
const choiceOf = (melt: Melt, wanted: readonly Wanted[], of: readonly Given[]): Choice | undefined => {
  const [{ symbol, share }] = wanted as readonly [Wanted];
  const [gives, ...others] = of.map(({ make }) => make.get(symbol) ?? 0);
  if (gives === undefined || others.some((one) => one !== gives)) return undefined;
  const found = additionFor(melt.grams.best, shareIn(melt, symbol), share.best, gives);
  return found.value && { anyOf: of.map(({ name }) => name), grams: found.value.addGrams };
};

/** Silver and copper to bring gold down, as they stand in a usual alloy of its fineness; one metal whole; others are the writer's to share. */
const shared = (job: Job, melt: Melt, wanted: readonly Wanted[], of: Choice): Choice | Shared => {
  const [{ symbol, share }] = wanted as readonly [Wanted];
  const isUsual = symbol === 'Au' && of.anyOf.length === 2 && DOWN_IN_GOLD.every((name) => of.anyOf.includes(name));
  if (!isUsual && of.anyOf.length > 1) return of;
  const { best } = of.grams;
  const part = isUsual && best > 0 ? silverPart(melt, share.best, best) / best : 0;
  const parts = of.anyOf.flatMap((name): Addition[] => {
    const make = makeOf(job, name);
    const grams = times(of.grams, !isUsual ? 1 : name === 'silver' ? part : 1 - part);
    return make && grams.best > MET_WITHIN * best ? [{ name, make, grams }] : [];
  });
  return { of, parts };
};

/** Silver of so much added, g: to what is usual in the whole; by the usual share of the addition where that of the melt is not known. */
const silverPart = ({ grams, metals }: Melt, gold: number, added: number): number => {
  const has = metals.get('Ag')?.best;
  const usual = usualSilver(gold);
  const wanted = has === undefined ? (added * usual) / (1 - gold) : usual * (grams.best + added) - has;
  return Math.min(added, Math.max(0, wanted));
};

const DOWN_IN_GOLD: readonly string[] = ['silver', 'copper'];

/** Gold is brought down with these; silver with copper. */
const downWith = (job: Job, symbol: string): readonly Given[] =>
  (symbol === 'Au' ? DOWN_IN_GOLD : symbol === 'Ag' ? ['copper'] : []).flatMap((name) => {
    const make = makeOf(job, name);
    return make ? [{ name, make }] : [];
  });

const oneOpen = (job: Job, melt: Melt, wanted: readonly Wanted[], given: Given | undefined): Found => {
  const [{ symbol, share }] = wanted as readonly [Wanted];
  const has = shareIn(melt, symbol);
  const holds = `What goes in holds ${shareFigure(has.best)} ${nameOf(symbol)}, the target is ${shareFigure(share.best)}`;
  const choice = given || wanted.length > 1 ? undefined : choiceOf(melt, wanted, downWith(job, symbol));
  if (choice) return shared(job, melt, wanted, choice);
  if (!given)
    return wanted.length > 1
      ? `No two of gold, silver and copper bring it to ${wantedWords(wanted)}. Name what is to be added, or all metals of the target.`
      : `${holds}: to come down, say with which metal, such as \`add copper ?\`.`;
  const gives = given.make.get(symbol) ?? 0;
  const found = additionFor(melt.grams.best, has, share.best, gives);
  if (!found.value)
    return `${holds}, and ${given.name} holds ${shareFigure(gives)}: adding it leads away from the target. Add ${gives < share.best ? `${nameOf(symbol)}` : 'a metal that holds less of it'}.`;
  const grams = found.value.addGrams;
  const total = found.value.totalGrams.best;
  for (const { symbol: other, share: aim } of wanted.slice(1)) {
    const comes = (melt.metals.get(other)!.best + (given.make.get(other) ?? 0) * grams.best) / total;
    if (comes < aim.low - REACHED_WITHIN || comes > aim.high + REACHED_WITHIN)
      return `With ${given.name} alone ${shareFigure(share.best)} ${nameOf(symbol)} leaves ${shareFigure(comes)} ${nameOf(other)}, and the target is ${shareFigure(aim.best)}. Add another metal beside it.`;
  }
  return [{ ...given, grams }];
};

/** Of metals beside the first, a target is loosely meant: five parts in a thousand (common practice, no source). */
const REACHED_WITHIN = 0.005;

const twoOpen = (
  melt: Melt,
  wanted: readonly Wanted[],
  [one, other]: readonly [Given, Given],
): readonly Addition[] | string => {
  const has = new Map([...melt.metals].map(([symbol, { best }]) => [symbol, best]));
  const aims = wanted.slice(0, 2).map(({ symbol, share }): [string, number] => [symbol, share.best]);
  const found = twoAdditions(melt.grams.best, has, aims, [one.make, other.make]);
  if (!found.value) return `With ${one.name} and ${other.name} the target cannot be reached: ${found.reason}.`;
  return [
    { ...one, grams: exactly(found.value[0]) },
    { ...other, grams: exactly(found.value[1]) },
  ];
};

/** Of gold, silver and copper the two that bring both metals to the target with the least to add; one of them may be none. */
const leastPair = (job: Job, melt: Melt, wanted: readonly Wanted[]): readonly Addition[] | undefined => {
  const fine = FINE_METALS.flatMap((name) => {
    const make = makeOf(job, name);
    return make ? [{ name, make }] : [];
  });
  const all = fine.flatMap((one, at) =>
    fine.slice(at + 1).flatMap((other) => {
      const found = twoOpen(melt, wanted, [one, other]);
      return typeof found === 'string' ? [] : [found];
    }),
  );
  const weight = (of: readonly Addition[]): number => of.reduce((so, { grams }) => so + grams.best, 0);
  const [least] = all.sort((a, b) => weight(a) - weight(b));
  return least?.filter(({ grams }) => grams.best > MET_WITHIN * melt.grams.best);
};

const FINE_METALS: readonly string[] = ['gold', 'silver', 'copper'];

/** The least fine metal that brings all metals to the target; what is written with its weight stays as it is. */
const fineMetals = (
  job: Job,
  melt: Melt,
  wanted: readonly Wanted[],
  open: readonly string[],
): readonly Addition[] | string => {
  const to = new Map(wanted.map(({ symbol, share }) => [symbol, share.best]));
  const runs = (['best', 'low', 'high'] as const).map((side) =>
    toComposition(melt.grams.best, fractionsAt(melt, wanted, side), normal(to)),
  );
  const [best, ...others] = runs;
  if (!best?.value) return `The target cannot be reached: ${best?.reason}.`;
  const all = [...best.value.addGrams].map(([symbol, grams]) => {
    const ends = others.flatMap(({ value }) => value?.addGrams.get(symbol) ?? []);
    return { symbol, grams: { best: grams, low: Math.min(grams, ...ends), high: Math.max(grams, ...ends) } };
  });
  const more = all.filter(({ symbol, grams }) => open.includes(symbol) || grams.best > MET_WITHIN * melt.grams.best);
  const fixed = more.find(({ symbol }) => !open.includes(symbol) && isWeighed(job, symbol));
  if (fixed)
    return `With ${nameOf(fixed.symbol)} as written the target is not reached: ${rangeWords(fixed.grams, 'g')} more of it would be wanted. Leave its amount open with \`?\`.`;
  return more.flatMap(({ symbol, grams }) => {
    const make = makeOf(job, nameOf(symbol));
    return make ? [{ name: nameOf(symbol), make, grams }] : [];
  });
};

const isWeighed = (job: Job, symbol: string): boolean =>
  job.entry.flows.some(({ word, material }) => word === 'add' && material?.name === nameOf(symbol));

const normal = (fractions: Fractions): Fractions => {
  const whole = [...fractions.values()].reduce((so, one) => so + one, 0);
  return new Map([...fractions].map(([symbol, one]) => [symbol, one / whole]));
};

/** The first metal at an end of its bounds, the others taking up what that leaves. Traces of metals that the target does not name are left out. */
const fractionsAt = (melt: Melt, wanted: readonly Wanted[], side: keyof Estimate): Fractions => {
  const all = [...melt.metals].filter(
    ([symbol, { best }]) => isWanted(wanted, symbol) || best > TRACE * melt.grams.best,
  );
  const [first] = wanted;
  const at = melt.metals.get(first!.symbol)![side];
  const others = all.filter(([symbol]) => symbol !== first!.symbol);
  const left = others.reduce((so, [, { best }]) => so + best, 0);
  const room = Math.max(0, melt.grams.best - at);
  const scale = left > 0 ? room / left : 0;
  return normal(
    new Map([[first!.symbol, at], ...others.map(([symbol, { best }]): [string, number] => [symbol, best * scale])]),
  );
};

const TRACE = 0.002;

const isWanted = (wanted: readonly Wanted[], metal: string): boolean => wanted.some(({ symbol }) => symbol === metal);
