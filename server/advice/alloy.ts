/** Alloying up or down to a target: what to add of which metal, or why that cannot be. */
import { additionFor, type Fractions, toComposition, twoAdditions } from '../engine/bench/alloy';
import { assume, type Estimate, exactly } from '../engine/bench/result';
import type { Target } from '../engine/target';
import type { Advice, Topic, Writing } from './advice';
import {
  type Addition,
  ALLOY_TOPIC,
  additionRows,
  amountWords,
  assumptionsOf,
  type Choice,
  type Given,
  isWide,
  meltRows,
  shareIn,
  toChoose,
} from './alloy-words';
import type { Job } from './job';
import {
  entryTarget,
  isWhole,
  type Melt,
  makeOf,
  meltOf,
  nameOf,
  openAdditions,
  shareFigure,
  type Wanted,
  wantedOf,
  wantedWords,
} from './target';
import { guessWords, rangeWords } from './words';

export const alloy: Topic = (job) => {
  const target = job.planned ? entryTarget(job) : undefined;
  const wanted = target ? wantedOf(target) : [];
  if (!target || wanted.length === 0) return [];
  const melt = meltOf(job, wanted);
  if (!melt || !(melt.grams.best > 0)) return [];
  const found = additions(job, melt, wanted);
  if (found === undefined) return [];
  if (found === NOT_KNOWN) return [notKnown(target, melt, wanted)];
  if (typeof found === 'object' && 'anyOf' in found) return [toChoose(target, melt, wanted, found)];
  return [
    typeof found === 'string' ? outOfReach(target, melt, wanted, found) : toAdd(job, target, melt, wanted, found),
  ];
};

const NOT_KNOWN = Symbol('not known');

/** What to add; why it cannot be, as a sentence; undefined where there is nothing to work out. */
const additions = (
  job: Job,
  melt: Melt,
  wanted: readonly Wanted[],
): readonly Addition[] | Choice | string | typeof NOT_KNOWN | undefined => {
  const open = openAdditions(job);
  const isWritten = job.entry.flows.some(({ word, amount }) => word === 'add' && amount?.guessed === true);
  if (open.length === 0 && (isWritten || isMet(melt, wanted))) return undefined;
  if (wanted.some(({ symbol }) => !melt.metals.has(symbol))) return NOT_KNOWN;
  const isPure = open.every(({ make }) => make.size === 1 && wanted.some(({ symbol }) => make.has(symbol)));
  if (isWhole(wanted) && isPure)
    return fineMetals(
      job,
      melt,
      wanted,
      open.map(({ make }) => [...make.keys()][0]!),
    );
  const together = open.length > 1 && wanted.length < 2 ? choiceOf(melt, wanted, open) : undefined;
  if (together) return together;
  if (open.length > 2 || (open.length === 2 && wanted.length < 2))
    return `The target does not say how much of each to add. Name all its metals, such as \`expect Au 750 fine, Ag 125 fine, Cu 125 fine\`.`;
  if (open.length === 2) return twoOpen(melt, wanted, open as unknown as readonly [Given, Given]);
  return oneOpen(job, melt, wanted, open[0] ?? shelfMetal(job, melt, wanted));
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

/** Gold is brought down with these; silver with copper. */
const downWith = (job: Job, symbol: string): readonly Given[] =>
  (symbol === 'Au' ? ['silver', 'copper'] : symbol === 'Ag' ? ['copper'] : []).flatMap((name) => {
    const make = makeOf(job, name);
    return make ? [{ name, make }] : [];
  });

const oneOpen = (
  job: Job,
  melt: Melt,
  wanted: readonly Wanted[],
  given: Given | undefined,
): readonly Addition[] | Choice | string => {
  const [{ symbol, share }] = wanted as readonly [Wanted];
  const has = shareIn(melt, symbol);
  const holds = `What goes in holds ${shareFigure(has.best)} ${nameOf(symbol)}, the target is ${shareFigure(share.best)}`;
  const choice = given || wanted.length > 1 ? undefined : choiceOf(melt, wanted, downWith(job, symbol));
  if (choice) return choice;
  if (!given) return `${holds}: to come down, say with which metal: \`add copper ?\`, \`add silver ?\`.`;
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

const notKnown = (target: Target, melt: Melt, wanted: readonly Wanted[]): Advice => {
  const unknown = wanted.filter(({ symbol }) => !melt.metals.has(symbol)).map(({ symbol }) => symbol);
  return {
    topic: ALLOY_TOPIC,
    at: target.place,
    label: `${unknown.join(', ')} of what goes in not known`,
    rank: 'extra',
    working: () => ({
      says: `How much ${unknown.map(nameOf).join(' and ')} is in what goes in is not known, so what to add cannot be told.`,
      rows: meltRows(melt, wanted),
      assumed: assumptionsOf(melt, wanted),
      todo: `Assay it, or write \`expect ${unknown[0]} …\` where it came in.`,
    }),
  };
};

const outOfReach = (target: Target, melt: Melt, wanted: readonly Wanted[], says: string): Advice => ({
  topic: ALLOY_TOPIC,
  at: target.place,
  label: 'target out of reach',
  rank: 'doubt',
  working: () => ({ says, rows: meltRows(melt, wanted), assumed: assumptionsOf(melt, wanted) }),
  wrong: [{ code: 'target-out-of-reach', place: target.place, says }],
});

/** The target leaves open which metal brings it down. */
export const isLeftOpen = (job: Job): boolean =>
  alloy(job).some(({ writes, wrong }) => writes === undefined && wrong === undefined);

const toAdd = (job: Job, target: Target, melt: Melt, wanted: readonly Wanted[], found: readonly Addition[]): Advice => {
  const working: Advice['working'] = () => ({
    says: `For ${wantedWords(wanted)} add ${found.map(({ name, grams }) => `${amountWords(grams)} ${name}`).join(', ')}.`,
    rows: [...meltRows(melt, wanted), ...additionRows(melt, wanted, found)],
    assumed: [
      ...assumptionsOf(melt, wanted),
      assume('nothing is lost in the melt, and what is added is as its name says', 'balance of mass'),
    ],
    todo: 'Weigh what is added, stir, and assay the product before it is marked.',
  });
  const writes = found.map(({ name, grams }): Writing => {
    const flow = openAdditions(job).find((one) => one.name === name)?.flow;
    const range = `${name} ${amountWords(grams)}`;
    const amount = isWide(grams) ? guessWords(grams, 'g') : `~${amountWords(grams)}`;
    return flow ? { flow, amount, range } : { part: 'add', line: `add ${name} ${amount}`, range };
  });
  return { topic: ALLOY_TOPIC, at: target.place, rank: 'result', working, writes };
};
