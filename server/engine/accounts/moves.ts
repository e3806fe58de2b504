/** What comes in, goes out and is left of a lot, event by event, in the measure that the shares of its metals are of: grams, or millilitres. */

import type { Measured } from '../../quantity/measured';
import { negate, subtract, uncertainty } from '../../quantity/measured';
import type { Handover, LotEvent, LotEventKind, LotStory } from '../book';
import type { Entry } from '../entry';
import { fromMeasured, type Inexact } from './inexact';
import { type Segment, segmentsOf } from './segments';

/** How metal comes into the account and goes out of it. */
export type Movement =
  | 'received'
  | 'returned'
  | 'found'
  | 'added'
  | 'shipped'
  | 'sold'
  | 'discarded'
  | 'lost'
  | 'assayed'
  | 'missing';

/** What comes in; all other movements go out. */
export const COMES_IN: ReadonlySet<Movement> = new Set(['received', 'returned', 'found', 'added']);

/** What went to somebody else for good. */
export const DELIVERED: ReadonlySet<Movement> = new Set<Movement>(['shipped', 'sold']);

/** What an event does to the metal on hand: something of the lot comes in, leaves, or is used up. */
export interface Move {
  readonly date: string;
  readonly entry: Entry;
  readonly segment: Segment;
  readonly movement: Movement;
  /** None where nobody measured it. */
  readonly amount: Inexact | undefined;
  /** It is all that there ever was of the lot. */
  readonly all: boolean;
}

const KINDS: ReadonlyMap<LotEventKind, Movement> = new Map<LotEventKind, Movement>([
  ['received', 'received'],
  ['returned', 'returned'],
  ['found', 'found'],
  ['shipped', 'shipped'],
  ['sold', 'sold'],
  ['discarded', 'discarded'],
  ['assayed', 'assayed'],
  ['missing', 'missing'],
]);

/** All that moves, by date; of one date in the order of the lots. */
export const movesOf = (stories: readonly LotStory[]): readonly Move[] => {
  const moves: Move[] = [];
  for (const story of stories) {
    for (const segment of segmentsOf(story).all) {
      for (const event of segment.events) {
        const moved = moveIn(event, segment);
        if (!moved) continue;
        const { entry } = event;
        const { movement, size } = moved;
        const amount = size && fromMeasured(size);
        moves.push({ date: entry.date ?? '', entry, segment, movement, amount, all: isAll(event, segment) });
      }
    }
  }
  return moves.sort(byDate);
};

const byDate = (a: { readonly date: string }, b: { readonly date: string }): number =>
  a.date < b.date ? -1 : a.date > b.date ? 1 : 0;

/** A lot that weighed otherwise the next time, with nothing said to have been done to it. */
export interface Change {
  readonly date: string;
  readonly segment: Segment;
  /** What is there no more, in grams; below zero what is there beside. */
  readonly missing: Inexact;
}

/** Be it explained, accepted or neither. One weighing between two that agree has changed nothing, and what a count found beyond the record has moved. */
export const changesOf = (stories: readonly LotStory[]): readonly Change[] =>
  stories.flatMap((story) => story.handovers.flatMap((one) => changeIn(one, story) ?? [])).sort(byDate);

const changeIn = ({ to, difference, explained, again }: Handover, story: LotStory): Change | undefined => {
  const isFound = to.entry.verb === 'count' && !explained && difference.value.greaterThan(0);
  const segment = segmentsOf(story).all.find(({ events }) => events.some(({ weight }) => weight === to.weight));
  if (difference.value.isZero() || again || isFound || !segment) return undefined;
  return { date: to.entry.date ?? '', segment, missing: fromMeasured(negate(difference)) };
};

/** None of an event that moves nothing across the edge of the account. */
export const moveIn = (
  event: LotEvent,
  segment: Segment,
): { readonly movement: Movement; readonly size: Measured | undefined } | undefined => {
  const used = usedUpOf(event, segment);
  if (used) return { movement: 'assayed', size: used };
  const movement = KINDS.get(event.kind);
  if (!movement || isWithinShop(event)) return undefined;
  const size = movement === 'found' ? foundBeyond(event, segment) : movedBy(event, segment);
  // An assay that took nothing, and a count that found what was there, are no movement; what nobody measured is one.
  if (size ? !size.value.greaterThan(0) : movement === 'assayed' || movement === 'found') return undefined;
  return { movement, size };
};

/** A lot that is measured in litres from where it begins: the shares of its metals are grams in a millilitre. */
export const isByVolume = ({ start: { weight } }: Segment): boolean => !weight.mass && weight.volume !== undefined;

const TAKES_WHOLE: ReadonlySet<LotEventKind> = new Set(['used', 'shipped', 'sold', 'discarded', 'missing']);

/** What an event takes or brings: as it was measured, else all there was where it took all. */
export const movedBy = (event: LotEvent, segment: Segment): Measured | undefined => {
  const { weight, kind, flow } = event;
  const takesAll = TAKES_WHOLE.has(kind) && !flow?.part;
  return (isByVolume(segment) ? weight.volume : weight.mass) ?? (takesAll ? leftBefore(event, segment) : undefined);
};

/** Goes whole, and nothing was taken of it before. */
export const isAll = (event: LotEvent, { events }: Segment): boolean =>
  TAKES_WHOLE.has(event.kind) &&
  !event.flow?.part &&
  !events.some((one) => TAKES_PART.has(one.kind) || (one !== event && TAKES_WHOLE.has(one.kind)));

const TAKES_PART: ReadonlySet<LotEventKind> = new Set(['part-used', 'sampled']);

const leftBefore = ({ before, volumeBefore }: LotEvent, segment: Segment): Measured | undefined =>
  isByVolume(segment) ? volumeBefore : before;

/** What is left of a lot after an event. */
export const leftAfter = ({ after, volumeAfter }: LotEvent, segment: Segment): Measured | undefined =>
  isByVolume(segment) ? volumeAfter : after;

/** Of a sample that came back, what did not: it was used up where it was assayed. */
const usedUpOf = ({ kind, entry, before, weight }: LotEvent, { lot }: Segment): Measured | undefined => {
  if (kind !== 'returned' || entry.verb !== 'sample' || entry.name?.name === lot) return undefined;
  return before && weight.mass?.value.lessThan(before.value) ? subtract(before, weight.mass) : undefined;
};

/** Standard uncertainties past which a count has found something else than the record has. */
const APART = 2;

/** What a count found beyond the record: all of a lot of which nothing was left, and more than weighing explains of one that was there. */
const foundBeyond = (event: LotEvent, segment: Segment): Measured | undefined => {
  // Of a lot that is there, the hand-over has judged the difference.
  const handover = segment.story.handovers.find(({ to }) => to.entry === event.entry);
  if (handover) return handover.explained ? undefined : handover.difference;
  const [found, left] = [movedBy(event, segment), leftBefore(event, segment)];
  const more = found && left && subtract(found, left);
  return more?.value.greaterThan(APART * uncertainty(more)) ? more : undefined;
};

/** A sale of what was shipped before moves nothing; a sample that comes back was never away from the account. */
const isWithinShop = ({ kind, before, entry }: LotEvent): boolean =>
  (kind === 'sold' && before?.value.isZero() === true) || (kind === 'returned' && entry.verb === 'sample');
