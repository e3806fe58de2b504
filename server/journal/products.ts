/** Names of products that were given none. */
import type { Flow, Named } from '../engine/entry';

/**
 * `out 41 g slag` under `M57` is `M57.slag`, a second one `M57.slag-2`. Without a name of the entry there is none to give.
 * `counts` remembers the kinds seen so far in the entry.
 */
export const productName = (flow: Flow, step: string | undefined, counts: Map<string, number>): Named | undefined => {
  if (!step) return undefined;
  const kind = flow.kind ?? 'other';
  const count = (counts.get(kind) ?? 0) + 1;
  counts.set(kind, count);
  return { name: count === 1 ? `${step}.${kind}` : `${step}.${kind}-${count}`, place: flow.place };
};
