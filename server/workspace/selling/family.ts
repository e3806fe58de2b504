/** Back and forth along the history of a customer's metal: the lots that it came in as, and all that came of them. */
import type { Lineage } from '../../engine/accounts/lineage';
import type { Segment } from '../../engine/accounts/segments';

/**
 * The lots that came in which these came from, and all others that were worked together with one of them while they were `theirs`, in the order
 * of the journal.
 */
export const workedTogether = (
  lineage: Lineage,
  segments: readonly Segment[],
  isTheirs: (segment: Segment) => boolean,
): readonly Segment[] => {
  const from = (all: readonly Segment[]): readonly Segment[] =>
    [...new Set(all.filter(isTheirs).flatMap((segment) => cameFrom(lineage, segment)))].filter(isTheirs);
  let received = from(segments);
  for (;;) {
    const all = from([...received, ...cameOf(lineage, received, isTheirs)]);
    if (all.length === received.length) return received;
    received = all;
  }
};

/** Back to the lots that came in. */
export const cameFrom = (lineage: Lineage, segment: Segment): readonly Segment[] => {
  const seen = new Set<Segment>();
  const received: Segment[] = [];
  const queue = [segment];
  for (let next = queue.pop(); next; next = queue.pop()) {
    if (seen.has(next)) continue;
    seen.add(next);
    if (next.start.kind === 'received') received.push(next);
    const { was, passage } = lineage.origin(next);
    if (was) queue.push(was);
    for (const { flow } of passage?.inputs ?? [])
      queue.push(...(lineage.segment(flow) ? [lineage.segment(flow)!] : []));
  }
  return received.reverse();
};

/** On to everything that came of them, samples among it; not past what is theirs no more, such as a slag that stays here. */
export const cameOf = (
  lineage: Lineage,
  received: readonly Segment[],
  isTheirs: (segment: Segment) => boolean,
): readonly Segment[] => {
  const seen = new Set<Segment>();
  const queue = [...received].reverse();
  for (let next = queue.pop(); next; next = queue.pop()) {
    if (seen.has(next)) continue;
    seen.add(next);
    if (!isTheirs(next)) continue;
    const renamed = lineage.renamedTo(next);
    const sampled = next.events.flatMap(({ kind, flow }) =>
      kind === 'sampled' && flow ? (lineage.segment(flow) ?? []) : [],
    );
    const products = lineage
      .uses(next)
      .flatMap(({ passage }) => passage.outputs.flatMap(({ flow }) => lineage.segment(flow) ?? []));
    queue.push(...[...(renamed ? [renamed] : []), ...sampled, ...products].reverse());
  }
  return [...seen];
};
