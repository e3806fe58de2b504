/** How much of a lot to take so that the melt comes to its target: `in ? g of B`. */
import { additionFor } from '../engine/bench/alloy';
import { type Assumption, assume, type Estimate, exactly, sumOf } from '../engine/bench/result';
import type { FlowWeight } from '../engine/book';
import type { Advice, Topic } from './advice';
import { amountWords, isWide } from './alloy-words';
import { addedMetals, contentsOf, type Job, knowledgeOf, perJob, toEstimate, together } from './job';
import { entryTarget, nameOf, openAdditions, shareFigure, wantedOf } from './target';
import { bestWords, estimateWords, guessWords } from './words';

export const partWanted: Topic = (job) => {
  const found = wantedPart(job);
  if (!found) return [];
  const { input, symbol, aim, has, gives, others, grams, left } = found;
  const { flow } = input;
  const lot = flow.lot!.name;
  const amount = isWide(grams) ? guessWords(grams, 'g') : `~${amountWords(grams)}`;
  const isTooLittle = left !== undefined && grams.best > left;
  const says = isTooLittle
    ? `For ${symbol} ${shareFigure(aim)} take ${amountWords(grams)} of ${lot}, and ${bestWords(exactly(left), 'g')} of it is left.`
    : `For ${symbol} ${shareFigure(aim)} take ${amountWords(grams)} of ${lot}.`;
  const working: Advice['working'] = () => ({
    says,
    rows: [
      `goes in besides   ${bestWords(exactly(others), 'g')}, ${nameOf(symbol)} ${shareFigure(has.best)}`,
      `${lot.padEnd(17)} ${nameOf(symbol)} ${shareFigure(gives)}`,
      `to take           ${bestWords(exactly(others), 'g')} × (${aim.toFixed(4)} − ${has.best.toFixed(4)})/(${gives.toFixed(4)} − ${aim.toFixed(4)})`,
      `                  = ${estimateWords(grams, 'g')}`,
    ],
    assumed: [...ASSUMED],
    todo: 'Weigh what is taken, stir, and assay the product before it is marked.',
  });
  const same = { topic: 'part wanted', at: flow.place, working } as const;
  if (isTooLittle) return [{ ...same, label: `${amountWords(grams)} wanted, too little left`, rank: 'doubt' }];
  return [{ ...same, rank: 'result', writes: [{ flow, amount, range: `${lot} ${amountWords(grams)}` }] }];
};

const ASSUMED: readonly Assumption[] = [
  assume('nothing is lost in the melt, and each lot is as it was assayed or said to be', 'balance of mass'),
];

interface PartWanted {
  readonly input: FlowWeight;
  readonly symbol: string;
  /** Shares of the metal, 0 to 1: aimed at, in what else goes in, in the lot. */
  readonly aim: number;
  readonly has: Estimate;
  readonly gives: number;
  /** What else goes in, g. */
  readonly others: number;
  readonly grams: Estimate;
  /** Of the lot, g; undefined where it is not weighed. */
  readonly left: number | undefined;
}

/** Of a plan with a target whose one unknown is how much is taken of one lot; by the metal that the target names first. */
export const wantedPart = perJob((job: Job): PartWanted | undefined => {
  const target = job.planned ? entryTarget(job) : undefined;
  const [first] = target ? wantedOf(target) : [];
  const inputs = job.step?.inputs ?? [];
  const [open, ...more] = inputs.filter(({ mass }) => !mass);
  if (!first || !open?.flow.part || !open.flow.lot || more.length > 0 || openAdditions(job).length > 0)
    return undefined;
  const known = inputs.filter((input) => input !== open).map((input) => contentsOf(job, input, 'before'));
  if (known.length === 0 || known.includes(undefined)) return undefined;
  const { grams: weight, metals } = together(known.filter((one) => one !== undefined));
  const shelf = addedMetals(job);
  const others = weight.best + [...shelf.values()].reduce((so, one) => so + one, 0);
  const held = metals.get(first.symbol);
  const share = knowledgeOf(job, open.flow, 'before').get(first.symbol)?.share;
  if (!held || !share || !(others > 0)) return undefined;
  const all = sumOf([held, exactly(shelf.get(first.symbol) ?? 0)]);
  const has = { low: all.low / others, best: all.best / others, high: all.high / others };
  const gives = toEstimate(share).best;
  const found = additionFor(others, has, first.share.best, gives);
  if (!found.value || !(found.value.addGrams.best > 0)) return undefined;
  const story = job.account.lots.get(open.flow.lot.name);
  const left = story?.events.find(({ flow }) => flow === open.flow)?.before?.value.toNumber() ?? undefined;
  return {
    input: open,
    symbol: first.symbol,
    aim: first.share.best,
    has,
    gives,
    others,
    grams: found.value.addGrams,
    left,
  };
});
