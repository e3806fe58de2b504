/** What is on hand at the end of a day: each lot with what is left of it, its metals, where it is and whose. */
import type { Measured } from '../../quantity/measured';
import type { Book, LotEvent, LotStory } from '../book';
import type { Named } from '../entry';
import { fromMeasured, type Inexact, sum, times } from './inexact';
import type { Known } from './known';
import type { Lineage } from './lineage';
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

/** A lot that is on hand after some of its events. */
export interface Standing {
  readonly segment: Segment;
  readonly last: LotEvent;
  /** Where it was last said to be, and who has it. */
  readonly at: Named | undefined;
  readonly with: Named | undefined;
}

export interface Holding extends Standing {
  readonly lot: string;
  /** What is left: grams, or millilitres of a solution; none when not known. */
  readonly amount: Measured | undefined;
  readonly unit: 'gram' | 'millilitre';
  readonly fine: readonly Fine[];
  readonly ownership: Ownership;
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
    if (!story) continue;
    const events = date === undefined ? story.events : story.events.filter(({ entry }) => (entry.date ?? '') <= date);
    const standing = standingOf(story, events, metals.lineage);
    if (standing) holdings.push(holdingOf(standing, metals, owners(standing.segment)));
  }
  return holdings.sort(byDate);
};

/** Undefined for a lot that nothing makes, or of which nothing is left after these events, the first of its story. */
export const standingOf = (
  story: LotStory,
  events: readonly LotEvent[],
  lineage: Pick<Lineage, 'origin'>,
): Standing | undefined => {
  if (story.births.length === 0) return undefined;
  const last = events.findLast(({ kind }) => MOVES.has(kind));
  if (!last || isGone(last)) return undefined;
  const segment = segmentsOf(story).all.find((one) => one.events.includes(last))!;
  return { segment, last, ...whereIs(story, events, lineage) };
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

const holdingOf = (standing: Standing, metals: Metals, ownership: Ownership): Holding => {
  const { segment, last } = standing;
  const left = last.after;
  const volume = segment.start.weight.volume;
  const size = left ?? volume;
  const amount = size?.value.greaterThan(0) ? size : undefined;
  return {
    ...standing,
    lot: segment.lot,
    amount,
    unit: left || !volume ? 'gram' : 'millilitre',
    fine: fineOf(metals.best(segment), amount && fromMeasured(amount)),
    ownership,
  };
};

type Whereabouts = Pick<Standing, 'at' | 'with'>;

/**
 * Where a lot was last said to be, and who has it. What came back nobody has any more; under a new name a lot is where it was under the old one.
 */
const whereIs = (story: LotStory, events: readonly LotEvent[], lineage: Pick<Lineage, 'origin'>): Whereabouts => {
  let [at, by, isBack]: [Named | undefined, Named | undefined, boolean] = [undefined, undefined, false];
  for (let index = events.length - 1; index >= 0; index--) {
    const event = events[index]!;
    at ??= saidOf(event, story.name, 'at');
    by ??= isBack ? undefined : saidOf(event, story.name, 'to');
    isBack ||= event.kind === 'returned';
  }
  const before = at && (by || isBack) ? undefined : formerly(story, lineage);
  return { at: at ?? before?.at, with: by ?? (isBack ? undefined : before?.with) };
};

/** What a line says of another lot, as of a sample that goes to a laboratory, is not said of this one. */
const saidOf = ({ entry, flow }: LotEvent, lot: string, word: 'at' | 'to'): Named | undefined => {
  if (flow !== undefined && flow.lot?.name !== lot) return undefined;
  // Where a count says that it looked, there it found all that it names.
  return flow?.said[word] ?? (flow === undefined || entry.verb === 'count' ? entry.said[word] : undefined);
};

const formerly = (story: LotStory, lineage: Pick<Lineage, 'origin'>): Whereabouts | undefined => {
  const [first] = segmentsOf(story).all;
  const was = first?.start.kind === 'renamed' ? lineage.origin(first).was : undefined;
  if (!was || was.story === story) return undefined;
  const renamed = was.events.findIndex(({ entry }) => entry === first!.start.entry);
  return whereIs(was.story, was.events.slice(0, renamed), lineage);
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
