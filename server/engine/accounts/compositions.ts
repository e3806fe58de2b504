/** What every stream of a history is made of: its assays, and for what comes from the shelf its material. */

import { addedParts } from '../charge';
import type { Entry } from '../entry';
import type { MoreFineness } from '../reconcile/metal-system';
import type { Reading } from '../reconcile/system';
import type { Workshop } from '../workshop';
import { assayed } from './assays';
import { fateOf } from './destiny';
import type { History } from './history';
import { type Inexact, spread } from './inexact';
import type { Metals } from './metals';
import { pooled, seriesOf, toldBy } from './pooled';
import { type Segment, segmentsOf } from './segments';
import type { Stream, Streams } from './stream';
import { unionsOf } from './unions';

/** An assay of one metal. */
export interface FinenessReading {
  readonly metal: string;
  readonly share: Inexact;
  readonly segment: Segment;
  readonly entry: Entry;
}

/** Where an assay stands in the network. */
export interface FinenessRead {
  readonly kind: 'fineness';
  readonly reading: FinenessReading;
  readonly composition: number;
  readonly metal: number;
  /** Its place among the further assays; none for the first of a composition. */
  readonly more: number | undefined;
}

export const nothing = (): Reading => ({ value: 0 });

/** The assays of each segment, a sample's with those of its lot; the umpire's alone where there is one, and none that a density disputes. */
export const assaysOf = ({ stories }: History, metals: Metals): readonly FinenessReading[] =>
  stories.flatMap((story) =>
    segmentsOf(story).all.flatMap((segment) => {
      if (segment.start.entry.verb === 'sample' && metals.lineage.origin(segment).was) return [];
      const entries = [...new Set(metals.assays(segment))];
      const umpires = entries.filter(({ said }) => said.umpire);
      const together = pooled(entries);
      return seriesOf(umpires.length > 0 ? umpires : entries).flatMap((series) =>
        [...new Set(series.flatMap((entry) => [...assayed(entry).keys()]))].flatMap((metal) =>
          toldBy(series, metal).flatMap(({ share, ground, by }): FinenessReading[] =>
            share && together.get(metal)?.share && ground === 'assayed' && spread(share) > 0 && share.value <= 1
              ? [{ metal, share, segment, entry: farthest(by, metal, share.value) }]
              : [],
          ),
        ),
      );
    }),
  );

/** Of a series the entry that would be looked at first. */
const farthest = (series: readonly Entry[], metal: string, mean: number): Entry => {
  const off = (entry: Entry): number => Math.abs((assayed(entry).get(metal)?.share?.value ?? mean) - mean);
  return series.reduce((so, entry) => (off(entry) > off(so) ? entry : so));
};

/** Metals that no heat burns off, of which something is read. */
export const symbolsOf = (
  assays: readonly FinenessReading[],
  { all }: Streams,
  workshop: Workshop,
): readonly string[] => {
  const found = new Set(assays.map(({ metal }) => metal));
  if (found.size > 0)
    for (const { added } of all) for (const what of added ? sharesOf(added, workshop).keys() : []) found.add(what);
  return [...found].filter((metal) => fateOf(metal) === 'gold' || fateOf(metal) === 'silver').sort();
};

/** Metals of what was added, as shares of it. */
const sharesOf = (added: NonNullable<Stream['added']>, workshop: Workshop): ReadonlyMap<string, number> => {
  const parts = addedParts([added], workshop);
  const all = parts.reduce((sum, { item }) => sum + item.massGrams, 0);
  const shares = new Map<string, number>();
  for (const { material, item } of all > 0 ? parts : [])
    for (const { what, fraction } of material?.composition ?? [])
      shares.set(what, (shares.get(what) ?? 0) + (fraction * item.massGrams) / all);
  return shares;
};

export interface Compositions {
  /** Of each stream. */
  readonly of: readonly number[];
  readonly readings: readonly Reading[][];
  readonly more: readonly MoreFineness[];
  readonly reads: readonly FinenessRead[];
  /** The composition of a segment; −1 where no stream is of it. */
  readonly ofSegment: (segment: Segment) => number;
}

/** Fine metal of the trade is 999 or 999.9: a thousandth, give or take. */
const FINE_U = 0.0005;

export const compositionsOf = (
  history: History,
  laid: Streams,
  metals: Metals,
  workshop: Workshop,
  symbols: readonly string[],
  assays: readonly FinenessReading[],
): Compositions => {
  const same = unionsOf(history, metals.lineage);
  const index = new Map<Segment, number>();
  const readings: Reading[][] = [];
  const next = (of: readonly Reading[]): number => readings.push([...of]) - 1;
  const of = laid.all.map(({ of: segment, added, liquid }): number => {
    if (added) return next(symbols.map((metal) => fineReading(sharesOf(added, workshop).get(metal) ?? 0)));
    if (!segment) return next(symbols.map(nothing));
    if (liquid) return next(symbols.map(() => ({})));
    const first = same(segment);
    const known = index.get(first);
    if (known !== undefined) return known;
    const made = next(symbols.map(() => ({})));
    index.set(first, made);
    return made;
  });
  const ofSegment = (segment: Segment): number => index.get(same(segment)) ?? -1;
  const more: MoreFineness[] = [];
  const reads: FinenessRead[] = [];
  for (const reading of assays) {
    const [composition, metal] = [ofSegment(reading.segment), symbols.indexOf(reading.metal)];
    if (composition < 0 || metal < 0) continue;
    const figure = { value: reading.share.value, u: spread(reading.share) };
    const isFirst = readings[composition]![metal]!.value === undefined;
    if (isFirst) readings[composition]![metal] = figure;
    else more.push({ ...figure, composition, metal });
    reads.push({ kind: 'fineness', reading, composition, metal, more: isFirst ? undefined : more.length - 1 });
  }
  return { of, readings, more, reads, ofSegment };
};

const fineReading = (share: number): Reading =>
  share > 0 ? { value: share, u: Math.min(FINE_U, share / 10) } : { value: 0 };
