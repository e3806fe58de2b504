/**
 * A history as the reconciliation takes it: streams with their readings, compositions with their assays, and what a step usually loses as
 * one more figure with its uncertainty. Guesses, stamps and claims are no readings.
 */
import { type ErrorSource, uncertainty } from '../../quantity/measured';
import type { Step } from '../book';
import type { MetalNetwork, MetalStream } from '../reconcile/metals';
import type { Reading, SharedError } from '../reconcile/system';
import { throughput } from '../step';
import type { Workshop } from '../workshop';
import { assaysOf, compositionsOf, type FinenessRead, type FinenessReading, nothing, symbolsOf } from './compositions';
import type { History } from './history';
import { metalLosses } from './losses';
import type { Metals } from './metals';
import type { Apart, MassReading, Node, Stream, Streams } from './stream';
import { streamsOf } from './streams';

/** Where a reading stands in the network. */
export type Read = { readonly kind: 'mass'; readonly reading: MassReading; readonly stream: number } | FinenessRead;

/** What a step lost without anybody weighing it. */
export interface Loss {
  readonly step: Step;
  readonly stream: number;
  /** Grams that a step of its kind may gain, added to the stream so that it is never below nothing. */
  readonly gains: number;
}

export interface HistoryNetwork {
  readonly network: MetalNetwork;
  /** By chemical symbol. */
  readonly metals: readonly string[];
  readonly streams: readonly Stream[];
  readonly reads: readonly Read[];
  readonly losses: readonly Loss[];
}

/** What is left out as a reading, for others have said already that it is wrong. */
export interface Aside {
  readonly mass?: (reading: MassReading) => boolean;
  readonly fineness?: (reading: FinenessReading) => boolean;
  /** Steps whose loss is not as usual. */
  readonly step?: (step: Step) => boolean;
  /** Weighings that are accepted as another weight than the one before: both stand, and neither checks the other. */
  readonly apart?: Apart;
}

export const networkOf = (history: History, metals: Metals, workshop: Workshop, aside: Aside = {}): HistoryNetwork => {
  const laid = streamsOf(history, metals.lineage, workshop.limits.coverage, aside.apart);
  const assays = assaysOf(history, metals);
  const symbols = symbolsOf(assays, laid, workshop);
  const told = assays.filter((reading) => !aside.fineness?.(reading));
  const compositions = compositionsOf(history, laid, metals, workshop, symbols, told);
  const nodes = numbered(laid, history, compositions.of);
  const sources = sourcesOf(laid.all);
  const streams = laid.all.map((stream, at): MetalStream => {
    const { from, to, reading } = stream;
    const read = reading && !aside.mass?.(reading) ? sources.reading(reading) : {};
    return { ...read, ...ends(nodes.index, from, to), composition: compositions.of[at]! };
  });
  const losses: Loss[] = [];
  const made = [...compositions.readings];
  const isUnusual = (step: Step): boolean => aside.step?.(step) ?? false;
  const lost = metalLosses(history, metals, laid, symbols, compositions, isUnusual);
  for (const step of history.steps) {
    const node = nodes.index.get(laid.nodes.get(step)!)!;
    for (const stream of usualStreams(step, node, workshop, aside)) {
      if (stream.loss) losses.push({ step, stream: streams.length, gains: stream.gains });
      const metal = stream.loss ? lost.of(step) : undefined;
      streams.push({ ...stream.stream, composition: made.length, ...(metal && { metals: metal, loose: true }) });
      made.push(
        metal ? symbols.map((_, each) => (metal[each]?.value === 0 ? { value: 0 } : {})) : symbols.map(nothing),
      );
    }
  }
  for (const [at, told] of lost.carried) streams[at] = { ...streams[at]!, metals: told, loose: true };
  return {
    network: {
      streams,
      nodes: nodes.count,
      metalNodes: nodes.metals,
      metals: symbols.length,
      compositions: made,
      more: compositions.more,
      sources: sources.count(),
    },
    metals: symbols,
    streams: laid.all,
    reads: [
      ...laid.all.flatMap(({ reading }, stream): Read[] =>
        reading && !aside.mass?.(reading) ? [{ kind: 'mass', reading, stream }] : [],
      ),
      ...compositions.reads,
    ],
    losses,
  };
};

const ends = (
  index: ReadonlyMap<Node, number>,
  from: Node | undefined,
  to: Node | undefined,
): { readonly from?: number; readonly to?: number } => ({
  ...(from && { from: index.get(from)! }),
  ...(to && { to: index.get(to)! }),
});

/** Nodes that keep metals before those that keep the mass alone, as all that meets there is of one composition. */
const numbered = (laid: Streams, { steps }: History, of: readonly number[]) => {
  const met = new Map<Node, Set<number>>();
  for (const step of steps) met.set(laid.nodes.get(step)!, new Set());
  for (const [at, { from, to }] of laid.all.entries()) {
    for (const node of [from, to]) {
      if (!node) continue;
      const all = met.get(node);
      if (all) all.add(of[at]!);
      else met.set(node, new Set([of[at]!]));
    }
  }
  const keeps = (node: Node): boolean => node.metals && (met.get(node)?.size ?? 0) > 1;
  const sorted = [...met.keys()].sort((a, b) => Number(keeps(b)) - Number(keeps(a)));
  return {
    index: new Map(sorted.map((node, at) => [node, at])),
    count: sorted.length,
    metals: sorted.filter(keeps).length,
  };
};

/** Errors that several readings share are sources; what is left of each is its own. */
const sourcesOf = (streams: readonly Stream[]) => {
  const times = new Map<ErrorSource, number>();
  for (const { reading } of streams)
    for (const { source } of reading?.mass.errors ?? []) times.set(source, (times.get(source) ?? 0) + 1);
  const index = new Map<ErrorSource, number>();
  const reading = ({ mass }: MassReading): Reading => {
    let squares = 0;
    const shared: SharedError[] = [];
    for (const { source, size } of mass.errors) {
      if ((times.get(source) ?? 0) < 2) squares += size * size;
      else {
        if (!index.has(source)) index.set(source, index.size);
        shared.push({ source: index.get(source)!, size });
      }
    }
    return { value: mass.value.toNumber(), u: Math.sqrt(squares), ...(shared.length > 0 && { shared }) };
  };
  return { reading, count: () => index.size };
};

/** Past this share of all that went in a usual loss may be anything, and tells nothing. */
const TELLS_NOTHING = 0.5;

interface Usual {
  readonly stream: Omit<MetalStream, 'composition'>;
  readonly loss: boolean;
  readonly gains: number;
}

/** Gas, slag that was not weighed, and what is left unaccounted for: nobody read them, but something is known of them. */
const usualStreams = (step: Step, node: number, { limits }: Workshop, aside: Aside): readonly Usual[] => {
  const streams: Usual[] = [];
  for (const mass of [step.gas, step.slag]) {
    if (!mass || mass.value.isZero()) continue;
    const stream = { from: node, value: mass.value.toNumber(), u: uncertainty(mass) };
    streams.push({ stream, loss: false, gains: 0 });
  }
  const all = throughput(step);
  const closure = (limits.closure ?? 0) * all;
  const [low, high] = [(step.usual?.low ?? 0) - closure, (step.usual?.high ?? 0) + closure];
  const unknown = !step.usual || aside.step?.(step) || high - low > TELLS_NOTHING * all;
  if (unknown) {
    streams.push({ stream: { from: node }, loss: true, gains: 0 });
    if (low < 0 || !step.usual || aside.step?.(step)) streams.push({ stream: { to: node }, loss: false, gains: 0 });
  } else if (high > low) {
    const gains = Math.max(0, -low);
    streams.push({
      stream: { from: node, value: (low + high) / 2 + gains, u: (high - low) / Math.sqrt(12) },
      loss: true,
      gains,
    });
    if (gains > 0) streams.push({ stream: { to: node, value: gains }, loss: false, gains: 0 });
  } else if (high > 0) streams.push({ stream: { from: node, value: high }, loss: true, gains: 0 });
  return streams;
};
