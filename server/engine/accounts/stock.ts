/** What is on hand at the end of a day: each lot with what is left of it, its metals, where it is and whose. */
import type { Measured } from '../../quantity/measured';
import type { Book, LotEvent } from '../book';
import type { Named } from '../entry';
import { fromMeasured, type Inexact, sum, times } from './inexact';
import type { Known } from './known';
import type { Metals } from './metals';
import type { Ownership } from './owners';
import { type Segment, segmentsOf } from './segments';

export interface Fine {
  readonly metal: string;
  /** None where only bounds are known. */
  readonly grams: Inexact | undefined;
  readonly lowGrams: number;
  readonly highGrams: number;
  readonly known: Known;
}

export interface Holding {
  readonly lot: string;
  readonly segment: Segment;
  /** The last event up to the day. */
  readonly last: LotEvent;
  /** What is left: grams, or millilitres of a solution; none when not known. */
  readonly amount: Measured | undefined;
  readonly unit: 'gram' | 'millilitre';
  readonly fine: readonly Fine[];
  readonly ownership: Ownership;
  /** Where it was last said to be, and who has it. */
  readonly at: Named | undefined;
  readonly with: Named | undefined;
}

/** Lots in the order in which they came to be on hand. Without a date at the end of the record. */
export const stockOf = (
  book: Pick<Book, 'lot' | 'lotNames'>,
  metals: Metals,
  owners: (segment: Segment) => Ownership,
  date?: string,
): readonly Holding[] => {
  const holdings: Holding[] = [];
  for (const lot of book.lotNames()) {
    const story = book.lot(lot);
    if (!story || story.births.length === 0) continue;
    const events = date === undefined ? story.events : story.events.filter(({ entry }) => (entry.date ?? '') <= date);
    const last = events.findLast(({ kind }) => MOVES.has(kind));
    if (!last || isGone(last)) continue;
    const segment = segmentsOf(story).all.find((one) => one.events.includes(last))!;
    holdings.push(holdingOf(segment, last, events, metals, owners(segment)));
  }
  return holdings.sort(byDate);
};

const MOVES: ReadonlySet<string> = new Set([
  'received',
  'made',
  'continued',
  'weighed',
  'used',
  'part-used',
  'sampled',
  'returned',
  'found',
  'missing',
  'discarded',
  'renamed',
  'shipped',
  'sold',
  'assayed',
]);

const TAKEN_WHOLE: ReadonlySet<string> = new Set(['used', 'shipped', 'sold', 'missing']);

const isGone = ({ kind, after, entry, flow, weight }: LotEvent): boolean => {
  if (after) return after.value.lessThanOrEqualTo(0) && kind !== 'received' && kind !== 'made';
  if (kind === 'renamed') return flow === undefined && weight.ground === 'unknown' && entry.toLot !== undefined;
  return TAKEN_WHOLE.has(kind) && !flow?.part;
};

const byDate = (a: Holding, b: Holding): number => {
  const [first, second] = [a.segment.start.entry.date ?? '', b.segment.start.entry.date ?? ''];
  return first < second ? -1 : first > second ? 1 : 0;
};

const holdingOf = (
  segment: Segment,
  last: LotEvent,
  events: readonly LotEvent[],
  metals: Metals,
  ownership: Ownership,
): Holding => {
  const left = last.after;
  const volume = segment.start.weight.volume;
  const size = left ?? volume;
  const amount = size?.value.greaterThan(0) ? size : undefined;
  /** What a line says of another lot, as of a sample that goes to a laboratory, is not said of this one. */
  const said = (word: 'at' | 'to'): Named | undefined => {
    for (const { entry, flow } of [...events].reverse()) {
      const own = flow === undefined || flow.lot?.name === segment.lot;
      // Where a count says that it looked, there it found all that it names.
      const found = flow?.said[word] ?? (flow === undefined || entry.verb === 'count' ? entry.said[word] : undefined);
      if (own && found) return found;
    }
    return undefined;
  };
  return {
    lot: segment.lot,
    segment,
    last,
    amount,
    unit: left || !volume ? 'gram' : 'millilitre',
    fine: fineOf(metals.best(segment), amount && fromMeasured(amount)),
    ownership,
    at: said('at'),
    with: said('to'),
  };
};

/** Metals of a lot in grams, in the order of their worth. */
export const fineOf = (knowledge: ReadonlyMap<string, Known>, amount: Inexact | undefined): readonly Fine[] => {
  if (!amount) return [];
  const fine = [...knowledge].map(([metal, known]): Fine => {
    const { share, low, high } = known;
    return {
      metal,
      grams: share && times(amount, share),
      lowGrams: low * amount.value,
      highGrams: Math.min(1, high) * amount.value,
      known,
    };
  });
  return fine.sort((a, b) => order(a.metal) - order(b.metal));
};

const ORDER: readonly string[] = ['Au', 'Ag', 'Au+Ag', 'Pt', 'Pd', 'Cu', 'Pb'];
const order = (metal: string): number => (ORDER.includes(metal) ? ORDER.indexOf(metal) : ORDER.length);

/** Of several lots together; one whose metal is not known is left out, and counted. */
export const totalOf = (
  holdings: readonly Holding[],
  metal: string,
): { readonly grams: Inexact; readonly unknown: number } => {
  const known = holdings.flatMap(({ fine }) => fine.find((one) => one.metal === metal)?.grams ?? []);
  return { grams: sum(known), unknown: holdings.length - known.length };
};
