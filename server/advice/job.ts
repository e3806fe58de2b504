/** An entry as the bench sees it: what is charged, what it is made of, and how far that is known. */
import { fromMeasured, type Inexact, times as product, scaled, spread } from '../engine/accounts/inexact';
import { type Knowledge, PRECIOUS } from '../engine/accounts/known';
import { between, type Estimate, exactly, sumOf, times } from '../engine/bench/result';
import type { Account, FlowWeight, Step } from '../engine/book';
import { addedParts, feedParts, type Part } from '../engine/charge';
import type { Entry, Flow } from '../engine/entry';
import { findMaterial } from '../engine/shelf';
import { massFraction } from '../vocabulary/compounds';
import { element } from '../vocabulary/elements';
import { accountsOf } from '../workspace/accounts';
import { isAsIf } from '../workspace/as-if';
import type { Workspace } from '../workspace/workspace';

export interface Job {
  /** Of a plan, the journal as if it were done. */
  readonly workspace: Workspace;
  readonly account: Account;
  /** As it counts: corrected; of a plan, without its `plan`. */
  readonly entry: Entry;
  readonly step: Step | undefined;
  /** Not done yet: what is not written is worked out. */
  readonly planned: boolean;
  /** All that can be said is asked for, as by a hover; else only what is amiss, or has a word at the end of a line. Of a plan always. */
  readonly inFull: boolean;
}

/** The job of an entry that counts; of a plan, ask for it in the journal in which it is done. */
export const jobOf = (workspace: Workspace, entry: Entry, inFull = false): Job | undefined => {
  const account = workspace.book.account(entry);
  const { broken, prefix } = entry;
  if (broken || (prefix !== undefined && prefix !== 'more')) return undefined;
  const counted = account.parts.find(({ anchor }) => anchor === entry.anchor) ?? entry;
  const planned = isAsIf(workspace);
  return { workspace, account, entry: counted, step: account.step, planned, inFull: inFull || planned };
};

/** Several topics ask the same of a job: it is worked out once. */
export const perJob = <Value>(make: (job: Job) => Value): ((job: Job) => Value) => {
  const kept = new WeakMap<Job, { readonly value: Value }>();
  return (job) => {
    const known = kept.get(job);
    if (known) return known.value;
    const value = make(job);
    kept.set(job, { value });
    return value;
  };
};

/** Metals of a lot or of a whole charge. */
export interface Contents {
  readonly grams: Estimate;
  /** Grams by symbol, of what is known; a metal that is not named is not known to be there. */
  readonly metals: ReadonlyMap<string, Estimate>;
  /** Gold and silver together, where they are known as a sum only. */
  readonly precious: Estimate | undefined;
  /** Rests on a claim, a stamp, a usual make of its material: not on an assay, nor on a balance. */
  readonly guessed: boolean;
  /** The entries that tell of its metals, each once. */
  readonly by: readonly Entry[];
}

/** `before` looks at what went into a lot and was found in it only; `best` also back from what came out, where the step is done. */
export type Side = 'best' | 'before';

/** What a flow holds, as far as its lot's history tells; else by the usual make of its material. None where it is not weighed. */
export const contentsOf = (job: Job, { flow, mass }: FlowWeight, side: Side = 'best'): Contents | undefined => {
  if (!mass) return undefined;
  const grams = Math.max(0, mass.value.toNumber());
  const known = knowledgeOf(job, flow, side);
  // A share that was reckoned by this weight does not hang on it: 17.6 g of gold stay 17.6 g, be the whole 62 g or 60 g.
  const ofWhole = (share: Inexact): Estimate =>
    toEstimate(grams > 0 ? scaled(product(share, fromMeasured(mass)), 1 / grams) : share);
  const found: Share[] = [];
  let guessed = mass.guessed;
  for (const [metal, { share, low, high, ground }] of known) {
    if (!element(metal)) continue;
    if (share) found.push({ metal, share: ofWhole(share), isGuess: ground === 'guessed' });
    else if (high <= 1) found.push({ metal, share: between(low, high), isGuess: ground === 'guessed' });
    else continue;
    if (ground === 'guessed') guessed = true;
  }
  const both = known.get(PRECIOUS)?.share;
  if (found.length === 0 && !both) {
    for (const [metal, share] of usualShares(job, flow)) found.push({ metal, share, isGuess: true });
    guessed ||= found.length > 0;
  }
  const told = withinWhole(found);
  const shares = both ? told : withTraces(told);
  const metals = new Map([...shares].map(([metal, share]) => [metal, times(share, grams)]));
  return {
    grams: exactly(grams),
    metals,
    precious: preciousOf(metals, grams) ?? (both && times(upTo(ofWhole(both), 1), grams)),
    guessed,
    by: [...new Set([...known.values()].flatMap(({ by }) => by))],
  };
};

/** So much of the weight told leaves no room for more than a trace of another metal. */
const WHOLE = 0.99;

/** Of gold and silver the one that is not told, where all the others come to the whole: none, or what is left. */
const withTraces = (shares: ReadonlyMap<string, Estimate>): ReadonlyMap<string, Estimate> => {
  const whole = [...shares.values()].reduce((so, { best }) => so + best, 0);
  if (whole < WHOLE) return shares;
  const missing = ['Au', 'Ag'].filter((symbol) => !shares.has(symbol));
  const trace = { low: 0, best: 0, high: Math.max(0, 1 - whole) };
  return new Map([...shares, ...missing.map((symbol) => [symbol, trace] as const)]);
};

/** Of one metal, 0 to 1. */
export interface Share {
  readonly metal: string;
  readonly share: Estimate;
  readonly isGuess: boolean;
}

/**
 * Shares that come from different sides, such as an expectation of gold and the usual make of the alloy, may be more than the whole together:
 * then what is only guessed gives way, and of that the base metals first. No share is above what the least of the others leaves.
 */
export const withinWhole = (found: readonly Share[]): ReadonlyMap<string, Estimate> => {
  const order = [...found].sort((a, b) => weakness(a) - weakness(b));
  let [room, least] = [1, 1];
  const held = order.map(({ metal, share }) => {
    const best = Math.max(0, Math.min(share.best, room));
    const low = Math.max(0, Math.min(share.low, best, least));
    room -= best;
    least -= low;
    return { metal, best, low, high: share.high };
  });
  const lows = held.reduce((sum, { low }) => sum + low, 0);
  const bounded = held.map(({ metal, best, low, high }): readonly [string, Estimate] => [
    metal,
    { best, low, high: Math.max(best, Math.min(high, 1 - (lows - low))) },
  ]);
  // In the order in which they were known.
  const by = new Map(bounded);
  return new Map(found.map(({ metal }) => [metal, by.get(metal)!]));
};

const weakness = ({ metal, isGuess }: Share): number => (isGuess ? 2 : 0) + (metal === 'Au' || metal === 'Ag' ? 0 : 1);

const upTo = ({ low, best, high }: Estimate, most: number): Estimate => ({
  low: Math.min(low, most),
  best: Math.min(best, most),
  high: Math.min(high, most),
});

/** All lots of a charge together; none where one of them is not weighed, or there is none. */
export const chargedOf = (job: Job, side: Side = 'best'): Contents | undefined => CHARGED[side](job);

const charged = (job: Job, side: Side): Contents | undefined => {
  const inputs = job.step?.inputs ?? [];
  const all = inputs.map((input) => contentsOf(job, input, side));
  const known = all.filter((one) => one !== undefined);
  return known.length === 0 || known.length < all.length ? undefined : together(known);
};

const CHARGED: Readonly<Record<Side, (job: Job) => Contents | undefined>> = {
  best: perJob((job) => charged(job, 'best')),
  before: perJob((job) => charged(job, 'before')),
};

/** Of several lots; a metal that is not known of one of them is not known of all, unless the others there leave it no room. */
export const together = (all: readonly Contents[]): Contents => {
  const symbols = new Set(all.flatMap(({ metals }) => [...metals.keys()]));
  const metals = new Map<string, Estimate>();
  for (const symbol of symbols) {
    const parts = all.map((one) => one.metals.get(symbol) ?? traceIn(one));
    if (!parts.includes(undefined)) metals.set(symbol, sumOf(parts as Estimate[]));
  }
  const precious = all.map((one) => one.precious);
  return {
    grams: sumOf(all.map(({ grams }) => grams)),
    metals,
    precious: precious.includes(undefined) ? undefined : sumOf(precious as Estimate[]),
    guessed: all.some(({ guessed }) => guessed),
    by: [...new Set(all.flatMap(({ by }) => by))],
  };
};

const traceIn = ({ metals, grams }: Contents): Estimate | undefined => {
  const whole = [...metals.values()].reduce((so, { best }) => so + best, 0);
  return whole < WHOLE * grams.best ? undefined : { low: 0, best: 0, high: Math.max(0, grams.best - whole) };
};

/** Metal from the shelf by symbol, g: `add lead 52 g`, `add silver 60 g`, and metals of an alloy. Compounds are not counted. */
export const addedMetals = ({ step, workspace }: Job): ReadonlyMap<string, number> => {
  const metals = new Map<string, number>();
  for (const { item } of addedParts(step?.added ?? [], workspace.workshop)) {
    for (const { what, fraction } of item.material.composition) {
      if (element(what) && what !== 'C' && what !== 'S')
        metals.set(what, (metals.get(what) ?? 0) + fraction * item.massGrams);
    }
  }
  return metals;
};

/** Feed and fluxes, recipes taken apart, for reckoning slag, gas and room. Only what is weighed, or guessed. */
export const partsOf = ({
  step,
  workspace,
}: Job): { readonly feed: readonly Part[]; readonly added: readonly Part[] } => ({
  feed: feedParts(step?.inputs ?? [], workspace.workshop, workspace.book.make),
  added: addedParts(step?.added ?? [], workspace.workshop),
});

/** Every lot and everything from the shelf has a weight, be it a guess. */
export const isAllWeighed = ({ step }: Job): boolean =>
  step !== undefined &&
  step.inputs.length > 0 &&
  [...step.inputs, ...step.added].every(({ mass }) => mass !== undefined);

/** From before alone for a plan, whose products are made up; of what was done, the best that is known by now. */
export const knowledgeOf = ({ workspace, planned }: Job, flow: Flow, side: Side = 'best'): Knowledge => {
  const { metals } = accountsOf(workspace);
  const segment = metals.lineage.segment(flow);
  if (!segment) return NOTHING;
  return planned || side === 'before' ? metals.before(segment) : metals.best(segment);
};

const NOTHING: Knowledge = new Map();

const usualShares = ({ workspace }: Job, flow: Flow): readonly (readonly [string, Estimate])[] => {
  const make = workspace.book.make(flow)?.material;
  const material = make === undefined ? undefined : findMaterial(workspace.workshop, make);
  return (material?.composition ?? []).flatMap(({ what, fraction, low = fraction, high = fraction }) => {
    if (what === 'AgCl') return [['Ag', times({ best: fraction, low, high }, massFraction('AgCl', 'Ag'))] as const];
    return element(what) && what !== 'C' && what !== 'S' ? [[what, { best: fraction, low, high }] as const] : [];
  });
};

/** Never more than what the least of the other metals leaves. */
const preciousOf = (metals: ReadonlyMap<string, Estimate>, grams: number): Estimate | undefined => {
  const [gold, silver] = [metals.get('Au'), metals.get('Ag')];
  if (!gold || !silver) return undefined;
  const others = [...metals].reduce((sum, [metal, { low }]) => (metal === 'Au' || metal === 'Ag' ? sum : sum + low), 0);
  return upTo(sumOf([gold, silver]), Math.max(gold.best + silver.best, grams - others));
};

/** With what two standard uncertainties leave open; a share is never below nought. */
export const toEstimate = (share: Inexact): Estimate => {
  const half = 2 * spread(share);
  return { best: share.value, low: Math.max(0, share.value - half), high: share.value + half };
};
