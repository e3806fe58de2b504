/** A collector for a feed with little gold: a few milligrams of it do not find each other in a slag. */
import { USUAL_RATIO } from '../engine/bench/inquart';
import { assume, BERINGER, type Estimate, exactly, FROM_MEMORY, sumOf, times } from '../engine/bench/result';
import { shareOf } from '../engine/bench/slag';
import type { Topic, Working } from './advice';
import { type Job, perJob } from './job';
import { isFlux, isOf, metalIn, type Smelt, smeltOf } from './smelt';
import { IRONS, isFit, NITERS } from './sulphur';
import { bestWords, guessWords, rangeWords } from './words';

const TOPIC = 'collector';

export const collector: Topic = (job) => {
  const want = wantOf(job);
  if (!want) return [];
  const working = (): Working => workingOf(want);
  // On the feed's line: the first one tells what is to be written in.
  const at = job.step!.inputs[0]!.flow.place;
  const same = { topic: TOPIC, at, working } as const;
  if (want.metal === undefined) return [{ ...same, rank: 'extra' }];
  if (!isWritten(job)) return [{ ...same, label: 'collector: litharge, silver or lead', rank: 'doubt' }];
  const litharge = times(exactly(LITHARGE), want.feed);
  const write = {
    part: 'add' as const,
    line: `add litharge ${guessWords(litharge, 'g')}`,
    range: `litharge ${rangeWords(litharge, 'g')}`,
  };
  return [{ ...same, rank: 'result', writes: [write] }];
};

/** Before it stands there no flux can be told: what is not brought down of litharge is flux. */
export const isCollectorToCome = (job: Job): boolean => wantOf(job)?.metal !== undefined && isWritten(job);

/** With fluxes weighed in, or niter that takes lead back, what to collect with is the melter's own choice. */
const isWritten = (job: Job): boolean =>
  job.step!.added.every(({ flow: { material }, mass }) => {
    const name = material?.name ?? '';
    return !NITERS.has(name) && !(mass && isFlux(job, name));
  });

interface Want {
  readonly feed: number;
  /** Metal in the feed, g, as far as it is known. */
  readonly metal: Estimate | undefined;
}

/** Under a few per cent of gold a feed wants a collector (from memory). */
const POOR = 0.03;
/** Of an ore of 50 g, 75 g litharge and 4 g flour: about half of the litharge comes down as lead, the rest is flux. */
const LITHARGE = 75 / 50;
const LEAD = (4 * 11.2) / 50;
/** Silver beside the gold's own two and a half times: enough for a button that is found. From memory. */
const LEAST_SILVER = 0.02;

const wantOf = perJob((job: Job): Want | undefined => {
  if (!job.planned || job.entry.verb !== 'melt') return undefined;
  const smelt = smeltOf(job);
  if (!smelt || smelt.solid || !isFit(job, smelt) || isCollected(job, smelt)) return undefined;
  const inputs = job.step!.inputs;
  const feed = inputs.reduce((so, { mass }) => so + mass!.value.toNumber(), 0);
  const metals = inputs.map((input) => metalIn(job, input));
  const known = metals.filter((metal) => metal !== undefined);
  const best = known.reduce((so, metal) => so + metal.best, 0);
  if (!(feed > 0) || best >= POOR * feed) return undefined;
  if (known.length === metals.length) return { feed, metal: sumOf(known) };
  // Of a lot of glass or scorched flux nobody expects gold.
  return smelt.feed.some(({ material }) => isOf(job, material.name, FEEDS)) ? { feed, metal: undefined } : undefined;
});

const FEEDS: ReadonlySet<string> = new Set(['feed']);
const COLLECTORS: ReadonlySet<string> = new Set(['collector', 'metal']);
const LEAD_OXIDES: ReadonlySet<string> = new Set(['PbO', 'Pb3O4', 'Pb']);

/** By a line of the entry, whatever its amount, or by lead in the feed. Iron takes sulphur and collects nothing. */
const isCollected = (job: Job, { feed }: Smelt): boolean =>
  job.entry.flows.some(({ word, material }) => {
    const name = material?.name ?? '';
    return word === 'add' && isOf(job, name, COLLECTORS) && !IRONS.has(name);
  }) || feed.some(({ material }) => shareOf(material, LEAD_OXIDES) > 0.05);

const workingOf = ({ feed, metal }: Want): Working => {
  const lead = times(exactly(LEAD), feed);
  const silver = Math.max(LEAST_SILVER * feed, USUAL_RATIO * (metal?.best ?? 0));
  const share = metal ? `${bestWords(metal, 'g')} of gold and silver in ${bestWords(exactly(feed), 'g')}` : undefined;
  return {
    says: share
      ? `${share}: so little is not found in the slag without a collector.`
      : `Where less than ${100 * POOR} % of the feed is gold, it wants a collector.`,
    rows: [
      'one of',
      `  litharge        ${LITHARGE} × feed = ${bestWords(times(exactly(LITHARGE), feed), 'g')}, and flour ${bestWords(exactly((4 / 50) * feed), 'g')}`,
      `  lead            ${LEAD.toFixed(1)} × feed = ${bestWords(lead, 'g')}, as much as that brings down`,
      `  silver          ${bestWords(exactly(silver), 'g')}: ${USUAL_RATIO} × gold, ${100 * LEAST_SILVER} % of the feed at least; then it parts`,
    ],
    assumed: [
      assume('75 g litharge and 4 g flour to 50 g of ore, about half of it as flux', `quartz charge, ${BERINGER}`),
      assume(`a collector where gold is under ${100 * POOR} % of the feed, and how much silver`, FROM_MEMORY),
    ],
    todo: 'Lead and litharge fume poison slowly: exhaust at the furnace, as local codes have it. Book the silver of the collector: it comes back.',
  };
};
