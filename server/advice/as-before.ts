/** What a planned drying, magnet, screen or other step by hand gives: as earlier ones of its kind in this journal, else as the feed's make has it. */
import { type Assumption, assume, type Estimate, exactly, FROM_MEMORY, less, times } from '../engine/bench/result';
import { heldInCharge } from '../engine/bench/together';
import type { FlowWeight, Step } from '../engine/book';
import type { Entry } from '../engine/entry';
import type { ChargeItem } from '../engine/gas';
import { median } from '../engine/statistics/robust';
import { fitting } from '../reports/figures';
import type { Advice, Topic, Working, Writing } from './advice';
import { drivenFrom } from './driven-off';
import { isAllWeighed, type Job, partsOf } from './job';
import { estimateWords, guessWords, rangeWords, termWords } from './words';

export const asBefore: Topic = (job) => {
  const { planned, entry } = job;
  if (!planned || !DONE_BY_HAND.has(entry.verb) || !isAllWeighed(job) || job.step!.added.length > 0) return [];
  if (drivenFrom(job)) return [];
  const whole = inOf(job.step!);
  const before = earlierOf(job);
  if (before.length > 0)
    return productsOf(job, before.at(-1)!).flatMap((product, at) => told(job, whole, before, product, at === 0));
  return byMake(job, whole);
};

/** What leaves is told as it left before: the usual loss of such a step is no closer. */
export const isToldAsBefore = (job: Job): boolean =>
  LEAVES.has(job.entry.verb) && asBefore(job).some(({ rank }) => rank === 'result');

/** Steps whose product is a share of the feed that hangs on the feed alone. */
const DONE_BY_HAND: ReadonlySet<string> = new Set([
  'dry',
  'roast',
  'burn',
  'retort',
  'screen',
  'magnet',
  'pan',
  'wash',
]);
/** What comes out is one thing, and the rest has left: water, sulphur, what burns, dirt. */
const LEAVES: ReadonlyMap<string, string> = new Map([
  ['dry', 'water'],
  ['roast', 'what the roast drives off'],
  ['burn', 'what burns'],
  ['retort', 'what goes over'],
  ['wash', 'what is washed off'],
]);

/** What it is told rests on steps of any page: such a plan is made with each version of the journal. */
export const isByHand = ({ verb }: Entry): boolean => DONE_BY_HAND.has(verb);

const TOPIC = 'as before';
/** `91.7 %`, `88.2..91.7 %`: by weighing, so to a tenth. */
const partWords = ({ low, best, high }: Estimate): string => {
  const [least, most] = [low, high].map((share) => (100 * share).toFixed(1));
  return least === most ? `${(100 * best).toFixed(1)} %` : `${least}..${most} %`;
};

/** Older ones no longer count, as for a usual loss. */
const MOST = 30;
/** From so many on what they gave is written in. */
const ENOUGH = 3;
/** So many are shown one by one. */
const SHOWN = 5;

const gramsOf = (all: readonly FlowWeight[]): number =>
  all.reduce((so, { mass }) => so + (mass?.value.toNumber() ?? 0), 0);

const inOf = ({ inputs, added }: Step): number => gramsOf([...inputs, ...added]);

const isWhole = (step: Step | undefined): step is Step =>
  step !== undefined &&
  step.added.length === 0 &&
  step.inputs.length > 0 &&
  step.outputs.length > 0 &&
  [...step.inputs, ...step.outputs].every(({ mass }) => mass && !mass.guessed) &&
  inOf(step) > 0;

const makeOf = ({ workspace: { book } }: Job, { inputs }: Step): string =>
  inputs
    .map(({ flow }) => book.make(flow)?.material ?? '')
    .sort()
    .join(' ');

/** Done steps of the same verb with feed of the same make, before the plan's day or on it, the latest last. */
const earlierOf = (job: Job): readonly Step[] => {
  const { workspace, entry, step } = job;
  const make = makeOf(job, step!);
  const found: { readonly entry: Entry; readonly step: Step }[] = [];
  for (const { entries } of workspace.pages.values())
    for (const other of entries) {
      if (other.verb !== entry.verb || other.prefix !== undefined || other.broken || other === entry) continue;
      if ((other.date ?? '') > (entry.date ?? '')) continue;
      const own = workspace.book.step(other);
      if (isWhole(own) && makeOf(job, own) === make) found.push({ entry: other, step: own });
    }
  const day = ({ entry: { date = '' } }: { readonly entry: Entry }): string => date;
  return found
    .sort((a, b) => (day(a) < day(b) ? -1 : day(a) > day(b) ? 1 : 0))
    .slice(-MOST)
    .map((one) => one.step);
};

/** A product of the plan: by its line, or as its kind of step has it; which one of a step's products it is like. */
interface Product {
  readonly out: FlowWeight | undefined;
  readonly name: string;
  readonly of: (step: Step) => number | undefined;
}

/** Of a plan that names none, those of the last one. */
const productsOf = ({ entry, step }: Job, last: Step): readonly Product[] => {
  const outs = step!.outputs.filter(({ flow }) => !flow.none);
  if (LEAVES.has(entry.verb)) {
    const [only] = outs;
    return outs.length > 1 ? [] : [{ out: only, name: 'stays', of: (other) => gramsOf(other.outputs) }];
  }
  // By its kind, else by its place among the products.
  const like = outs.length > 0 ? outs : last.outputs;
  return like.map((out, at) => {
    const { kind } = out.flow;
    const same = (other: Step): FlowWeight | undefined =>
      (kind === undefined ? undefined : other.outputs.find(({ flow }) => flow.kind === kind)) ??
      (other.outputs.length === like.length ? other.outputs[at] : undefined);
    const name = outs.length > 0 ? (out.flow.lot?.name ?? kind ?? 'product') : `as ${out.flow.lot?.name ?? kind}`;
    return { out: outs.length > 0 ? out : undefined, name, of: (other) => same(other)?.mass?.value.toNumber() };
  });
};

const told = (
  job: Job,
  whole: number,
  before: readonly Step[],
  { out, name, of }: Product,
  isFirst: boolean,
): readonly Advice[] => {
  const all = before.flatMap((step) => {
    const grams = of(step);
    return grams === undefined ? [] : [{ step, grams, share: grams / inOf(step) }];
  });
  if (all.length === 0) return [];
  const shares = all.map(({ share }) => share);
  const share: Estimate = { low: Math.min(...shares), best: median(shares), high: Math.max(...shares) };
  const grams = times(share, whole);
  const verb = job.entry.verb;
  const leaves = LEAVES.get(verb);
  const off = leaves === undefined ? undefined : less(exactly(whole), grams);
  const isOpen = out !== undefined && !out.flow.amount?.figure;
  const writes: Writing[] =
    isOpen && all.length >= ENOUGH
      ? [{ flow: out.flow, amount: `~${termWords(grams.best, 'g')}`, range: threeWords(grams) }]
      : [];
  const as = `as ${all.length === 1 ? 'once' : `${all.length} times`} before`;
  const working = (): Working => ({
    says: `${off ? `${rangeWords(off, 'g')} leaves (${leaves}), and ${threeWords(grams)} stays` : `${name}: ${threeWords(grams)}, ${partWords(share)} of what goes in`}, ${as}.`,
    rows: [
      ...all
        .slice(-SHOWN)
        .map(
          ({ step, grams: was, share: part }) =>
            `${(step.entry.name?.name ?? verb).padEnd(17)} ${termWords(was, 'g')} of ${termWords(inOf(step), 'g')} = ${partWords(exactly(part))}`,
        ),
      `this time         ${partWords(share)} × ${termWords(whole, 'g')} = ${threeWords(grams)}`,
      ...(off ? [`leaves            ${termWords(whole, 'g')} − that = ${estimateWords(off, 'g')}`] : []),
    ],
    assumed: [
      assume(
        `as ${all.length === 1 ? 'the one earlier' : `the ${all.length} earlier`} of feed of the same make, from the least to the most`,
        'this journal',
      ),
    ],
    ...(isFirst && DO_THEN.has(verb) ? { todo: DO_THEN.get(verb)! } : {}),
  });
  const label = fitting(`${threeWords(grams)} ${leaves ? 'stays' : ''}`.trim().concat(`, ${as}`), threeWords(grams));
  return [{ topic: `${TOPIC} ${name}`, at: out?.flow.place ?? job.entry.head, label, rank: 'result', working, writes }];
};

/** `452..456 g`: weighed shares bear three digits. */
const threeWords = ({ low, high }: Estimate): string => {
  const [least, most] = [termWords(low, 'g'), termWords(high, 'g')];
  return least === most ? most : `${least.slice(0, -2)}..${most}`;
};

/** What is easily forgotten at such a step. */
const DO_THEN: ReadonlyMap<string, string> = new Map([
  ['dry', 'Dry until it loses no more, weigh it cold, and write what it weighed wet.'],
  ['magnet', 'Weigh the magnetics and keep them until they are assayed or ground and panned: gold sits in them.'],
  ['screen', 'Weigh what stays on the screen too, and keep it: coarse gold is in it.'],
  ['pan', 'Weigh and keep middlings and tails until they are assayed: fine gold is in them.'],
]);

/** Water of a wetted material, magnetite of a black sand: what its make alone tells. */
const byMake = (job: Job, whole: number): readonly Advice[] => {
  const { feed } = partsOf(job);
  const known = feed.every(({ material }) => material !== undefined);
  const items = feed.map(({ item }) => item);
  if (job.entry.verb === 'dry') return ofWater(job, whole, known ? items : []);
  if (job.entry.verb === 'magnet' && known) return ofMagnetite(job, whole, items);
  return [];
};

const held = (items: readonly ChargeItem[], which: ReadonlySet<string>): Estimate =>
  heldInCharge(items, (what) => (which.has(what) ? 1 : 0));

const WATER: ReadonlySet<string> = new Set(['H2O']);
const MAGNETIC: ReadonlySet<string> = new Set(['Fe3O4', 'Fe']);

/** Ores carry 5 to 15 % of adherent water. */
const ORE_WATER: Estimate = { low: 0.05, best: 0.1, high: 0.15 };
const WATER_USUAL: readonly Assumption[] = [
  assume('ores carry 5 to 15 % of adherent water', 'A Text-book of Assaying, 1904'),
  assume('concentrate straight from the pan 10 to 25 %', FROM_MEMORY),
];

const ofWater = (job: Job, whole: number, items: readonly ChargeItem[]): readonly Advice[] => {
  const own = held(items, WATER);
  const isSaid = own.best > 0;
  const water = isSaid ? own : times(ORE_WATER, whole);
  const left = less(exactly(whole), water);
  const [only, ...others] = job.step!.outputs.filter(({ flow }) => !flow.none);
  const writes: Writing[] =
    isSaid && only && others.length === 0 && !only.flow.amount?.figure
      ? [{ flow: only.flow, amount: guessWords(left, 'g'), range: rangeWords(left, 'g') }]
      : [];
  const working = (): Working => ({
    says: isSaid
      ? `${rangeWords(water, 'g')} of water leaves, and ${rangeWords(left, 'g')} stays.`
      : `How wet it is nobody said, and no earlier drying of such feed is written: an ore of this weight would lose ${rangeWords(water, 'g')}.`,
    rows: [
      `goes in           ${termWords(whole, 'g')}`,
      `water             ${isSaid ? 'by its make' : '5..15 %'} = ${estimateWords(water, 'g')}`,
      `stays             ${estimateWords(left, 'g')}`,
    ],
    assumed: isSaid ? [assume('water as its material has it', 'source with the material')] : WATER_USUAL,
    todo: DO_THEN.get('dry')!,
  });
  const label = `${rangeWords(water, 'g')} water${isSaid ? '' : ' if an ore'}`;
  return [{ topic: TOPIC, at: job.entry.head, label, rank: isSaid ? 'result' : 'extra', working, writes }];
};

const ofMagnetite = (job: Job, whole: number, items: readonly ChargeItem[]): readonly Advice[] => {
  const magnetic = held(items, MAGNETIC);
  if (!(magnetic.best > 0)) return [];
  const working = (): Working => ({
    says: `By its make it holds ${rangeWords(magnetic, 'g')} that a hand magnet takes out; a strong one takes ilmenite and garnet too.`,
    rows: [
      `goes in           ${termWords(whole, 'g')}`,
      `magnetite, iron   ${partWords(times(magnetic, 1 / whole))} = ${estimateWords(magnetic, 'g')}`,
    ],
    assumed: [
      assume('magnetite and iron as the material has them', 'source with the material'),
      assume('a hand magnet takes magnetite and iron', FROM_MEMORY),
    ],
    todo: DO_THEN.get('magnet')!,
  });
  return [
    {
      topic: TOPIC,
      at: job.entry.head,
      label: `${rangeWords(magnetic, 'g')} magnetic by its make`,
      rank: 'result',
      working,
    },
  ];
};
