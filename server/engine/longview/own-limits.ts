/** Metal lost in a step beyond what earlier steps of its kind lost of it: within what practice lets such a step lose, or it would be missing. */
import { spread } from '../accounts/inexact';
import type { Learnt } from '../book';
import { type Loss, learntFrom, MOST_EARLIER } from '../learnt';
import type { Done } from './done';

export interface MetalBeyond {
  readonly done: Done;
  readonly metal: string;
  /** Of what was charged. */
  readonly loss: Loss;
  readonly lostGrams: number;
  readonly learnt: Learnt;
}

/**
 * Each against the last thirty before it, once there are eight, as losses of weight are. The limit is that of `learntFrom`, which one more loss
 * of the same normal spread passes once in two hundred; what its own uncertainty, times `coverage`, explains of the excess is taken off.
 */
export const metalBeyond = (done: readonly Done[], metal: string, coverage: number): readonly MetalBeyond[] => {
  const bySeries = new Map<string, Loss[]>();
  return done.flatMap((one) => {
    const known = one.metal(metal);
    if (!known?.won || !known.recovery) return [];
    const lostGrams = known.charged.value - known.won.value;
    const u = spread(known.recovery);
    const loss = { share: lostGrams / known.charged.value, u, weighing: u };
    const earlier = bySeries.get(one.series) ?? [];
    bySeries.set(one.series, [...earlier.slice(1 - MOST_EARLIER), loss]);
    const learnt = learntFrom(earlier);
    if (!learnt || loss.share - coverage * loss.u <= learnt.high) return [];
    return [{ done: one, metal, loss, lostGrams, learnt }];
  });
};
