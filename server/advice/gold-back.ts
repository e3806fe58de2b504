/** Gold thrown down out of its solution: with copperas, metabisulphite or oxalic acid, how much of it, and what comes down. */
import { goldBack } from '../engine/bench/aqua-regia';
import { exactly } from '../engine/bench/result';
import type { Flow } from '../engine/entry';
import { findMaterial } from '../engine/shelf';
import type { Choice, Topic, Working, Writing, Wrong } from './advice';
import { type Job, perJob } from './job';
import { type Dissolved, dissolvedMetal } from './silver-back';
import { bestWords, estimateWords, guessWords, rangeWords } from './words';

const TOPIC = 'gold back';

export const goldDropped: Topic = (job) => {
  const means = goldMeans(job);
  const gold = goldToDrop(job);
  // Of what was done only what is amiss is worth a word.
  if (!gold || (!job.planned && means?.grams === undefined)) return [];
  const ways = goldBack(gold.grams);
  const way = ways.value.find(({ what }) => what === (means?.by ?? FIRST))!;
  const at = means?.flow.place ?? job.entry.head;
  const working = (): Working => ({
    says: `The solution holds ${rangeWords(gold.grams, 'g')} of gold: ${ways.value.map(({ what, grams }) => `${rangeWords(grams, 'g')} of ${what}`).join(', or ')} brings it down.`,
    rows: [
      `solution          ${bestWords(exactly(gold.millilitres), 'mL')}`,
      `gold in it        ${estimateWords(gold.grams, 'g')}`,
      ...ways.value.map(
        ({ what, grams }) =>
          `${what.padEnd(17)} gold × ${(grams.best / gold.grams.best / BEST_OVER).toFixed(3)} × 1..1.5 = ${estimateWords(grams, 'g')}`,
      ),
    ],
    assumed: ways.assumed,
    todo: 'Nitric acid that is left takes of it first: let it go before. Metabisulphite gives off choking sulphur dioxide: under a hood. Test the clear liquid for gold before it is poured away, and never bring ammonia to it.',
  });
  const same = { topic: TOPIC, at, working } as const;
  const wrong = means ? shortOf(means, gold) : [];
  if (!job.planned) return wrong.length > 0 ? [{ ...same, rank: 'doubt', wrong }] : [];
  const range = `${way.what} ${rangeWords(way.grams, 'g')}`;
  const amount = guessWords(way.grams, 'g');
  const choices = ways.value.flatMap(({ what }): Choice[] =>
    what === FIRST ? [] : [{ title: `Bring it down with ${what}`, line: `add ${what} ?` }],
  );
  if (!means)
    return [{ ...same, rank: 'result', writes: [{ part: 'add', line: `add ${way.what} ${amount}`, range }], choices }];
  if (means.grams === undefined) return [{ ...same, rank: 'result', writes: [{ flow: means.flow, amount, range }] }];
  const label = `${means.by} wanted ${rangeWords(way.grams, 'g')}`;
  return [{ ...same, label, rank: 'extra', writes: productsOf(job, gold), wrong }];
};

/** Written in where nothing is named. */
const FIRST = 'copperas';
/** The best value is so much over the equation. */
const BEST_OVER = 1.2;

interface Means {
  readonly by: string;
  readonly flow: Flow;
  /** None where no amount is written. */
  readonly grams: number | undefined;
}

const BY: ReadonlyMap<string, string> = new Map([
  ['FeSO4·7H2O', 'copperas'],
  ['Na2S2O5', 'metabisulphite'],
  ['H2C2O4·2H2O', 'oxalic-acid'],
]);

/** What throws gold down, as far as it is written. */
export const goldMeans = ({ step, entry, workspace }: Job): Means | undefined => {
  if (entry.verb !== 'drop') return undefined;
  for (const { flow, mass } of step?.added ?? []) {
    const made = flow.material && findMaterial(workspace.workshop, flow.material.name)?.composition[0]?.what;
    const by = made === undefined ? undefined : BY.get(made);
    if (by) return { by, flow, grams: mass?.value.toNumber() };
  }
  return undefined;
};

/** Gold of the solutions, where something for it is written, or it is more than the silver beside it and nothing is written for that. */
export const goldToDrop = perJob((job: Job): Dissolved | undefined => {
  if (job.entry.verb !== 'drop') return undefined;
  const gold = dissolvedMetal(job, 'Au');
  if (!gold || !(gold.grams.best > 0)) return undefined;
  if (goldMeans(job)) return gold;
  if ((job.step?.added.length ?? 0) > 0) return undefined;
  const silver = dissolvedMetal(job, 'Ag');
  return !silver || silver.grams.best < gold.grams.best ? gold : undefined;
});

/** Less than the equation wants for the least gold that there can be. */
const shortOf = ({ by, flow, grams }: Means, { grams: gold }: Dissolved): readonly Wrong[] => {
  const perGram = goldBack(exactly(1)).value.find(({ what }) => what === by)!.grams.low;
  if (grams === undefined || grams >= perGram * gold.low) return [];
  const wanted = goldBack(gold).value.find(({ what }) => what === by)!.grams;
  return [
    {
      code: 'precipitant-short',
      place: flow.amount?.place ?? flow.place,
      says: `${bestWords(exactly(grams), 'g')} of ${by} brings down ${bestWords(exactly(grams / perGram), 'g')} of gold at most, and the solution holds ${rangeWords(gold, 'g')}: add ${by} to ${rangeWords(wanted, 'g')}, and test the clear liquid for gold.`,
    },
  ];
};

/** Gold, dry, and the solution that is left. */
const productsOf = (job: Job, { grams, millilitres }: Dissolved): readonly Writing[] => {
  const outs = job.entry.flows.filter(({ word, none }) => word === 'out' && !none);
  const solution = outs.find(({ kind }) => kind === 'solution');
  const solid = outs.find((flow) => flow !== solution);
  const put = (line: Flow | undefined, words: string, amount: string, range: string): readonly Writing[] => {
    if (line?.amount?.figure) return [];
    return [line ? { flow: line, amount, range } : { part: 'out', line: `out ${amount} ${words}`, range }];
  };
  const volume = guessWords(exactly(millilitres), 'mL');
  return [
    ...put(solid, 'sponge dry', guessWords(grams, 'g'), `gold ${rangeWords(grams, 'g')}`),
    ...put(solution, 'solution', volume, `solution ${volume}`),
  ];
};
