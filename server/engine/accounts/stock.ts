/** What is on hand at the end of a day: each lot with what is left of it, its metals, where it is and whose. */
import type { Measured } from '../../quantity/measured';
import { changedInOrder, firstWhere } from '../../text/lists';
import type { LotEvent, LotStory } from '../book';
import type { Named } from '../entry';
import { type BlockSum, blockwise } from './blocks';
import { fromMeasured, type Inexact, isGuess, times } from './inexact';
import type { Known, MetalGround } from './known';
import type { Lineage } from './lineage';
import { ALL } from './liquids';
import { memo } from './memo';
import type { Metals } from './metals';
import { isByVolume, leftAfter } from './moves';
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
  /** The day on which it came to be what it is; empty where none is written. */
  readonly since: string;
  /** What is left: grams, or millilitres of a solution; none when not known. */
  readonly amount: Measured | undefined;
  readonly unit: 'gram' | 'millilitre';
  readonly fine: readonly Fine[];
  readonly ownership: Ownership;
}

/** A lot's story with the days of its first and last event, and what was last found of it. */
interface Looked {
  readonly story: LotStory;
  /** Among all, by the day of their first event. */
  place: number;
  readonly first: string;
  readonly last: string;
  readonly events: number;
  /** So many of its events counted; -1 where nobody has looked yet. */
  count: number;
  holding: Holding | undefined;
}

/** Lists of so many days are kept: an account asks for the same two of each metal, and the next for one of them again. */
const MOST_DAYS = 4;

/**
 * What is on hand at the end of a day, without one at the end of the record: lots in the order in which they came to be on hand. What was found
 * for a lot is kept as long as no more of its events count, so that a year of months costs little more than one. `isBought`: an owner may
 * change from day to day with nothing happening to a lot.
 */
export const stockOver = (
  stories: readonly LotStory[],
  metals: Metals,
  owners: (segment: Segment, date?: string) => Ownership,
  isBought: boolean,
): ((date?: string) => readonly Holding[]) => {
  const looked = stories
    .map(({ events }, at): Looked => {
      const [first, last] = [dateOf(events[0]), dateOf(events.at(-1))];
      return { story: stories[at]!, place: 0, first, last, events: events.length, count: -1, holding: undefined };
    })
    .sort((a, b) => (a.first < b.first ? -1 : a.first > b.first ? 1 : 0));
  for (const [place, one] of looked.entries()) one.place = place;
  const days = new Map<string | undefined, readonly Holding[]>();
  const look = (one: Looked, count: number, date: string | undefined): void => {
    const { events } = one.story;
    const standing = standingOf(one.story, count === events.length ? events : events.slice(0, count), metals.lineage);
    one.holding = standing && holdingOf(standing, metals, owners(standing.segment, date));
    one.count = count;
  };
  /** It may be bought with nothing happening to it. */
  const bought = (holding: Holding, date: string | undefined): Holding => {
    const ownership = owners(holding.segment, date);
    return ownership === holding.ownership ? holding : { ...holding, ownership };
  };
  // Of what came before this place, these stand as they are for good, and of these something is still to be told.
  let [asked, next, settled, open]: [string, number, readonly Looked[], readonly Looked[]] = ['', 0, [], []];
  return (date) => {
    const known = days.get(date);
    if (known) return known;
    if (date === undefined || date < asked) [next, settled, open] = [0, [], []];
    const come = date === undefined ? looked.length : firstWhere(looked, ({ first }) => first > date, next);
    const [still, stands]: [Looked[], Looked[]] = [[], []];
    for (const one of [...open, ...looked.slice(next, come)]) {
      const count = date === undefined || one.last <= date ? one.events : countUntil(one.story, date);
      if (count !== one.count) look(one, count, date);
      else if (one.holding && isBought) one.holding = bought(one.holding, date);
      if (count < one.events || isBought) still.push(one);
      else if (one.holding) stands.push(one);
    }
    settled = changedInOrder(settled, NO_LOTS, stands, byDate);
    const onHand = changedInOrder(
      settled,
      NO_LOTS,
      still.filter(({ holding }) => holding),
      byDate,
    );
    // Without a day there is no later one to go on to.
    if (date === undefined) [asked, next, settled, open] = ['', 0, [], []];
    else [asked, next, open] = [date, come, still];
    const list = onHand.map(({ holding }) => holding!);
    if (days.size >= MOST_DAYS) days.delete(days.keys().next().value);
    days.set(date, list);
    return list;
  };
};

const NO_LOTS: ReadonlySet<Looked> = new Set();

/** Some are again what they are since a later day than they came: they stand behind those that came on it. */
const byDate = (a: Looked, b: Looked): number => {
  const [x, y] = [a.holding?.since ?? '', b.holding?.since ?? ''];
  if (x !== y) return x < y ? -1 : 1;
  return Number(x !== a.first) - Number(y !== b.first) || a.place - b.place;
};

const dateOf = (event: LotEvent | undefined): string => event?.entry.date ?? '';

/** How many of its events, which stand in their order, are of this day or an earlier one. */
const countUntil = ({ events }: LotStory, date: string): number => {
  let count = events.length;
  while (count > 0 && dateOf(events[count - 1]) > date) count--;
  return count;
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

const isGone = ({ kind, after, volumeAfter, entry, flow, weight }: LotEvent): boolean => {
  const left = after ?? volumeAfter;
  if (left) return left.value.lessThanOrEqualTo(0) && kind !== 'received' && kind !== 'made';
  if (kind === 'renamed') return flow === undefined && weight.ground === 'unknown' && entry.toLot !== undefined;
  return TAKEN_WHOLE.has(kind) && !flow?.part;
};

const holdingOf = (standing: Standing, metals: Metals, ownership: Ownership): Holding => {
  const { segment, last } = standing;
  const size = leftAfter(last, segment);
  const amount = size?.value.greaterThan(0) ? size : undefined;
  return {
    ...standing,
    lot: segment.lot,
    since: dateOf(segment.start),
    amount,
    unit: isByVolume(segment) ? 'millilitre' : 'gram',
    fine: isUnmeasured(last, segment)
      ? fineOf(metals.inAll(segment), ALL)
      : fineOf(metals.best(segment), amount && fromMeasured(amount)),
    ownership,
  };
};

/** A solution, all of which is there. */
const isUnmeasured = (last: LotEvent, { start }: Segment): boolean =>
  last === start && start.kind === 'made' && !start.weight.mass && !start.weight.volume;

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

/** By its share, or by the weight of its lot. */
export const isGuessed = ({ grams, known }: Fine): boolean =>
  known.ground === 'guessed' || (grams !== undefined && isGuess(grams));

/** How its grams are known, which is no better than its weight is. */
export const groundIn = (of: Fine): MetalGround => (isGuessed(of) ? 'guessed' : of.known.ground);

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

export interface Total {
  readonly grams: Inexact;
  readonly unknown: number;
}

const sums = new Map<string, (holdings: readonly Holding[]) => readonly BlockSum[]>();
const totals = memo<readonly Holding[], Map<string, Total>>();

/** Of several lots together; one whose metal is not known is left out, and counted. Kept with the list. */
export const totalOf = (holdings: readonly Holding[], metal: string): Total => {
  const ofList = totals.get(holdings) ?? new Map<string, Total>();
  totals.set(holdings, ofList);
  const before = ofList.get(metal);
  if (before) return before;
  const gramsOf = ({ fine }: Holding): Inexact | undefined => fine.find((one) => one.metal === metal)?.grams;
  const sumUp = sums.get(metal) ?? blockwise<Holding>(({ since }) => since, [gramsOf]);
  sums.set(metal, sumUp);
  const [{ grams, known }] = sumUp(holdings) as [BlockSum];
  const made = { grams, unknown: holdings.length - known };
  ofList.set(metal, made);
  return made;
};
