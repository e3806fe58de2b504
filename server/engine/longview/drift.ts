/** Lots that were weighed twice on one scale with nothing done between: each should weigh the same, and neither more nor less each time. */

import { changedInOrder } from '../../text/lists';
import type { Handover, LotStory } from '../book';
import type { Entry } from '../entry';
import { stateMayChange } from '../handover';

export interface ScaleDifference {
  readonly scale: string;
  readonly handover: Handover;
  /** Later less earlier, in grams. */
  readonly grams: number;
}

/** By scale, in the order of the later weighing. */
export type ByScale = ReadonlyMap<string, readonly ScaleDifference[]>;

/** Stories told otherwise than in `before`. */
export interface Retold {
  readonly gone: Iterable<LotStory>;
  readonly come: Iterable<LotStory>;
}

/**
 * What `before` says once some stories are told otherwise. Without differences that weighing does not explain, which are told by themselves, and
 * without those whose words say why the weight may have changed; a weight that was only carried on is no weighing.
 */
export const differencesByScale = (
  before: ByScale,
  { gone, come }: Retold,
  compare: (a: Entry, b: Entry) => number,
): ByScale => {
  const out = new Set<ScaleDifference>();
  const into = new Map<string, ScaleDifference[]>();
  for (const story of gone) {
    for (const difference of differencesIn(story)) {
      out.add(difference);
      if (!into.has(difference.scale)) into.set(difference.scale, []);
    }
  }
  for (const story of come) {
    for (const difference of differencesIn(story)) {
      const all = into.get(difference.scale);
      if (all) all.push(difference);
      else into.set(difference.scale, [difference]);
    }
  }
  if (into.size === 0) return before;
  const byScale = new Map(before);
  for (const [scale, all] of into) {
    const now = changedInOrder(
      before.get(scale) ?? NONE,
      out,
      all,
      ({ handover: { to: a } }, { handover: { to: b } }) => compare(a.entry, b.entry) || a.place.start - b.place.start,
    );
    if (now.length > 0) byScale.set(scale, now);
    else byScale.delete(scale);
  }
  return byScale;
};

/** An edit changes few stories, so a story's differences are kept with it. */
const kept = new WeakMap<LotStory, readonly ScaleDifference[]>();

const differencesIn = (story: LotStory): readonly ScaleDifference[] => {
  const known = kept.get(story);
  if (known) return known;
  const found = story.handovers.flatMap((handover): ScaleDifference[] => {
    const { from, to, explained, difference, since } = handover;
    if (!explained || since || stateMayChange(from.weight, to.weight)) return [];
    const [before, after] = [scaleNameOf(from), scaleNameOf(to)];
    return after !== undefined && before === after
      ? [{ scale: after, handover, grams: difference.value.toNumber() }]
      : [];
  });
  const made = found.length > 0 ? found : NONE;
  kept.set(story, made);
  return made;
};

const NONE: readonly ScaleDifference[] = [];

/** The scale that a weighing names, on its amount, its line or its entry; none where it was not weighed there. */
const scaleNameOf = ({ entry, weight }: Handover['to']): string | undefined => {
  const { amount, ground } = weight;
  if (!amount || ground !== 'weighed') return undefined;
  if (amount.scale) return amount.scale.name;
  const flow = entry.flows.find((one) => one.amount === amount);
  const line = entry.amounts.find((one) => one.amount === amount);
  return (flow?.said ?? line?.said ?? entry.said).scale?.name;
};
