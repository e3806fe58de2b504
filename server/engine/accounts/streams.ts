/**
 * A history as streams of mass: between steps, and from one weighing of a lot to the next. Where a lot is weighed again, or gives a part, the
 * record says that what comes there is what goes: such a place is a node as a step is.
 */
import { negate } from '../../quantity/measured';
import type { FlowWeight, Step } from '../book';
import type { History } from './history';
import { layLot } from './laid-lot';
import type { Lineage } from './lineage';
import { segmentsOf } from './segments';
import { type Apart, type Draft, lay, type Node, readingOf, type Stream, type Streams } from './stream';

/** `coverage`: k, within which a lot that gave its parts is used up. */
export const streamsOf = (
  { stories, steps }: History,
  lineage: Lineage,
  coverage: number,
  apart: Apart = () => false,
): Streams => {
  const draft: Draft = { lineage, all: [], byFlow: new Map(), renamed: new Map(), nodes: new Map(), coverage, apart };
  for (const step of steps) layStep(draft, step);
  for (const story of stories) for (const segment of segmentsOf(story).all) layLot(draft, segment);
  const all = drawnTogether(draft.all);
  return { all, ofFlow: (flow) => draft.byFlow.get(flow), nodes: draft.nodes };
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
