/** Segments of one composition: a lot under its next name, a sample and its lot, what was poured from one melt or cut from one piece. */
import { destinyOf } from './destiny';
import type { History } from './history';
import type { Lineage } from './lineage';
import type { Passing } from './passage';
import { type Segment, segmentsOf } from './segments';

/** Says for each segment the one that stands for all of its composition. */
export const unionsOf = ({ stories, steps }: History, lineage: Lineage): ((segment: Segment) => Segment) => {
  const parents = new Map<Segment, Segment>();
  const first = (segment: Segment): Segment => {
    let at = segment;
    for (let next = parents.get(at); next; next = parents.get(at)) at = next;
    return at;
  };
  const join = (a: Segment | undefined, b: Segment | undefined): void => {
    if (!a || !b) return;
    const [one, other] = [first(a), first(b)];
    if (one !== other) parents.set(other, one);
  };
  for (const story of stories) {
    for (const segment of segmentsOf(story).all) join(lineage.origin(segment).was, segment);
  }
  for (const step of steps) {
    const passage = lineage.passage(step);
    const { inputs, outputs, added } = passage;
    const of = ({ flow }: Passing): Segment | undefined => lineage.segment(flow);
    for (const output of outputs) {
      if (output.unit !== 'gram') continue;
      if (destinyOf(step.entry.verb, output.group, 'gold', passage)?.alike !== true) continue;
      const peer = outputs.find(({ group, unit }) => group === output.group && unit === 'gram')!;
      join(of(peer), of(output));
    }
    if (step.entry.verb !== 'split' || inputs.length !== 1 || added.size > 0 || step.added.length > 0) continue;
    for (const output of outputs) if (output.unit === inputs[0]!.unit) join(of(inputs[0]!), of(output));
  }
  return first;
};
