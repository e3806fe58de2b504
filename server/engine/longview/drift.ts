/** Lots that were weighed twice on one scale with nothing done between: each should weigh the same, and neither more nor less each time. */
import type { Handover, LotStory } from '../book';
import type { Entry } from '../entry';
import { stateMayChange } from '../handover';

export interface ScaleDifference {
  readonly scale: string;
  readonly handover: Handover;
  /** Later less earlier, in grams. */
  readonly grams: number;
}

/**
 * By scale, in the order of the later weighing. Without those that weighing does not explain, which are told by themselves, and without those
 * whose words say why the weight may have changed; a weight that was only carried on is no weighing.
 */
export const differencesByScale = (
  stories: Iterable<LotStory>,
  compare: (a: Entry, b: Entry) => number,
): ReadonlyMap<string, readonly ScaleDifference[]> => {
  const byScale = new Map<string, ScaleDifference[]>();
  for (const story of stories) {
    for (const difference of differencesIn(story)) {
      const all = byScale.get(difference.scale);
      if (all) all.push(difference);
      else byScale.set(difference.scale, [difference]);
    }
  }
  for (const all of byScale.values()) all.sort((a, b) => compare(a.handover.to.entry, b.handover.to.entry));
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
