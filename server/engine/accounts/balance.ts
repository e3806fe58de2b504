/**
 * The balance of each metal over a step: what was charged by all that is known from before, against what came out by all that is known from
 * after, with what such a step usually loses. The two sides rest on no common assay, so the difference says something.
 */
import type { Entry } from '../entry';
import { certain, type Inexact, minus, NOTHING, plus, spread, times } from './inexact';
import { type MetalGround, PRECIOUS, worseGround } from './known';
import type { Metals } from './metals';
import { charged, held, type Passage, type Passing } from './passage';

export type MetalVerdict =
  /** Explained by weights, assays and usual losses. */
  | 'closed'
  /** More is missing than that. */
  | 'missing'
  /** More came out than went in. */
  | 'gained';

export interface MetalBalance {
  readonly metal: string;
  readonly in: Inexact;
  readonly out: Inexact;
  /** What products that nobody assayed usually hold, and what usually is lost. */
  readonly usual: Inexact;
  /** in − out − usual; positive is missing. */
  readonly unaccounted: Inexact;
  readonly verdict: MetalVerdict;
  readonly ground: MetalGround;
  /** What both sides rest on first. */
  readonly by: readonly Entry[];
}

/** Balances of the metals that are known on both sides. `coverage` is k. */
export const metalBalances = (passage: Passage, metals: Metals, coverage: number): readonly MetalBalance[] => {
  const seen = new Set<string>(passage.added.keys());
  const lookAt = (passings: readonly Passing[], from: 'before' | 'after') => {
    for (const { flow } of passings) {
      const segment = metals.lineage.segment(flow);
      if (segment) for (const metal of metals[from](segment).keys()) seen.add(metal);
    }
  };
  lookAt(passage.inputs, 'before');
  lookAt(passage.outputs, 'after');
  seen.delete(PRECIOUS);
  return [...seen].flatMap((metal) => balanceOf(passage, metals, metal, coverage) ?? []);
};

const balanceOf = (passage: Passage, metals: Metals, metal: string, coverage: number): MetalBalance | undefined => {
  const { segment } = metals.lineage;
  const went = charged(passage, metal, ({ flow }) => {
    const of = segment(flow);
    return of ? metals.before(of) : new Map();
  });
  if (!went.grams) return undefined;
  const by = passage.inputs.flatMap(({ flow }) => {
    const of = segment(flow);
    return (of && metals.before(of).get(metal)?.by) ?? [];
  });
  let { ground } = went;
  let out: Inexact = NOTHING;
  let usual: Inexact = NOTHING;
  let unaccountedShare = certain(1);
  let told = false;
  for (const group of new Set(passage.outputs.map((one) => one.group))) {
    const share = held(passage, group, metal);
    const products = passage.outputs.filter((one) => one.group === group);
    const holds = products.map(({ flow, amount }) => {
      const of = segment(flow);
      const one = of && metals.after(of).get(metal);
      return one?.share && amount ? { grams: times(amount, one.share), one } : undefined;
    });
    if (holds.every((one) => one !== undefined)) {
      for (const { grams, one } of holds) {
        out = plus(out, grams);
        by.push(...one.by);
        ground = worseGround(ground, one.ground === 'guessed' ? 'guessed' : ground);
      }
      told ||= holds.length > 0;
      if (share) unaccountedShare = minus(unaccountedShare, share);
    } else if (!share) {
      return undefined;
    }
  }
  if (!told) return undefined;
  usual = times(went.grams, unaccountedShare);
  const unaccounted = minus(minus(went.grams, out), usual);
  const reach = coverage * spread(unaccounted);
  const verdict = unaccounted.value > reach ? 'missing' : unaccounted.value < -reach ? 'gained' : 'closed';
  return { metal, in: went.grams, out, usual, unaccounted, verdict, ground, by: [...new Set(by)] };
};
