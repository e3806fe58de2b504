/** One lot's descent and what became of it, as a tree: at each step what went over, by weight and by fine metal. */
import { fromMeasured } from '../engine/accounts/inexact';
import { movedBy } from '../engine/accounts/moves';
import type { Segment } from '../engine/accounts/segments';
import { type Fine, fineOf } from '../engine/accounts/stock';
import type { LotEvent } from '../engine/book';
import type { Entry, Flow } from '../engine/entry';
import type { Measured } from '../quantity/measured';
import type { Place } from '../text/place';
import { type Accounts, accountsOf } from '../workspace/accounts';
import { correctionsIn } from '../workspace/parts';
import type { Workspace } from '../workspace/workspace';

/** A lot as it stood in one stretch of its story, and how it came there. */
export interface TraceNode {
  readonly lot: string;
  readonly kind: string | undefined;
  /** The entry that joins it to the node above: the step it went into, or came out of. */
  readonly by: Entry | undefined;
  /** What went over of it: grams, or millilitres. */
  readonly amount: Measured | undefined;
  readonly unit: 'gram' | 'millilitre';
  readonly fine: readonly Fine[];
  readonly place: Place;
  /** Thrown away as soon as it was made. */
  readonly discarded: boolean;
  /** Something was corrected in the entry of `by`, or in what is told of the lot itself. */
  readonly corrected: boolean;
  /** Told in full further up. */
  readonly told: boolean;
  readonly next: readonly TraceNode[];
}

export interface Trace {
  readonly lot: string;
  readonly self: TraceNode;
  /** What it was made of, back to what came in. */
  readonly from: readonly TraceNode[];
  /** Where it went, on to what is on hand or left the shop. */
  readonly to: readonly TraceNode[];
}

/** None for a lot that the journal does not make. Follows all stretches of a lot that goes on under its name. */
export const traceOf = (workspace: Workspace, lot: string): Trace | undefined => {
  const accounts = accountsOf(workspace);
  const story = workspace.book.lot(lot);
  if (!story || story.births.length === 0) return undefined;
  const segment = accounts.metals.lineage.segmentAt(lot)!;
  const self = nodeOf(accounts, segment, undefined, undefined, []);
  return { lot, self, from: back(accounts, segment, new Set()), to: onward(accounts, segment, new Set()) };
};

const nodeOf = (
  accounts: Accounts,
  segment: Segment,
  by: Entry | undefined,
  flow: Flow | undefined,
  next: readonly TraceNode[] | undefined,
): TraceNode => {
  const amount = movedIn(segment, flow);
  return {
    lot: segment.lot,
    kind: segment.start.flow?.kind ?? segment.story.make?.kind ?? segment.story.make?.material,
    by,
    amount,
    unit: segment.start.weight.mass || !segment.start.weight.volume ? 'gram' : 'millilitre',
    fine: fineOf(accounts.metals.best(segment), amount && fromMeasured(amount)),
    place: flow?.place ?? segment.start.place,
    discarded: segment.events.some((event) => isDiscardedAtOnce(event, segment)),
    corrected: (by !== undefined && correctionsIn(by).length > 0) || segment.events.some(isCorrected),
    told: next === undefined,
    next: next ?? [],
  };
};

/** In the line that the lot stands on; in all of an entry that speaks of one lot. */
const isCorrected = ({ entry, flow }: LotEvent): boolean =>
  correctionsIn(entry).some(({ at }) => !flow || (at.anchor === flow.place.anchor && at.start === flow.place.start));

const isDiscardedAtOnce = ({ kind, entry }: LotEvent, { start }: Segment): boolean =>
  kind === 'discarded' && entry === start.entry;

/** What a flow takes or makes; else what there was at the start. */
const movedIn = (segment: Segment, flow: Flow | undefined): Measured | undefined => {
  const event = flow && segment.events.find((one) => one.flow === flow);
  const weight = (event ?? segment.start).weight;
  const amount = weight.mass ?? weight.volume ?? segment.start.weight.mass ?? segment.start.weight.volume;
  return amount?.value.greaterThan(0) ? amount : undefined;
};

/** Lines of descent may meet again, and wrong records go in circles: each stretch is told once. */
const back = (accounts: Accounts, segment: Segment, seen: Set<Segment>): readonly TraceNode[] => {
  const { lineage } = accounts.metals;
  const { was, passage } = lineage.origin(segment);
  const step = passage?.step.entry ?? segment.start.entry;
  const parents: readonly { readonly of: Segment; readonly flow: Flow | undefined }[] = was
    ? [{ of: was, flow: undefined }]
    : (passage?.inputs ?? []).flatMap(({ flow }) => {
        const of = lineage.segment(flow);
        return of && of !== segment ? [{ of, flow }] : [];
      });
  return parents.map(({ of, flow }) => {
    if (seen.has(of)) return nodeOf(accounts, of, step, flow, undefined);
    seen.add(of);
    return nodeOf(accounts, of, step, flow, back(accounts, of, seen));
  });
};

const onward = (accounts: Accounts, segment: Segment, seen: Set<Segment>): readonly TraceNode[] => {
  const { lineage } = accounts.metals;
  const nodes: TraceNode[] = [];
  const follow = (of: Segment | undefined, by: Entry, flow: Flow | undefined): void => {
    if (!of || of === segment) return;
    const told = seen.has(of);
    seen.add(of);
    nodes.push(nodeOf(accounts, of, by, flow, told ? undefined : onward(accounts, of, seen)));
  };
  for (const event of segment.events) {
    if (event.kind === 'renamed' && event !== segment.start) follow(lineage.renamedTo(segment), event.entry, undefined);
    else if (event.kind === 'sampled') follow(event.flow && lineage.segment(event.flow), event.entry, event.flow);
    else if ((LEAVING.has(event.kind) && !isDiscardedAtOnce(event, segment)) || isAllAssayed(event))
      nodes.push(leaving(accounts, segment, event));
  }
  for (const { passage } of lineage.uses(segment)) {
    for (const { flow } of passage.outputs) follow(lineage.segment(flow), passage.step.entry, flow);
  }
  return nodes;
};

const LEAVING: ReadonlySet<LotEvent['kind']> = new Set(['shipped', 'sold', 'discarded', 'missing']);

/** Used up to the last of it; of what an assay took the lot's own story tells. */
const isAllAssayed = ({ kind, after }: LotEvent): boolean => kind === 'assayed' && after?.value.isZero() === true;

/** Out of the shop, or out of the record. */
const leaving = (accounts: Accounts, segment: Segment, event: LotEvent): TraceNode => {
  const moved = movedBy(event, segment);
  const amount = moved?.value.greaterThan(0) ? moved : undefined;
  return {
    ...nodeOf(accounts, segment, event.entry, event.flow, []),
    amount,
    fine: fineOf(accounts.metals.best(segment), amount && fromMeasured(amount)),
    place: event.place,
  };
};
