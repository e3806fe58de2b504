/** What lies in the crucible when it is poured, and the furnace that it stands in. */
import type { Fractions } from '../engine/bench/alloy';
import { type MeltingRange, meltingRangeNear, USUAL_SUPERHEAT } from '../engine/bench/liquidus';
import { type Assumption, assume, type Estimate } from '../engine/bench/result';
import type { FlowWeight } from '../engine/book';
import { isMetalKind, metalShare, slagFrom } from '../engine/charge';
import type { Clock } from '../engine/entry';
import type { Furnace } from '../engine/workshop';
import { addedMetals, type Contents, chargedOf, contentsOf, type Job, knowledgeOf, partsOf, perJob } from './job';
import { openAdditions } from './target';

export interface Molten {
  /** Mass fractions 0 to 1 of the metal poured, best values. */
  readonly fractions: Fractions;
  readonly range: MeltingRange;
  readonly assumed: readonly Assumption[];
  readonly of: 'product' | 'charge';
  /** Some of it nobody named: lead or tin in it would melt far lower. */
  readonly isOpen: boolean;
}

/** By the product where it is assayed, else by all that was charged, else by what is known of the product; none where it is not known well enough. */
export const moltenOf = perJob((job: Job): Molten | undefined => {
  // What is to be added with it is not known yet.
  if (job.planned && openAdditions(job).length > 0) return undefined;
  const products = (job.step?.outputs ?? []).filter(({ flow }) => !flow.none && isMetalKind(flow.kind));
  const [only] = products;
  const product = only && products.length === 1 && !job.planned ? only : undefined;
  const byProduct = (): Molten | undefined => product && meltedFrom(contentsOf(job, product), new Map(), 'product');
  const byCharge = (): Molten | undefined =>
    isSmeltedOre(job) ? undefined : meltedFrom(chargedOf(job), addedMetals(job), 'charge');
  return product && isAssayed(job, product) ? (byProduct() ?? byCharge()) : (byCharge() ?? byProduct());
});

const isAssayed = (job: Job, { flow }: FlowWeight): boolean =>
  [...knowledgeOf(job, flow).values()].some(({ ground }) => ground === 'assayed');

const isSmeltedOre = (job: Job): boolean =>
  partsOf(job).feed.some(({ material }) => material !== undefined && metalShare(material) < 0.5);

/** Of an alloy that is named but for so much, the rest is the error of its assay. */
const NAMED_WITHIN = 0.005;
/** Below this width a share is one figure. */
const NARROW = 0.02;

const meltedFrom = (
  from: Contents | undefined,
  added: ReadonlyMap<string, number>,
  of: Molten['of'],
): Molten | undefined => {
  if (!from) return undefined;
  const grams = from.grams.best + [...added.values()].reduce((so, one) => so + one, 0);
  if (!(grams > 0)) return undefined;
  const shares = sharesOf(from, added, grams);
  if (!shares) return undefined;
  const fractions = new Map([...shares].map(([symbol, { best }]) => [symbol, best]));
  const best = meltingRangeNear(fractions);
  if (!best.value) return undefined;
  const wide = [...shares].filter(([, { low, high }]) => high - low > NARROW);
  const ends = wide.flatMap(([symbol, { low, high }]) =>
    [low, high].map((share) => meltingRangeNear(withShare(fractions, symbol, share))),
  );
  if (ends.some(({ value }) => !value)) return undefined;
  const unnamed = 1 - [...fractions.values()].reduce((so, share) => so + share, 0);
  // What nobody named may be copper; or lead, and then it melts far lower.
  if (unnamed > NAMED_WITHIN)
    ends.push(meltingRangeNear(new Map([...fractions, ['Cu', (fractions.get('Cu') ?? 0) + unnamed]])));
  const all = [best.value, ...ends.flatMap(({ value }) => value ?? [])];
  const liquidusCelsius = spanned(all.map((one) => one.liquidusCelsius));
  const solid = all.flatMap((one) => one.solidusCelsius ?? []);
  const solidusCelsius = best.value.solidusCelsius && solid.length === all.length ? spanned(solid) : undefined;
  const withoutSolidus = solidusCelsius ? undefined : all.find((one) => one.withoutSolidus)?.withoutSolidus;
  const guess = [
    ...(from.guessed ? [assume('what is charged holds what was said of it, not yet assayed', 'as written')] : []),
    ...(unnamed > NAMED_WITHIN
      ? [
          assume(
            `${Number((100 * unnamed).toFixed(1))} % of it nobody named: from none of it to all of it copper; with lead, tin or zinc it melts lower`,
            'limit of the model',
          ),
        ]
      : []),
  ];
  return {
    fractions,
    range: { liquidusCelsius, solidusCelsius, withoutSolidus },
    assumed: [...guess, ...best.assumed],
    of,
    isOpen: unnamed > NAMED_WITHIN,
  };
};

/** The first is the best; from the least to the most of all. */
const spanned = (all: readonly Estimate[]): Estimate => ({
  best: all[0]!.best,
  low: Math.min(...all.map(({ low }) => low)),
  high: Math.max(...all.map(({ high }) => high)),
});

/** Mass fractions; none where a metal is known as a wide range only, or where they come to more than there is: then the alloy is not known. */
const sharesOf = (
  from: Contents,
  added: ReadonlyMap<string, number>,
  grams: number,
): ReadonlyMap<string, Estimate> | undefined => {
  const symbols = new Set([...from.metals.keys(), ...added.keys()]);
  const of = (symbol: string, side: keyof Estimate): number =>
    ((from.metals.get(symbol)?.[side] ?? 0) + (added.get(symbol) ?? 0)) / grams;
  const shares = [...symbols].map((symbol): [string, Estimate] => [
    symbol,
    { low: of(symbol, 'low'), best: of(symbol, 'best'), high: of(symbol, 'high') },
  ]);
  const whole = shares.reduce((so, [, { best }]) => so + best, 0);
  if (whole > MOST_OF_WHOLE || shares.some(([, { low, high }]) => high - low > MOST_WIDE)) return undefined;
  return new Map(shares);
};

const MOST_OF_WHOLE = 1.01;
const MOST_WIDE = 0.15;

/** One metal at an end of its bounds; the others give way, or take up. */
const withShare = (fractions: Fractions, symbol: string, share: number): Fractions => {
  const held = Math.min(1, share);
  const others = [...fractions].filter(([other]) => other !== symbol);
  const rest = others.reduce((so, [, one]) => so + one, 0);
  const whole = rest + (fractions.get(symbol) ?? 0);
  const scale = rest > 0 ? Math.max(0, whole - held) / rest : 0;
  return new Map([[symbol, held], ...others.map(([other, one]): [string, number] => [other, one * scale])]);
};

/** More slag than this share of the charge wants a heat of its own to be fluid; less is a cover (from memory). */
const COVER = 0.1;

export const slagGrams = (job: Job): number => {
  const { step, workspace } = job;
  if (!step) return 0;
  const made = slagFrom(step.added, step.gas, workspace.workshop).value.toNumber();
  const ore = partsOf(job).feed.filter(({ material }) => material !== undefined && metalShare(material) < 0.5);
  return Math.max(0, made) + ore.reduce((so, { item }) => so + item.massGrams, 0);
};

export const isUnderSlag = (job: Job): boolean => {
  const all = (job.step?.inputs ?? []).reduce((so, { mass }) => so + (mass?.value.toNumber() ?? 0), 0);
  return slagGrams(job) > COVER * all;
};

export const usualSuperheat = (job: Job): { readonly kelvin: Estimate; readonly source: string } =>
  USUAL_SUPERHEAT.get(isUnderSlag(job) ? 'with slag' : 'clean metal')!;

export const furnaceOf = ({ entry, workspace: { workshop } }: Job): Furnace | undefined => {
  const named = entry.gear.find(({ word }) => word === 'furnace')?.item.name;
  return named === undefined ? undefined : workshop.furnaces.get(named);
};

export const clockOf = ({ entry }: Job, event: string): Clock | undefined =>
  entry.clocks.findLast(({ events }) => events.includes(event));

/** `Au 75 %, Ag 12.5 %, Cu 12.5 %`. */
export const alloyWords = (fractions: Fractions): string =>
  [...fractions]
    .filter(([, share]) => share >= 0.0005)
    .map(([symbol, share]) => `${symbol} ${Number((100 * share).toFixed(1))} %`)
    .join(', ');

/** `895 °C`, `884..914 °C`. */
export const celsiusWords = ({ low, best, high }: Estimate): string =>
  high - low < 2 ? `${Math.round(best)} °C` : `${Math.round(low)}..${Math.round(high)} °C`;
