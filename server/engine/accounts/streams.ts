/**
 * A history as streams of mass: between steps, and from one weighing of a lot to the next. Where a lot is weighed again, or gives a part, the
 * record says that what comes there is what goes: such a place is a node as a step is.
 */
import { type Measured, negate } from '../../quantity/measured';
import type { Place } from '../../text/place';
import type { FlowWeight, LotEvent, LotEventKind, Step, Weight } from '../book';
import type { Entry, Flow } from '../entry';
import { stateMayChange } from '../handover';
import type { History } from './history';
import type { Lineage } from './lineage';
import { type Segment, segmentsOf } from './segments';

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
interface Draft {
  readonly lineage: Lineage;
  readonly all: Stream[];
  readonly byFlow: Map<Flow, Stream>;
  /** From an old name to a new one. */
  readonly renamed: Map<Entry, Stream>;
  readonly nodes: Map<Step, Node>;
  readonly coverage: number;
  readonly apart: Apart;
}

/** `coverage`: k, within which a lot that gave its parts is used up. */
export const streamsOf = (
  { stories, steps }: History,
  lineage: Lineage,
  coverage: number,
  apart: Apart = () => false,
): Streams => {
  const draft: Draft = { lineage, all: [], byFlow: new Map(), renamed: new Map(), nodes: new Map(), coverage, apart };
  for (const step of steps) layStep(draft, step);
  for (const story of stories) for (const segment of segmentsOf(story).all) laySegment(draft, segment);
  const all = drawnTogether(draft.all);
  return { all, ofFlow: (flow) => draft.byFlow.get(flow), nodes: draft.nodes };
};

const lay = (draft: Draft, stream: Partial<Stream> & Pick<Stream, 'of' | 'liquid'>): Stream => {
  const laid: Stream = { from: undefined, to: undefined, reading: undefined, ...stream };
  draft.all.push(laid);
  return laid;
};

const layStep = (draft: Draft, step: Step): void => {
  const node: Node = { metals: true, step };
  draft.nodes.set(step, node);
  const passage = draft.lineage.passage(step);
  const flow = (weight: FlowWeight, ends: Partial<Stream>): void => {
    if (weight.flow.none) return;
    const of = draft.lineage.segment(weight.flow);
    const passing = [...passage.inputs, ...passage.outputs].find((one) => one.flow === weight.flow);
    const liquid = passing?.unit === 'millilitre';
    const what = weight.flow.lot?.name ?? weight.flow.material?.name ?? weight.flow.kind ?? weight.flow.word;
    const reading = readingOf(weight, what, step.entry, weight.flow.place);
    draft.byFlow.set(weight.flow, lay(draft, { ...ends, reading, of, liquid }));
  };
  for (const weight of step.inputs) flow(weight, { to: node });
  for (const weight of step.added) flow(weight, { to: node, added: weight });
  for (const weight of step.outputs) flow(weight, { from: node });
  for (const weight of step.lost) flow(weight, { from: node });
  if (step.absorbed) {
    const comesIn = step.absorbed.value.isNegative();
    const gear = step.entry.gear.find(({ said }) => said.before && (comesIn || said.after));
    const reading = {
      mass: comesIn ? negate(step.absorbed) : step.absorbed,
      what: gear?.item.name ?? 'cupel',
      entry: step.entry,
      place: (comesIn ? gear?.said.before : gear?.said.after)?.place ?? step.entry.head,
    };
    lay(draft, { ...(comesIn ? { to: node } : { from: node }), reading, of: undefined, liquid: false });
  }
};

/** A figure off a scale; a guess, and what the record or a balance says, is none. */
const readingOf = (
  { ground, mass, amount }: Weight,
  what: string,
  entry: Entry,
  place: Place,
): MassReading | undefined =>
  ground === 'weighed' && mass && !mass.guessed && mass.errors.length > 0 && !mass.value.isNegative()
    ? { mass, what, entry, place: amount?.place ?? place }
    : undefined;

/** A lot on its way through a segment. */
interface Walk {
  readonly draft: Draft;
  readonly segment: Segment;
  readonly liquid: boolean;
  /** Where it stands; none once it is used up. */
  node: Node | undefined;
  /** Shipped, and perhaps coming back. */
  away: Node | undefined;
  /** What was written beside its last weighing. */
  last: Weight | undefined;
}

const laySegment = (draft: Draft, segment: Segment): void => {
  const liquid = isLiquid(segment);
  const walk: Walk = { draft, segment, liquid, node: undefined, away: undefined, last: undefined };
  for (const [at, event] of segment.events.entries()) {
    const reading = readingOf(event.weight, segment.lot, event.entry, event.place);
    const before = segment.events[at - 1];
    // Found when its parts have used it up, it comes from nowhere.
    if (event.kind === 'found' && before && isUsedUp(before, draft.coverage)) walk.node = undefined;
    STEPS.get(event.kind)?.(walk, event, reading);
  }
  if (walk.node && !isUsedUp(segment.events.at(-1)!, draft.coverage)) lot(walk, { from: walk.node });
  if (walk.away) lot(walk, { from: walk.away });
};

const isLiquid = ({ events }: Segment): boolean =>
  events.some(({ flow, weight }) => flow?.kind === 'solution' || (weight.volume !== undefined && !weight.mass));

/** Its last part took what was left, as far as weighing can tell. */
export const isUsedUp = ({ kind, after, weight }: LotEvent, coverage: number): boolean => {
  if (kind !== 'part-used' || !after || !weight.mass) return false;
  const u = Math.hypot(...after.errors.map(({ size }) => size));
  return after.value.toNumber() <= Math.max(coverage * u, weight.divisionGrams);
};

const newNode = ({ liquid }: Walk): Node => ({ metals: liquid, step: undefined });

const lot = ({ draft, segment, liquid }: Walk, ends: Partial<Stream>): Stream =>
  lay(draft, { ...ends, of: segment, liquid });

const open = (walk: Walk): Node => {
  walk.node ??= newNode(walk);
  return walk.node;
};

const begin = (walk: Walk, into: Stream, weight: Weight): void => {
  into.to = open(walk);
  walk.last ??= weight;
};

/**
 * The whole goes from where it stands to `to`; what may have dried or cooled since cannot be held against it, nor what somebody has accepted as
 * another weight.
 */
const pass = (walk: Walk, out: Stream, weight: Weight, to: Node | undefined): void => {
  const changed = weight.mass && walk.last && stateMayChange(walk.last, weight);
  const apart = changed || walk.draft.apart(weight);
  if (apart && walk.node) lot(walk, { from: walk.node });
  out.from = apart ? undefined : walk.node;
  out.to ??= to;
  walk.node = undefined;
};

type Laying = (walk: Walk, event: LotEvent, reading: MassReading | undefined) => void;

const made: Laying = (walk, { kind, entry, flow, weight }, reading) => {
  const { draft, segment } = walk;
  const stream = flow && draft.byFlow.get(flow);
  if (stream) begin(walk, stream, weight);
  else if (flow && kind === 'made' && entry.verb === 'sample') begin(walk, sampleStream(walk, flow), weight);
  else if (reading || segment.start.flow !== flow) begin(walk, lot(walk, { reading }), weight);
  else open(walk);
};

const returned: Laying = (walk, event, reading) => {
  if (!walk.away) {
    if (isSampleBack(walk, event)) lessBack(walk, event, reading);
    else made(walk, event, reading);
    return;
  }
  walk.node = newNode(walk);
  const apart = walk.draft.apart(event.weight);
  if (apart) lot(walk, { from: walk.away });
  lot(walk, { from: apart ? undefined : walk.away, to: walk.node, reading });
  walk.away = undefined;
};

/** A sample that comes back from where it was assayed; not what is given back to its lot. */
const isSampleBack = ({ node, segment }: Walk, { entry }: LotEvent): boolean =>
  node !== undefined && entry.verb === 'sample' && entry.name?.name !== segment.lot;

/** What does not come back was used up, and nobody weighed it. */
const lessBack: Laying = (walk, { weight }, reading) => {
  const next = newNode(walk);
  lot(walk, { from: walk.node });
  lot(walk, { from: walk.node, to: next, reading });
  walk.node = next;
  walk.last = weight;
};

const renamed: Laying = (walk, { entry, weight }) => {
  const stream = renamedStream(walk, entry);
  if (walk.segment.start.entry === entry && entry.toLot?.name === walk.segment.lot) begin(walk, stream, weight);
  else {
    stream.from = walk.node;
    walk.node = undefined;
  }
};

const weighedAgain: Laying = (walk, { weight }, reading) => {
  if (!reading) return;
  const next = newNode(walk);
  pass(walk, lot(walk, { reading }), weight, next);
  walk.node = next;
  walk.last = weight;
};

const usedWhole: Laying = (walk, { flow, weight }, reading) => {
  const stream = flow && walk.draft.byFlow.get(flow);
  if (stream || walk.node) pass(walk, stream ?? lot(walk, { reading }), weight, undefined);
};

const shipped: Laying = (walk, { flow, weight }, reading) => {
  if (flow?.part) lot(walk, { reading, from: open(walk) });
  else {
    const away = newNode(walk);
    pass(walk, lot(walk, { reading }), weight, away);
    walk.away = away;
  }
};

const discarded: Laying = (walk, { after, weight }, reading) => {
  if (after?.value.greaterThan(0)) lot(walk, { reading, from: open(walk) });
  else if (walk.node || reading) pass(walk, lot(walk, { reading }), weight, undefined);
};

const partUsed: Laying = (walk, { flow }, reading) => {
  const stream = (flow && walk.draft.byFlow.get(flow)) ?? lot(walk, { reading });
  stream.from = open(walk);
};

const sampled: Laying = (walk, { flow }, reading) => {
  if (!flow) return;
  const taken = flow.lot && flow.word === 'out' ? sampleStream(walk, flow) : lot(walk, {});
  taken.from = open(walk);
  taken.reading ??= reading;
};

/** What an assay took is used up. */
const assayTook: Laying = (walk, _, reading) => {
  if (reading) lot(walk, { reading, from: open(walk) });
};

const STEPS: ReadonlyMap<LotEventKind, Laying> = new Map([
  ['received', (walk, { weight }, reading) => begin(walk, lot(walk, { reading }), weight)],
  ['made', made],
  ['continued', made],
  ['returned', returned],
  ['renamed', renamed],
  ['weighed', weighedAgain],
  ['found', weighedAgain],
  ['used', usedWhole],
  ['sold', usedWhole],
  ['missing', usedWhole],
  ['shipped', shipped],
  ['discarded', discarded],
  ['part-used', partUsed],
  ['sampled', sampled],
  ['assayed', assayTook],
]);

const sampleStream = (walk: Walk, flow: Flow): Stream => {
  const stream = walk.draft.byFlow.get(flow) ?? lot(walk, {});
  walk.draft.byFlow.set(flow, stream);
  return stream;
};

const renamedStream = (walk: Walk, entry: Entry): Stream => {
  const stream = walk.draft.renamed.get(entry) ?? lot(walk, {});
  walk.draft.renamed.set(entry, stream);
  return stream;
};

/**
 * A node that only hands on is no node: one stream comes, one goes, and no more than one of them was weighed. Nor is one where a lot begins
 * from nowhere, or ends.
 */
const drawnTogether = (all: readonly Stream[]): readonly Stream[] => {
  const into = new Map<Node, Stream[]>();
  const outOf = new Map<Node, Stream[]>();
  const add = (map: Map<Node, Stream[]>, node: Node | undefined, stream: Stream): void => {
    if (!node || node.step) return;
    const list = map.get(node);
    if (list) list.push(stream);
    else map.set(node, [stream]);
  };
  for (const stream of all) {
    add(into, stream.to, stream);
    add(outOf, stream.from, stream);
  }
  const gone = new Set<Stream>();
  for (const node of new Set([...into.keys(), ...outOf.keys()])) {
    const [ins, outs] = [into.get(node) ?? [], outOf.get(node) ?? []];
    const [first, second] = [ins[0], outs[0]];
    if (ins.length === 0) for (const stream of outs) stream.from = undefined;
    else if (outs.length === 0) for (const stream of ins) stream.to = undefined;
    else if (ins.length === 1 && outs.length === 1 && !(first!.reading && second!.reading)) {
      first!.reading ??= second!.reading;
      first!.to = second!.to;
      gone.add(second!);
      const next = first!.to && into.get(first!.to);
      if (next) next[next.indexOf(second!)] = first!;
    }
  }
  return all.filter((stream) => !gone.has(stream));
};
