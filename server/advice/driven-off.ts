/** What a planned roasting, retorting or burning leaves, by what the feed is made of. */

import { type Answer, type Estimate, exactly, less } from '../engine/bench/result';
import { type DrivenBy, drivenOff, leaving, mercuryOff } from '../engine/bench/roast';
import type { Advice, Topic, Writing } from './advice';
import { chargedOf, isAllWeighed, type Job, partsOf, perJob } from './job';
import { estimateWords, guessWords, rangeWords, termWords } from './words';

export const driven: Topic = (job) => {
  const off = drivenFrom(job);
  if (!off) return [];
  const { entry } = job;
  const whole = exactly(wholeGrams(job));
  const left = less(whole, off.value);
  const outs = entry.flows.filter(({ word, none }) => word === 'out' && !none);
  const [only] = outs;
  const isOpen = only && outs.length === 1 && (only.amount === undefined || only.amount.absent === 'unknown');
  const [amount, range] = [guessWords(left, 'g'), rangeWords(left, 'g')];
  const writes: Writing[] = [];
  if (isOpen) writes.push({ flow: only, amount, range });
  else if (!only) writes.push({ part: 'out', line: `out ${amount} ${KIND[verbOf(job)!]}`, range });
  const working: Advice['working'] = () => ({
    says: `${rangeWords(off.value, 'g')} leaves, and ${range} stays.`,
    rows: [
      `goes in           ${rangeWords(whole, 'g')}`,
      ...leavingRows(job),
      `leaves            ${estimateWords(off.value, 'g')}`,
      `stays             ${estimateWords(left, 'g')}`,
    ],
    assumed: off.assumed,
    todo: NEXT[verbOf(job)!],
  });
  return [
    {
      topic: 'driven off',
      at: entry.head,
      label: `${rangeWords(off.value, 'g')} leaves`,
      rank: 'result',
      working,
      writes,
    },
  ];
};

/** `  Hg              31.2 g × 0.6 (0.4..0.7) × 1 (0.95..1)`: of each constituent what leaves of it. */
const leavingRows = (job: Job): readonly string[] => {
  const by = verbOf(job)!;
  const mercury = by === 'retort' ? chargedOf(job)?.metals.get('Hg') : undefined;
  if (mercury) return [`  mercury         ${estimateWords(mercury, 'g')}, as the record has it`];
  return partsOf(job).feed.flatMap(({ item: { material, massGrams } }) =>
    material.composition.flatMap(({ what, fraction, low = fraction, high = fraction }) => {
      const [least, most] = [leaving(by, what, 'low'), leaving(by, what, 'high')];
      if (!(most > 0)) return [];
      const part = low < high ? `${short(fraction)} (${short(low)}..${short(high)})` : short(fraction);
      const share = least < most ? `${short(most)} (${short(least)}..${short(most)})` : short(most);
      return [`  ${what.padEnd(16)}${termWords(massGrams, 'g')} × ${part} × ${share}`];
    }),
  );
};

const short = (share: number): string => `${Number(share.toPrecision(3))}`;

const KIND: Readonly<Record<DrivenBy, string>> = { roast: 'other', retort: 'sponge', burn: 'ash' };

const NEXT: Readonly<Record<DrivenBy, string>> = {
  roast:
    'Roast slowly and stir, until no more smell of sulphur comes off hot, then weigh it cold: what loses no more weight in a second roast is dead.',
  retort: 'Weigh the mercury too, and the sponge cold: what is short of both has left as vapour.',
  burn: 'Weigh the ash before it is sieved: what is fine in it is dust.',
};

const verbOf = ({ entry: { verb } }: Job): DrivenBy | undefined =>
  verb === 'roast' || verb === 'retort' || verb === 'burn' ? verb : undefined;

const wholeGrams = ({ step }: Job): number => step!.inputs.reduce((so, { mass }) => so + mass!.value.toNumber(), 0);

/** Of a plan; none where a lot is not weighed, or of no known make, or nothing in it is known to leave. */
export const drivenFrom = perJob((job: Job): Answer<Estimate> | undefined => {
  const by = job.planned ? verbOf(job) : undefined;
  if (!by || !isAllWeighed(job) || job.step!.added.length > 0) return undefined;
  const mercury = by === 'retort' ? chargedOf(job)?.metals.get('Hg') : undefined;
  if (mercury) return mercuryOff(mercury);
  const { feed } = partsOf(job);
  if (feed.length === 0 || feed.some(({ material }) => material === undefined)) return undefined;
  const off = drivenOff(
    feed.map(({ item }) => item),
    by,
  );
  return off.value.high > 0 ? off : undefined;
});
