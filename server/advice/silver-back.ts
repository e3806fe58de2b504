/** Silver brought back from solution, on copper or with salt: how much of either, and what comes down. */

import { fromMeasured, times as product } from '../engine/accounts/inexact';
import { type Estimate, exactly, FROM_MEMORY, sumOf } from '../engine/bench/result';
import { chlorideOf, type SilverBack, silverBack, silverBySalt, silverOnCopper } from '../engine/bench/wet';
import type { FlowWeight } from '../engine/book';
import type { Entry, Flow } from '../engine/entry';
import { findMaterial } from '../engine/shelf';
import type { Measured } from '../quantity/measured';
import { accountsOf } from '../workspace/accounts';
import type { Topic, Working, Writing, Wrong } from './advice';
import { type Job, toEstimate } from './job';
import { bestWords, estimateWords, guessWords, rangeWords } from './words';

export const silverDropped: Topic = (job) => {
  if (job.entry.verb !== 'drop') return [];
  const means = meansOf(job);
  // Of what was done only what is amiss is worth a word.
  if (!job.planned && means?.grams === undefined) return [];
  const dissolved = dissolvedMetal(job, 'Ag');
  if (!dissolved || !(dissolved.grams.best > 0)) return [];
  const back = backWithin(dissolved.grams);
  const wrong = means ? shortOf(means, dissolved) : [];
  const working = (): Working => workingOf(dissolved, back, means);
  const at = means?.flow.place ?? job.entry.head;
  if (!job.planned) return wrong.length > 0 ? [{ topic: TOPIC, at, rank: 'doubt', working, wrong }] : [];
  if (!means) {
    const label = `copper ${rangeWords(back.copper, 'g')} or salt ${rangeWords(back.salt, 'g')}`;
    return [{ topic: TOPIC, at, label, short: `salt ${rangeWords(back.salt, 'g')}`, rank: 'result', working }];
  }
  const wanted = means.by === 'copper' ? back.copper : back.salt;
  if (means.grams === undefined) {
    const [amount, range] = [guessWords(wanted, 'g'), `${means.by} ${rangeWords(wanted, 'g')}`];
    return [{ topic: TOPIC, at, rank: 'result', working, writes: [{ flow: means.flow, amount, range }] }];
  }
  const writes = productsOf(job, dissolved, back, means.by);
  const label = `${means.by} wanted ${rangeWords(wanted, 'g')}`;
  return [{ topic: TOPIC, at, label, rank: 'extra', working, writes, wrong }];
};

const TOPIC = 'silver back';

export interface Dissolved {
  /** Of the metal. */
  readonly grams: Estimate;
  readonly millilitres: number;
  /** Rests on a claim or on what is usual. */
  readonly guessed: boolean;
  readonly by: readonly Entry[];
}

/** A metal in the solutions that are treated; none where one of them is not measured, or its metal not known. */
export const dissolvedMetal = (job: Job, metal: 'Ag' | 'Au'): Dissolved | undefined => {
  const { metals } = accountsOf(job.workspace);
  const all = (job.step?.inputs ?? []).map((input): Dissolved | undefined => {
    const volume = volumeOf(job, input);
    const segment = metals.lineage.segment(input.flow);
    const known = segment && metals.before(segment).get(metal);
    if (!volume || !known?.share) return undefined;
    return {
      grams: toEstimate(product(known.share, fromMeasured(volume))),
      millilitres: volume.value.toNumber(),
      guessed: volume.guessed || known.ground === 'guessed',
      by: known.by,
    };
  });
  const found = all.filter((one) => one !== undefined);
  if (found.length === 0 || found.length < all.length) return undefined;
  return {
    grams: sumOf(found.map(({ grams }) => grams)),
    millilitres: found.reduce((sum, { millilitres }) => sum + millilitres, 0),
    guessed: found.some(({ guessed }) => guessed),
    by: [...new Set(found.flatMap(({ by }) => by))],
  };
};

/** As it is written; else what is left of the lot. */
export const volumeOf = ({ account }: Job, { flow, volume }: FlowWeight): Measured | undefined => {
  if (volume) return volume;
  const story = flow.lot && account.lots.get(flow.lot.name);
  return story?.events.find((event) => event.flow === flow)?.volumeBefore;
};

export interface Means {
  readonly by: 'copper' | 'salt';
  readonly flow: Flow;
  /** None where no amount is written. */
  readonly grams: number | undefined;
}

/** What throws the silver down, as far as it is written. */
export const meansOf = ({ step, workspace }: Job): Means | undefined => {
  for (const { flow, mass } of step?.added ?? []) {
    const made = flow.material && findMaterial(workspace.workshop, flow.material.name)?.composition[0];
    const by = made?.what === 'Cu' && made.fraction > 0.9 ? 'copper' : made?.what === 'NaCl' ? 'salt' : undefined;
    if (by) return { by, flow, grams: mass?.value.toNumber() };
  }
  return undefined;
};

/** Less than the equation wants for the least silver that there can be: no care makes it enough. */
const shortOf = ({ by, flow, grams }: Means, { grams: silver }: Dissolved): readonly Wrong[] => {
  const most = grams === undefined ? undefined : by === 'copper' ? silverOnCopper(grams) : silverBySalt(grams);
  if (most === undefined || most >= silver.low) return [];
  const wanted = backWithin(silver)[by];
  return [
    {
      code: 'precipitant-short',
      place: flow.amount?.place ?? flow.place,
      says: `${bestWords(exactly(grams!), 'g')} of ${by} brings down ${bestWords(exactly(most), 'g')} of silver at most, and the solution holds ${rangeWords(silver, 'g')}: add ${by} to ${rangeWords(wanted, 'g')}, until a drop of salt water clouds the clear liquid no more.`,
    },
  ];
};

interface Back {
  readonly copper: Estimate;
  readonly salt: Estimate;
  readonly chloride: Estimate;
  readonly at: ReturnType<typeof silverBack>;
}

/** Of a gram of silver by the equations, g: 63.55/(2 × 107.87), 58.44/107.87, 143.32/107.87. */
export const COPPER_PER_SILVER = (1 / silverOnCopper(1)).toFixed(3);
export const SALT_PER_SILVER = (1 / silverBySalt(1)).toFixed(3);
const CHLORIDE_PER_SILVER = chlorideOf(1).toFixed(3);

const backWithin = (silver: Estimate): Back => {
  const at = (end: keyof Estimate): SilverBack => silverBack(silver[end]).value!;
  const [low, best, high] = [at('low'), at('best'), at('high')];
  const across = (pick: (one: SilverBack) => Estimate): Estimate => ({
    low: pick(low).low,
    best: pick(best).best,
    high: pick(high).high,
  });
  return {
    copper: across(({ copperGrams }) => copperGrams),
    salt: across(({ saltGrams }) => saltGrams),
    chloride: across(({ chlorideGrams }) => exactly(chlorideGrams)),
    at: silverBack(silver.best),
  };
};

/** Silver on copper, or chloride with salt, dry; and the solution that is left. */
const productsOf = (
  job: Job,
  { grams: silver, millilitres }: Dissolved,
  back: Back,
  by: Means['by'],
): readonly Writing[] => {
  const outs = job.entry.flows.filter(({ word, none }) => word === 'out' && !none);
  const solution = outs.find(({ kind }) => kind === 'solution');
  const solid = outs.find((flow) => flow !== solution);
  const grams = by === 'copper' ? silver : back.chloride;
  const what = by === 'copper' ? 'silver' : 'silver chloride';
  const put = (line: Flow | undefined, words: string, amount: string, range: string): readonly Writing[] => {
    if (line?.amount?.figure) return [];
    return [line ? { flow: line, amount, range } : { part: 'out', line: `out ${amount} ${words}`, range }];
  };
  const kind = by === 'copper' ? 'sponge dry' : 'other dry';
  return [
    ...put(solid, kind, guessWords(grams, 'g'), `${what} ${rangeWords(grams, 'g')}`),
    ...put(
      solution,
      'solution',
      guessWords(exactly(millilitres), 'mL'),
      `solution ${guessWords(exactly(millilitres), 'mL')}`,
    ),
  ];
};

const workingOf = ({ grams: silver, millilitres }: Dissolved, back: Back, means: Means | undefined): Working => {
  const rows = [
    `solution          ${bestWords(exactly(millilitres), 'mL')}`,
    `silver in it      ${estimateWords(silver, 'g')}`,
    `on copper: copper silver × ${COPPER_PER_SILVER} × 1..1.2 = ${estimateWords(back.copper, 'g')}, silver ${estimateWords(silver, 'g')}`,
    `with salt: salt   silver × ${SALT_PER_SILVER} × 1..1.2 = ${estimateWords(back.salt, 'g')}`,
    `  dry chloride    silver × ${CHLORIDE_PER_SILVER} = ${estimateWords(back.chloride, 'g')}`,
  ];
  if (means?.by === 'copper' && means.grams !== undefined)
    rows.push(
      `copper written    ${bestWords(exactly(means.grams), 'g')}, for ${bestWords(exactly(silverOnCopper(means.grams)), 'g')} of silver`,
    );
  return {
    says: `The solution holds ${rangeWords(silver, 'g')} of silver: ${rangeWords(back.copper, 'g')} of copper brings it down as metal, or ${rangeWords(back.salt, 'g')} of salt as chloride, ${rangeWords(back.chloride, 'g')} dry.`,
    rows,
    assumed: [
      ...(back.at.value ? back.at.assumed : []),
      { says: 'salt throws lead and mercury down too', source: FROM_MEMORY },
    ],
    todo: 'Keep ammonia away from silver solutions, chloride and what is washed from them.',
  };
};
