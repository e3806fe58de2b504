/** Alloying up or down to a target: what to add of which metal, or why that cannot be. */
import { type Fractions, USUAL_SILVER_SOURCE } from '../engine/bench/alloy';
import { assume, exactly } from '../engine/bench/result';
import type { Target } from '../engine/target';
import type { Advice, Topic, Writing } from './advice';
import { additions, isKnownIn, NOT_KNOWN } from './alloy-additions';
import {
  type Addition,
  ALLOY_TOPIC,
  additionRows,
  amountWords,
  assumptionsOf,
  type Choice,
  choiceAssumed,
  choiceRows,
  isWide,
  meltRows,
  partRows,
  toChoose,
  usualRow,
} from './alloy-words';
import type { Job } from './job';
import { entryTarget, type Melt, meltOf, nameOf, openAdditions, type Wanted, wantedOf, wantedWords } from './target';
import { guessWords } from './words';

export const alloy: Topic = (job) => {
  const target = job.planned ? entryTarget(job) : undefined;
  const wanted = target ? closedBy(openAdditions(job), wantedOf(target)) : [];
  if (!target || wanted.length === 0) return [];
  const melt = meltOf(job, wanted);
  if (!melt || !(melt.grams.best > 0)) return [];
  const found = additions(job, melt, wanted);
  if (found === undefined) return [];
  if (found === NOT_KNOWN) return [notKnown(target, melt, wanted)];
  if (typeof found === 'object' && 'anyOf' in found) return [toChoose(target, melt, wanted, found)];
  if (typeof found === 'object' && 'of' in found) return [toAdd(job, target, melt, wanted, found.parts, found.of)];
  return [
    typeof found === 'string' ? outOfReach(target, melt, wanted, found) : toAdd(job, target, melt, wanted, found),
  ];
};

/** Where all metals but one of those to be added have their share in the target, that one is the rest of it. */
const closedBy = (open: readonly { readonly make: Fractions }[], wanted: readonly Wanted[]): readonly Wanted[] => {
  const pure = open.map(({ make }) => (make.size === 1 ? [...make.keys()][0] : undefined));
  const unnamed = pure.filter((symbol) => !wanted.some((one) => one.symbol === symbol));
  const rest = wanted.reduce((so, { share }) => so - share.best, 1);
  const [symbol] = unnamed;
  if (open.length < 3 || unnamed.length !== 1 || !symbol || !(rest > 0.002)) return wanted;
  return [...wanted, { symbol, share: exactly(rest) }];
};

const notKnown = (target: Target, melt: Melt, wanted: readonly Wanted[]): Advice => {
  const unknown = wanted.filter(({ symbol }) => !isKnownIn(melt, symbol)).map(({ symbol }) => symbol);
  const isRough = unknown.every((symbol) => melt.metals.has(symbol));
  const names = unknown.map(nameOf).join(' and ');
  const says = isRough
    ? `How much ${names} is in what goes in is known too roughly to alloy by`
    : `How much ${names} is in what goes in is not known`;
  return {
    topic: ALLOY_TOPIC,
    at: target.place,
    label: isRough
      ? `${unknown.join(', ')} known too roughly: assay it`
      : `${unknown.join(', ')} of what goes in not known`,
    rank: 'doubt',
    working: () => ({
      says: `${says}, so what to add cannot be told.`,
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

/** The plan does not come to its target yet, and it has been said why. */
export const isShortOfTarget = (job: Job): boolean => alloy(job).some(({ writes }) => writes === undefined);

const toAdd = (
  job: Job,
  target: Target,
  melt: Melt,
  wanted: readonly Wanted[],
  found: readonly Addition[],
  free?: Choice,
): Advice => {
  const words = found.map(({ name, grams }) => `${amountWords(grams)} ${name}`).join(', ');
  const isFree = free !== undefined && free.anyOf.length > 1;
  const inAll = isFree ? `: ${amountWords(free.grams)} in all, in whatever share` : '';
  const working: Advice['working'] = () => ({
    says: `For ${wantedWords(wanted)} add ${words}${inAll}.`,
    rows: free
      ? [...choiceRows(melt, wanted, free), ...(isFree ? usualRow(melt, wanted, found) : []), ...partRows(melt, found)]
      : [...meltRows(melt, wanted), ...additionRows(melt, wanted, found)],
    assumed: [
      ...assumptionsOf(melt, wanted),
      ...(isFree ? [assume('silver and copper as in the usual carat alloys', USUAL_SILVER_SOURCE)] : []),
      ...(free ? choiceAssumed(wanted) : []),
      assume('nothing is lost in the melt, and what is added is as its name says', 'balance of mass'),
    ],
    todo: `${isFree ? 'Name other metals if you want another colour. ' : ''}Weigh what is added, stir, and assay the product before it is marked.`,
  });
  const open = openAdditions(job);
  const writes = found.map(({ name, grams }): Writing => {
    const flow = open.find((one) => one.name === name)?.flow;
    const range = `${name} ${amountWords(grams)}`;
    const amount = isWide(grams) ? guessWords(grams, 'g') : `~${amountWords(grams)}`;
    return flow ? { flow, amount, range } : { part: 'add', line: `add ${name} ${amount}`, range };
  });
  // A metal that was named and is not wanted is written so, or it would be asked again.
  for (const { flow, name } of free ? open : [])
    if (!found.some((one) => one.name === name)) writes.push({ flow, amount: '0 g', range: `no ${name}` });
  return { topic: ALLOY_TOPIC, at: target.place, rank: 'result', working, writes };
};
