/** A collector for a feed with little gold: a few milligrams of it do not find each other in a slag. */
import { LEAD_IN_LITHARGE, LEAD_IN_RED_LEAD } from '../engine/bench/flux';
import { USUAL_RATIO } from '../engine/bench/inquart';
import { powerGround, reducingPower } from '../engine/bench/oxidation';
import { assume, BERINGER, type Estimate, exactly, FROM_MEMORY, over, sumOf } from '../engine/bench/result';
import { shareOf } from '../engine/bench/slag';
import { leadBySulphides } from '../engine/bench/slag-warnings';
import type { Flow } from '../engine/entry';
import type { Choice, Topic, Working } from './advice';
import { type Job, perJob } from './job';
import { isChloride, isFlux, isOf, metalIn, openAdds, type Smelt, smeltOf } from './smelt';
import { isKnown, isSulphurLeft } from './sulphur';
import { IRONS, isWithLitharge, NITERS, sulphurTakenBy } from './sulphur-taken';
import { bestWords, guessWords, rangeWords } from './words';

const TOPIC = 'collector';

export const collector: Topic = (job) => {
  const want = wantOf(job);
  if (!want) return [];
  const working = (): Working => workingOf(want);
  // On the feed's line: the first one tells what is to be written in.
  const at = want.open?.place ?? job.step!.inputs[0]!.flow.place;
  const same = { topic: TOPIC, at, working } as const;
  if (want.open) {
    const { amount, range } = amountOf(want, want.open.material!.name);
    return [{ ...same, rank: 'result', writes: [{ flow: want.open, amount, range }] }];
  }
  if (!isWritten(job)) {
    const choices = CHOICES.map(([name]) => choiceOf(name));
    return [{ ...same, label: 'collector: litharge, silver or lead', rank: 'doubt', choices }];
  }
  const first = isWithNiter(job) ? BESIDE_NITER : FIRST;
  const { amount, range } = amountOf(want, first);
  const writes = [{ part: 'add' as const, line: `add ${first} ${amount}`, range }];
  const choices = CHOICES.flatMap(([name]) => (name === first ? [] : [choiceOf(name)]));
  return [{ ...same, rank: 'result', writes, choices }];
};

/** Before it stands there no flux can be told: what is not brought down of litharge is flux. */
export const isCollectorToCome = (job: Job): boolean => {
  const want = wantOf(job);
  return want !== undefined && (want.open !== undefined || isWritten(job));
};

/** Silver asked for by this line is to collect, and is not reckoned by the gold alone. */
export const isToCollect = (job: Job, line: Flow): boolean => wantOf(job)?.open === line;

/** With fluxes weighed in what to collect with is the melter's own choice. */
const isWritten = (job: Job): boolean =>
  job.step!.added.every(({ flow: { material }, mass }) => !(mass && isFlux(job, material?.name ?? '')));

const isWithNiter = (job: Job): boolean => job.step!.added.some(({ flow }) => NITERS.has(flow.material?.name ?? ''));

interface Want {
  readonly feed: number;
  /** Metal in the feed, g; none where a lot of it is not known. */
  readonly metal: Estimate | undefined;
  readonly isRich: boolean;
  /** Iron beside it takes the sulphur, and brings all of the lead down: none of the litharge is flux. */
  readonly byIron: boolean;
  /** The line that names a collector and leaves its amount out. */
  readonly open: Flow | undefined;
}

/** Under a few per cent of gold a feed wants a collector (from memory). */
const POOR = 0.03;
/** Of an ore of 50 g, 75 g litharge and 4 g flour: about half of the litharge comes down as lead, the rest is flux. */
const LITHARGE = 75 / 50;
const LEAD = (4 * 11.2) / 50;
/** Silver beside the gold's own two and a half times: enough for a button that is found. From memory. */
const LEAST_SILVER = 0.02;

/** What collects, by the weight of it for a feed, g. */
const CHOICES: readonly (readonly [string, (want: Want) => number])[] = [
  ['litharge', ({ feed, byIron }) => (byIron ? LEAD / LEAD_IN_LITHARGE : LITHARGE) * feed],
  ['lead', ({ feed }) => LEAD * feed],
  ['silver', ({ feed, metal }) => Math.max(LEAST_SILVER * feed, USUAL_RATIO * (metal?.best ?? 0))],
];
const OTHERS: readonly (readonly [string, (want: Want) => number])[] = [
  ['red-lead', (want) => (gramsOf(want, FIRST).best * LEAD_IN_LITHARGE) / LEAD_IN_RED_LEAD],
  ['test-lead', ({ feed }) => LEAD * feed],
  ['copper', ({ feed }) => LEAST_SILVER * feed],
];
const COLLECTS: ReadonlyMap<string, (want: Want) => number> = new Map([...CHOICES, ...OTHERS]);
/** Written in where nothing is named: it collects best of what the source weighs, and is half of the flux. */
const FIRST = 'litharge';
/** Niter takes lead back; silver it leaves alone. */
const BESIDE_NITER = 'silver';

const gramsOf = (want: Want, name: string): Estimate => exactly(COLLECTS.get(name)!(want));

const amountOf = (want: Want, name: string): { readonly amount: string; readonly range: string } => {
  const grams = gramsOf(want, name);
  return { amount: guessWords(grams, 'g'), range: `${name} ${rangeWords(grams, 'g')}` };
};

const choiceOf = (name: string): Choice => ({ title: `Collect with ${name}`, line: `add ${name} ?` });

const wantOf = perJob((job: Job): Want | undefined => {
  if (!job.planned || job.entry.verb !== 'melt') return undefined;
  const smelt = smeltOf(job);
  if (!smelt || smelt.solid || isChloride(smelt) || !isKnown(smelt)) return undefined;
  const open = openAdds(job.entry).find(({ material }) => COLLECTS.has(material!.name));
  if (isCollected(job, smelt, open)) return undefined;
  const inputs = job.step!.inputs;
  const feed = inputs.reduce((so, { mass }) => so + mass!.value.toNumber(), 0);
  const metals = inputs.map((input) => metalIn(job, input));
  const known = metals.filter((metal) => metal !== undefined);
  const best = known.reduce((so, metal) => so + metal.best, 0);
  // Where gold is plenty only what is named is reckoned, and silver that is named then is to part.
  const isRich = best >= POOR * feed;
  if (!(feed > 0) || (isRich && (!open || open.material!.name === 'silver'))) return undefined;
  // Litharge burns a little sulphide, and its lead is part of the button; of more the rest would be matte.
  const isHeld = isWithLitharge(job.entry) && openAdds(job.entry).some(({ material }) => NITERS.has(material!.name));
  if (isSulphurLeft(job, smelt) && !isHeld && leadBySulphides(smelt.feed) > LEAD * feed) return undefined;
  const metal = known.length === metals.length ? sumOf(known) : undefined;
  // Of a lot of glass or scorched flux nobody expects gold, unless a collector is named.
  const byIron = sulphurTakenBy(smelt) === 'iron';
  return metal || open || smelt.ore ? { feed, metal, isRich, byIron, open } : undefined;
});

const COLLECTORS: ReadonlySet<string> = new Set(['collector', 'metal']);
const LEAD_OXIDES: ReadonlySet<string> = new Set(['PbO', 'Pb3O4', 'Pb']);

/** By another line of the entry, whatever its amount, or by lead in the feed. Iron takes sulphur and collects nothing. */
const isCollected = (job: Job, { feed }: Smelt, open: Flow | undefined): boolean =>
  job.entry.flows.some((flow) => {
    const name = flow.material?.name ?? '';
    return flow !== open && flow.word === 'add' && isOf(job, name, COLLECTORS) && !IRONS.has(name);
  }) || feed.some(({ material }) => shareOf(material, LEAD_OXIDES) > 0.05);

const flourFor = (lead: number): Estimate => over(exactly(lead), reducingPower('flour')!.leadPerGram);

const workingOf = (want: Want): Working => {
  const { feed, metal, byIron, open, isRich } = want;
  const of = (name: string): string => bestWords(gramsOf(want, name), 'g');
  const share = metal ? `${bestWords(metal, 'g')} of gold and silver in ${bestWords(exactly(feed), 'g')}` : undefined;
  const bySilver = `${USUAL_RATIO} × gold, ${100 * LEAST_SILVER} % of the feed at least`;
  const gold = metal
    ? ` = ${USUAL_RATIO} × ${bestWords(metal, 'g')}, or ${LEAST_SILVER} × ${bestWords(exactly(feed), 'g')}`
    : '';
  const why = !share
    ? 'How much gold is in it is not known: a collector brings down the least of it.'
    : isRich
      ? `${share}, which needs no collector; to collect the last of it:`
      : `${share}: so little is not found in the slag without a collector.`;
  return {
    says: `${why}${open ? ` ${of(open.material!.name)} of ${open.material!.name}.` : ''}`,
    rows: [
      'one of',
      byIron
        ? `  litharge        4 × 11.2/50/${LEAD_IN_LITHARGE.toFixed(3)} × feed = ${of('litharge')}: the iron brings all of it down`
        : `  litharge        ${LITHARGE} × feed = ${of('litharge')}, and flour ${rangeWords(flourFor(LEAD * feed), 'g')}`,
      `  lead            4 × 11.2/50 × feed = ${of('lead')}, as much as that brings down`,
      `  silver          ${bySilver}${gold} = ${of('silver')}; then it parts`,
    ],
    assumed: [
      assume('75 g litharge and 4 g flour to 50 g of ore, about half of it as flux', `quartz charge, ${BERINGER}`),
      powerGround(reducingPower('flour')!),
      assume(`a collector where gold is under ${100 * POOR} % of the feed, and how much silver`, FROM_MEMORY),
    ],
    todo: `Name another and leave its weight out, such as \`add silver ?\`, and it is reckoned instead.${metal ? '' : ' With so much gold that it needs none, say it where the feed came in: `expect Au 5 %`.'} Lead and litharge fume poison slowly: exhaust at the furnace, as local codes have it. Book the silver of the collector: it comes back.`,
  };
};
