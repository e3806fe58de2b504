/** Weights that changed between two entries, and that somebody has accepted with a reason: two facts, and not one weight read twice. */
import type { History } from '../engine/accounts/history';
import type { Handover, Weight } from '../engine/book';
import { isAcceptedAt } from '../journal/accepted';

/** The finding stands at the one or at the other. */
export const isAcceptedChange = ({ from, to }: Pick<Handover, 'from' | 'to'>): boolean =>
  [from, to].some(({ weight, place }) => isAcceptedAt(weight.amount?.place ?? place, 'weight-changed'));

/** Weighings of a history that are not held against the one before. One between two that agree stands alone. */
export const acceptedApart = ({ stories }: History): ((weight: Weight) => boolean) => {
  const found = new Set<Weight>();
  for (const { handovers } of stories) {
    for (const { from, to, again, explained } of handovers) {
      if (explained || !isAcceptedChange({ from, to })) continue;
      found.add(to.weight);
      if (again) found.add(again.weight);
    }
  }
  return (weight) => found.has(weight);
};
