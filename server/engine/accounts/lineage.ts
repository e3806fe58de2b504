/** How segments of lots hang together: what each came from, and what it went into. */
import type { Book, LotEvent, LotStory, Step } from '../book';
import type { Entry, Flow } from '../entry';
import { byItself } from '../learnt';
import type { Workshop } from '../workshop';
import { fromMeasured, type Inexact } from './inexact';
import { memo } from './memo';
import { type Passage, type Passing, passageOf } from './passage';
import { type Segment, segmentsOf } from './segments';

/** Where a segment comes from: the step that made it, or the lot that it was: renamed, or sampled from. */
export interface Origin {
  readonly passage: Passage | undefined;
  readonly was: Segment | undefined;
}

/** A step that took of a segment, and as what. */
export interface Use {
  readonly passage: Passage;
  readonly input: Passing;
}

export interface Lineage {
  /** The segment that a flow begins or is taken from. */
  readonly segment: (flow: Flow) => Segment | undefined;
  /** The segment of a lot that an entry speaks of, the later where it ends one and begins another; without an entry its last. */
  readonly segmentAt: (lot: string, entry?: Entry) => Segment | undefined;
  readonly origin: (segment: Segment) => Origin;
  readonly uses: (segment: Segment) => readonly Use[];
  /** The lot's next name. */
  readonly renamedTo: (segment: Segment) => Segment | undefined;
  readonly passage: (step: Step) => Passage;
  readonly story: (lot: string) => LotStory | undefined;
}

export type LineageBook = Pick<Book, 'lot' | 'step' | 'make'>;

/** A step by itself is a new object whenever a weight or make in it is another, so its passage may be kept with it. */
const passages = memo<Step, Passage>();

const FROM_NOWHERE: Origin = { passage: undefined, was: undefined };

export const lineageOf = (book: LineageBook, workshop: Workshop): Lineage => {
  const segment = (flow: Flow): Segment | undefined => {
    const story = flow.lot && book.lot(flow.lot.name);
    return story && segmentsOf(story).ofFlow(flow);
  };

  const segmentAt = (lot: string, entry?: Entry): Segment | undefined => {
    const story = book.lot(lot);
    const all = story ? segmentsOf(story).all : [];
    return entry ? all.findLast(({ events }) => events.some((event) => event.entry === entry)) : all.at(-1);
  };

  /** What a flow that was not weighed holds: the whole of its lot. */
  const amountOf = (flow: Flow): Inexact | undefined => {
    const weight = flow.part ? undefined : segment(flow)?.start.weight;
    const amount = weight?.mass ?? weight?.volume;
    return amount?.value.greaterThan(0) ? fromMeasured(amount) : undefined;
  };

  const passage = (step: Step): Passage => {
    const alone = byItself(step);
    const known = passages.get(alone);
    if (known) return known;
    const made = passageOf(alone, workshop, book.make, amountOf);
    passages.set(alone, made);
    return made;
  };

  const passageIn = (entry: Entry): Passage | undefined => {
    const step = book.step(entry);
    return step && passage(step);
  };

  const findOrigin = (of: Segment): Origin => {
    const { entry, kind, flow } = of.start;
    const parent = kind === 'renamed' || (kind === 'made' && entry.verb === 'sample') ? entry.name : undefined;
    if (parent) {
      const was = parent.name === of.lot ? undefined : endingAt(book.lot(parent.name), entry);
      return { passage: undefined, was };
    }
    if (!flow || (kind !== 'made' && kind !== 'continued')) return FROM_NOWHERE;
    return { passage: passageIn(entry), was: undefined };
  };

  const findUses = (of: Segment): readonly Use[] =>
    of.events.flatMap((event) => {
      if (!takes(event)) return [];
      const through = passageIn(event.entry);
      const input = through?.inputs.find(({ flow }) => flow === event.flow);
      return through && input ? [{ passage: through, input }] : [];
    });

  // Asked for several times over by whatever goes along a history.
  const origin = once(findOrigin);
  const uses = once(findUses);

  const renamedTo = (of: Segment): Segment | undefined => {
    const event = of.events.find((one) => one.kind === 'renamed' && one !== of.start);
    return event?.entry.toLot && segmentAt(event.entry.toLot.name, event.entry);
  };

  return { segment, segmentAt, origin, uses, renamedTo, passage, story: book.lot };
};

const once = <Value>(find: (of: Segment) => Value): ((of: Segment) => Value) => {
  const found = new Map<Segment, Value>();
  return (of) => {
    const known = found.get(of);
    if (known !== undefined) return known;
    const value = find(of);
    found.set(of, value);
    return value;
  };
};

const takes = ({ kind, flow }: LotEvent): boolean => flow !== undefined && (kind === 'used' || kind === 'part-used');

const endingAt = (story: LotStory | undefined, entry: Entry): Segment | undefined =>
  story && segmentsOf(story).all.find(({ events }) => events.some((event) => event.entry === entry));
