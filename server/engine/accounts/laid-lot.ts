/** A lot laid as streams, from each of its events to the next. */
import type { LotEvent, LotEventKind, Weight } from '../book';
import type { Entry, Flow } from '../entry';
import { stateMayChange } from '../handover';
import type { Segment } from './segments';
import { type Draft, lay, type MassReading, type Node, readingOf, type Stream } from './stream';

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

export const layLot = (draft: Draft, segment: Segment): void => {
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
