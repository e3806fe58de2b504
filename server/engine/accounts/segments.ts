/**
 * A lot has one composition from where it comes into being, or comes out of a step under its own name, until the next such place. Knowledge
 * belongs to such a segment of its story.
 */
import type { LotEvent, LotEventKind, LotStory } from '../book';
import type { Flow } from '../entry';
import { memo } from './memo';

export interface Segment {
  readonly lot: string;
  readonly story: LotStory;
  /** Where it begins: received, made, going on, renamed; of a lot that nothing makes, where it is first spoken of. */
  readonly start: LotEvent;
  /** Its events from `start` on, up to the next beginning. */
  readonly events: readonly LotEvent[];
}

export interface Segments {
  readonly all: readonly Segment[];
  /** The segment that a flow begins, or is taken from. */
  readonly ofFlow: (flow: Flow) => Segment | undefined;
}

const BEGINNINGS: ReadonlySet<LotEventKind> = new Set(['received', 'made', 'continued', 'renamed']);

const kept = memo<LotStory, Segments>();

/** Of one story; the same object as long as the story is. */
export const segmentsOf = (story: LotStory): Segments => {
  const known = kept.get(story);
  if (known) return known;
  const all = cut(story);
  const byFlow = new Map<Flow, Segment>();
  for (const segment of all) for (const { flow } of segment.events) if (flow) byFlow.set(flow, segment);
  const segments: Segments = { all, ofFlow: (flow) => byFlow.get(flow) };
  kept.set(story, segments);
  return segments;
};

const cut = (story: LotStory): Segment[] => {
  const parts: LotEvent[][] = [];
  for (const event of story.events) {
    const part = parts.at(-1);
    if (!part || begins(event, part, story)) parts.push([event]);
    else part.push(event);
  }
  return parts.map((events) => ({ lot: story.name, story, start: events[0]!, events }));
};

/** Prills found in the same melt on another day belong to what was made there; the old name of a renamed lot only ends. */
const begins = (event: LotEvent, part: readonly LotEvent[], story: LotStory): boolean => {
  if (!BEGINNINGS.has(event.kind)) return false;
  if (event.kind === 'renamed') return story.births.includes(event);
  if (event.kind !== 'made') return true;
  return part[0]!.kind !== 'made' || part[0]!.entry.name?.name !== event.entry.name?.name;
};
