/** Streams of mass and the nodes between them, while they are laid and when all are. */
import type { Measured } from '../../quantity/measured';
import type { Place } from '../../text/place';
import type { FlowWeight, Step, Weight } from '../book';
import type { Entry, Flow } from '../entry';
import type { Lineage } from './lineage';
import type { Segment } from './segments';

/** A weight that was read. */
export interface MassReading {
  readonly mass: Measured;
  /** The lot, material or thing that was weighed. */
  readonly what: string;
  readonly entry: Entry;
  readonly place: Place;
}

/** `metals`: streams of several compositions meet, so metals are kept beside the mass. */
export interface Node {
  readonly metals: boolean;
  readonly step: Step | undefined;
}

export interface Stream {
  from: Node | undefined;
  to: Node | undefined;
  reading: MassReading | undefined;
  /** Whose metal it is; none of what comes from the shelf. */
  readonly of: Segment | undefined;
  /** What was added from the shelf. */
  readonly added?: FlowWeight;
  readonly liquid: boolean;
}

export interface Streams {
  readonly all: readonly Stream[];
  readonly ofFlow: (flow: Flow) => Stream | undefined;
  /** Of each step its node. */
  readonly nodes: ReadonlyMap<Step, Node>;
}

/** A weighing that is held against none before it. */
export type Apart = (weight: Weight) => boolean;

/** Streams and nodes while they are laid. */
export interface Draft {
  readonly lineage: Lineage;
  readonly all: Stream[];
  readonly byFlow: Map<Flow, Stream>;
  /** From an old name to a new one. */
  readonly renamed: Map<Entry, Stream>;
  readonly nodes: Map<Step, Node>;
  readonly coverage: number;
  readonly apart: Apart;
}

export const lay = (draft: Draft, stream: Partial<Stream> & Pick<Stream, 'of' | 'liquid'>): Stream => {
  const laid: Stream = { from: undefined, to: undefined, reading: undefined, ...stream };
  draft.all.push(laid);
  return laid;
};

/** A figure off a scale; a guess, and what the record or a balance says, is none. */
export const readingOf = (
  { ground, mass, amount }: Weight,
  what: string,
  entry: Entry,
  place: Place,
): MassReading | undefined =>
  ground === 'weighed' && mass && !mass.guessed && mass.errors.length > 0 && !mass.value.isNegative()
    ? { mass, what, entry, place: amount?.place ?? place }
    : undefined;
