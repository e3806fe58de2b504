/** Silver for inquarting: asked for by a planned melt that has `add silver ?`, or whose product a planned parting takes. */
import { type InquartAdvice, inquart, USUAL_RATIO } from '../engine/bench/inquart';
import { type Answer, type Estimate, over, sumOf, times } from '../engine/bench/result';
import type { Entry, Flow } from '../engine/entry';
import { findMaterial } from '../engine/shelf';
import { targetOf } from '../engine/target';
import type { Workspace } from '../workspace/workspace';
import type { Advice, Topic, Working } from './advice';
import { isToCollect } from './collector';
import { addedMetals, type Contents, chargedOf, type Job } from './job';
import { estimateWords, guessWords, rangeWords, termWords } from './words';

export const inquarting: Topic = (job) => {
  const { entry, planned } = job;
  // Silver toward a target is alloyed.
  if (!planned || !MELTS.has(entry.verb) || targetOf(entry)) return [];
  const line = entry.flows.find((flow) => flow.word === 'add' && silverIn(job, flow) >= FINE);
  const isAsked = line !== undefined && !line.amount?.figure;
  if (line && isToCollect(job, line)) return [];
  if (!isAsked && !isPartedNext(job.workspace, entry)) return [];
  const charged = chargedOf(job);
  if (!charged || !(charged.grams.best > 0)) return [];
  const at = line?.place ?? entry.head;
  const need = needOf(charged);
  if (need.value === undefined) return [notKnown(at)];
  const working = (): Working => workingOf(charged, need);
  if (line && !isAsked) return [{ ...given(job, line, charged), working }];
  const { silverGrams } = need.value;
  if (silverGrams.best < LEAST_GRAMS)
    return [{ topic: TOPIC, at, label: 'silver enough to part', rank: 'result', working, ...noneFor(line) }];
  const grams = times(silverGrams, 1 / (line ? silverIn(job, line) : 1));
  const [amount, range] = [guessWords(grams, 'g'), `silver ${rangeWords(grams, 'g')}`];
  const write = line ? { flow: line, amount, range } : { part: 'add' as const, line: `add silver ${amount}`, range };
  return [{ topic: TOPIC, at, rank: 'result', working, writes: [write] }];
};

const TOPIC = 'inquart';
const MELTS: ReadonlySet<string> = new Set(['melt', 'cast']);
/** Silver for inquarting is fine silver. */
const FINE = 0.99;
const LEAST_GRAMS = 0.005;

const silverIn = ({ workspace }: Job, { material }: Flow): number =>
  (material && findMaterial(workspace.workshop, material.name))?.composition.find(({ what }) => what === 'Ag')
    ?.fraction ?? 0;

/** A planned parting takes what this entry makes. */
export const isPartedNext = ({ pages }: Workspace, entry: Entry): boolean =>
  entry.flows.some(({ word, lot }) => {
    if (word !== 'out' || !lot) return false;
    return [...pages.values()].some((page) =>
      (page.byLot.get(lot.name) ?? []).some(
        ({ prefix, verb, flows }) =>
          prefix === 'plan' &&
          verb === 'part' &&
          flows.some((flow) => flow.word === 'in' && flow.lot?.name === lot.name),
      ),
    );
  });

const needOf = ({ grams, metals }: Contents) => {
  const share = (symbol: string): Estimate | undefined => {
    const metal = metals.get(symbol);
    return metal && over(metal, grams.best);
  };
  return inquart(grams.best, share('Au'), share('Ag'));
};

/** A line that asks for silver where none is wanted. */
const noneFor = (line: Flow | undefined): Pick<Advice, 'writes'> =>
  line ? { writes: [{ flow: line, amount: '0 g', range: 'no silver' }] } : {};

const notKnown = (at: Advice['at']): Advice => ({
  topic: TOPIC,
  at,
  label: 'gold not known: assay it first',
  rank: 'doubt',
  working: () => ({
    says: `Silver for inquarting is ${USUAL_RATIO} times the fine gold, less the silver that is in it. The gold of the charge is not known.`,
    assumed: [],
    todo: 'Assay the charge for gold, and for silver.',
  }),
});

/** Silver is written: the ratio that it makes. */
const given = (job: Job, line: Flow, { metals }: Contents): Pick<Advice, 'topic' | 'at' | 'label' | 'rank'> => {
  const [gold, silver] = [metals.get('Au'), metals.get('Ag')];
  const shelf = addedMetals(job).get('Ag') ?? 0;
  const ratio = gold && silver && ratioOf(gold, sumOf([silver, { low: shelf, best: shelf, high: shelf }]));
  const label = ratio ? `silver to gold ${rangeWords(ratio, ': 1')}` : 'silver of the charge not known';
  return { topic: TOPIC, at: line.place, label, rank: 'extra' };
};

export interface SilverToGold {
  readonly silver: Estimate;
  readonly gold: Estimate;
  /** By mass. */
  readonly ratio: Estimate;
  /** The silver is not known: it is what the other metals leave at most. */
  readonly isAtMost: boolean;
  /** Under this no acid gets in, whatever the errors of the assays. */
  readonly isLow: boolean;
}

/** Silver that has to be there for a gram of gold, g: under it parting is not to be trusted. */
export const LEAST_RATIO = 1.7;

/** Silver and gold of a charge that is to be parted; none where its gold is not known. */
export const silverToGold = ({ metals, grams }: Contents): SilverToGold | undefined => {
  const [gold, known] = [metals.get('Au'), metals.get('Ag')];
  const others = [...metals].reduce((sum, [metal, { low }]) => (metal === 'Ag' ? sum : sum + low), 0);
  const most = Math.max(0, grams.high - others);
  const silver = known ?? { low: 0, best: most, high: most };
  const ratio = gold && ratioOf(gold, silver);
  return ratio && { silver, gold, ratio, isAtMost: !known, isLow: ratio.high < LEAST_RATIO };
};

/** Parted gold in a second acid: it is open for the acid, however little silver is left. */
export const isBoiledAgain = ({ step, workspace: { book } }: Job): boolean =>
  (step?.inputs ?? []).every(({ flow }) => {
    const birth = flow.lot && book.lot(flow.lot.name)?.births.at(-1);
    return POROUS.has(book.make(flow)?.kind) || birth?.entry.verb === 'part';
  });
const POROUS: ReadonlySet<string | undefined> = new Set(['sponge', 'cornet']);

/** Silver to gold by mass; none without gold. */
export const ratioOf = (gold: Estimate, silver: Estimate): Estimate | undefined =>
  gold.low > 0 ? over(silver, gold) : undefined;

const workingOf = ({ grams, metals }: Contents, { value, assumed }: Answer<InquartAdvice>): Working => {
  const { silverGrams, alloyGrams, ratioNow, toAssay } = value;
  const [gold, silver] = [metals.get('Au'), metals.get('Ag')];
  const rows = [`charge            ${estimateWords(grams, 'g')}`];
  if (gold) rows.push(`gold              ${estimateWords(gold, 'g')}`);
  if (silver) rows.push(`silver            ${estimateWords(silver, 'g')}`);
  if (ratioNow) rows.push(`silver to gold    ${estimateWords(ratioNow, ': 1')}`);
  const has = gold && silver ? ` = ${USUAL_RATIO} × ${termWords(gold.best, '')} − ${termWords(silver.best, '')}` : '';
  rows.push(`silver to add     ${USUAL_RATIO} × gold − silver${has} = ${estimateWords(silverGrams, 'g')}`);
  rows.push(`gold and silver   ${estimateWords(alloyGrams, 'g')} then`);
  return {
    says: `To part at ${USUAL_RATIO} of silver to 1 of gold the charge wants ${rangeWords(silverGrams, 'g')} of fine silver.`,
    rows,
    assumed,
    ...(toAssay.length > 0
      ? { todo: 'Assay the charge for silver: it is not known, and the figure hangs on it.' }
      : {}),
  };
};
