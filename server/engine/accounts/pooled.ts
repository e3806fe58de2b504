/**
 * Several assays of one lot as one. What is done in one way, by one method in one house, has its error in common: it is one series, whether it
 * stands in one entry or in many. Series of different ways know nothing of each other.
 */

import type { Entry } from '../entry';
import { standardDeviation } from '../statistics/robust';
import { assayed, meanOf, valuesOf, wayOf } from './assays';
import { type Inexact, spread, weightedMean, widenedBy } from './inexact';
import { type Knowledge, type Known, known, worseGround } from './known';

/** Entries by the way that they were done in, in their order. */
export const seriesOf = (entries: readonly Entry[]): readonly (readonly Entry[])[] => {
  const byWay = new Map<string, Entry[]>();
  for (const entry of entries) {
    const way = wayOf(entry);
    const series = byWay.get(way);
    if (series) series.push(entry);
    else byWay.set(way, [entry]);
  }
  return [...byWay.values()];
};

/** What the entries of one series say of a metal: all determinations as if they stood in one. Beside it what only has bounds, or is a guess. */
export const toldBy = (series: readonly Entry[], metal: string): readonly Known[] => {
  const all = series.flatMap((entry) => {
    const one = assayed(entry).get(metal);
    return one ? [{ entry, one, values: one.share && one.ground === 'assayed' ? valuesOf(entry, metal) : [] }] : [];
  });
  const read = all.filter(({ values }) => values.length > 0);
  const [first] = read;
  if (!first || read.length < 2) return all.map(({ one }) => one);
  const mean = meanOf(
    first.entry,
    metal,
    read.flatMap(({ values }) => values),
  );
  const by = read.map(({ entry }) => entry);
  return [known(mean, 'assayed', by, 0, 1), ...all.flatMap(({ one, values }) => (values.length > 0 ? [] : [one]))];
};

/**
 * Several assays of one metal as one: the umpire's alone where there is one, else each series by its uncertainty, widened where they scatter more
 * than these allow (Birge ratio). Bounds are kept beside.
 */
export const pooled = (entries: readonly Entry[]): Knowledge => {
  const [only] = entries;
  if (only && entries.length === 1) return assayed(only);
  const byMetal = told(entries);
  const umpires = told(entries.filter(({ said }) => said.umpire));
  for (const [metal, all] of umpires) if (all.some(({ share }) => share)) byMetal.set(metal, all);
  return withDensity(new Map([...byMetal].map(([metal, all]) => [metal, pool(all)])));
};

/** These read the skin of a piece. */
const OF_SKIN: ReadonlySet<string | undefined> = new Set(['xrf', 'touch']);
/** A figure this many standard uncertainties outside of what a density allows is contradicted by it. */
const CONTRADICTED = 2;

/**
 * A density is of the whole piece. Where it has no room for gold that was read on the skin alone, nobody knows which of them fails: a hollow
 * weighs so, and plate. Then the gold lies between them, and under a skin that is too light for the piece any heavy metal may be; of the other
 * metals of the skin no more is known than that they have room.
 */
const withDensity = (told: Map<string, Known>): Knowledge => {
  const gold = told.get('Au');
  if (!gold?.share || !gold.by.every((entry) => isOfSkin(entry) || !assayed(entry).get('Au')?.share)) return told;
  const { value } = gold.share;
  const reach = CONTRADICTED * spread(gold.share);
  const isHeavy = value < gold.low - reach;
  if (!isHeavy && value <= gold.high + reach) return told;
  const low = isHeavy ? 0 : gold.low;
  for (const [metal, one] of told) {
    if (metal === 'Au') told.set(metal, { ...one, share: undefined, low, high: isHeavy ? gold.high : value + reach });
    else if (one.by.every(isOfSkin)) told.set(metal, { ...one, share: undefined, low: 0, high: 1 - low });
  }
  return told;
};

const isOfSkin = ({ method }: Entry): boolean => OF_SKIN.has(method?.name);

const told = (entries: readonly Entry[]): Map<string, readonly Known[]> => {
  const series = seriesOf(entries);
  const metals = new Set(entries.flatMap((entry) => [...assayed(entry).keys()]));
  return new Map([...metals].map((metal) => [metal, series.flatMap((one) => toldBy(one, metal))]));
};

const pool = (all: readonly Known[]): Known => {
  const low = Math.max(...all.map((one) => one.low));
  const high = Math.min(...all.map((one) => one.high));
  const consistent = low <= high;
  const shares = all.filter((one) => one.share && one.ground === 'assayed');
  const [first, ...others] = (shares.length > 0 ? shares : all).flatMap(({ share }) => share ?? []);
  const by = all.flatMap((one) => one.by);
  const ground = shares.length > 0 ? 'assayed' : all.map((one) => one.ground).reduce(worseGround);
  const bounds = consistent ? { low, high } : { low: 0, high: 1 };
  return { share: first && widened([first, ...others]), ...bounds, ground, by };
};

const widened = (shares: readonly [Inexact, ...Inexact[]]): Inexact => {
  const mean = weightedMean(shares);
  if (shares.length < 2 || spread(mean) === 0) return mean;
  const chi = shares.reduce((so, one) => so + ((one.value - mean.value) / spread(one)) ** 2, 0);
  const ratio = Math.sqrt(chi / (shares.length - 1));
  return ratio <= 1 ? mean : widenedBy(mean, ratio);
};

/** One series, or one entry of it, against what else is said of a metal. */
export interface Against {
  readonly metal: string;
  /** The entry that is looked at, and what is held against the other side: its own figure, or that of its series. */
  readonly entry: Entry;
  readonly here: Known;
  /** The last of the other side. */
  readonly other: Entry;
  readonly there: Known;
  /** Difference, in standard uncertainties of what the two do not share. */
  readonly times: number;
}

/**
 * Every two that may be held against each other, at the entry that stands later: series against series, and within a series of three and more each
 * entry against the mean of the others, by their scatter where that is more than the method allows; of two the later against the earlier.
 */
export const againstEachOther = (entries: readonly Entry[]): readonly Against[] => {
  const series = seriesOf(entries);
  const metals = new Set(entries.flatMap((entry) => [...assayed(entry).keys()]));
  const found: Against[] = [];
  for (const metal of metals) {
    const sides = series.flatMap((one) => {
      const members = one.filter((entry) => isRead(assayed(entry).get(metal)));
      const said = members.length > 0 ? toldBy(members, metal)[0] : undefined;
      return said?.share ? [{ members, said }] : [];
    });
    for (const { members } of sides) found.push(...withinSeries(members, metal));
    for (const [at, { members, said: here }] of sides.entries())
      for (const { members: others, said: there } of sides.slice(0, at)) {
        const inOrder = [members, others].sort((a, b) => entries.indexOf(a.at(-1)!) - entries.indexOf(b.at(-1)!));
        const [[other], [entry]] = inOrder.map((side) => side.slice(-1)) as [[Entry], [Entry]];
        const swapped = inOrder[1] !== members;
        const times = apart(here.share!, there.share!, spread(here.share!), spread(there.share!));
        const sidesNow = swapped ? { here: there, there: here } : { here, there };
        found.push({ metal, entry, other, ...sidesNow, times });
      }
  }
  return found;
};

const isRead = (one: Known | undefined): boolean => one?.share !== undefined && one.ground !== 'guessed';

const withinSeries = (members: readonly Entry[], metal: string): readonly Against[] => {
  const said = (entry: Entry): Known => assayed(entry).get(metal)!;
  const looked = members.length === 2 ? members.slice(1) : members.length > 2 ? members : [];
  return looked.map((entry): Against => {
    const others = members.filter((one) => one !== entry);
    const here = said(entry);
    const there = toldBy(others, metal)[0]!;
    const shares = others.map((one) => said(one).share!);
    // Of one reading nobody knows how it scatters: no more than its method errs by.
    const most = Math.max(...shares.map(spread), deviation(shares.map(({ value }) => value)));
    const u = others.length === 1 ? spread(here.share!) : Math.max(spread(here.share!), most);
    const times = apart(here.share!, there.share!, u, most / Math.sqrt(others.length));
    return { metal, entry, other: others.at(-1)!, here, there, times };
  });
};

const apart = (a: Inexact, b: Inexact, u: number, v: number): number => {
  const [difference, both] = [Math.abs(a.value - b.value), Math.hypot(u, v)];
  return difference === 0 ? 0 : difference / both;
};

/** None of one alone. */
const deviation = (values: readonly number[]): number => (values.length < 2 ? 0 : standardDeviation(values));
