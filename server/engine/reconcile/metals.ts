/**
 * Masses and fineness together: every step keeps the mass, and keeps each metal.
 *
 * In: what was weighed (grams and u, with the errors that one scale shares), what was assayed (mass fraction and u), and which step each
 * stream comes from and goes to. Out, beside each reading: its adjusted value and u, whether anything checks it, and through `result` its
 * test, the global test and the suspects (`gross.ts`). Values that nobody read are solved for where the balances tell them. Nothing is
 * negative, and the metals of a lot are no more than the lot.
 *
 * The balances are linear but for products of mass and fineness; these are linearised from pass to pass (Gauss and Newton;
 * `metal-passes.ts`).
 */
import { type Layout, layOut } from './layout';
import {
  boundOf,
  brokenBounds,
  CLOSE,
  heldInOrder,
  LEAST_MASS,
  layoutFor,
  type MetalState,
  MOST_PASSES,
  newState,
  nextState,
  settle,
  takeValues,
  withHeld,
} from './metal-passes';
import { sameShape } from './metal-shape';
import { apart, linearise, type MetalNetwork } from './metal-system';
import { withSources } from './shared';
import { completeLean, type Reconciled } from './solve';
import type { Standing } from './structure';
import { kindOf } from './system';

export type { MetalNetwork, MetalStream } from './metal-system';

export interface Known {
  readonly standing: Standing;
  readonly value: number | undefined;
  /** As if no bound held it: at a bound the true error is one-sided, and smaller. */
  readonly u: number | undefined;
  /** Its index in `MetalResult.result`; −1 where it is made of others, as mass × fineness. */
  readonly variable: number;
}

export interface MetalResult {
  /** The linear problem at the solution: readings' scores, covariances and suspects are asked of it. */
  readonly result: Reconciled;
  readonly mass: (stream: number) => Known;
  /** Mass of a metal in a stream, grams. */
  readonly metal: (stream: number, metal: number) => Known;
  readonly fineness: (composition: number, metal: number) => Known;
  readonly gamma: number;
  /**
   * With one for each bound that holds a value: given which bounds hold, gamma is chi-squared with these (the mixture known as chi-bar-squared;
   * from memory, borne out by simulation in the tests).
   */
  readonly freedom: number;
  /** Values held at a bound: nothing negative, no metals above the whole. */
  readonly held: readonly Held[];
  readonly converged: boolean;
  /** Passes of linearising that it took. */
  readonly passes: number;
  /** Where it stands, for the next figures of the same history. */
  readonly state: MetalState;
}

/** `metal` undefined: the mass itself; `rest`: the metals make up the whole. */
export interface Held {
  readonly stream: number;
  readonly metal: number | 'rest' | undefined;
}

/**
 * Throws a RangeError on a stream whose node or composition is not there. `converged: false` says that linearising or the choice of bounds
 * did not settle; the figures are then not to be relied on.
 *
 * With the result of `before`, for a history of the same streams and of the same things read, only the figures are computed anew.
 */
export const reconcileMetals = (network: MetalNetwork, before?: MetalResult): MetalResult => {
  const state =
    before && sameShape(before.state.network, network) ? nextState(before.state, network) : newState(network);
  let [passes, sure] = [0, false];
  for (;;) {
    const settled = settle(state, passes, sure);
    // With all that is asked of it, the last pass tells whether it was the last: nothing moves, and no bound is broken.
    const last = solveAt(state);
    const solved = Float64Array.from(last.result.values, (value) => value ?? Number.NaN);
    const close = takeValues(state, solved) <= CLOSE && brokenBounds(state, solved).length === 0;
    passes = Math.min(MOST_PASSES, settled.passes + 1);
    if (!settled.settled || close) return resultOf(state, last, settled.settled, passes);
    sure = true;
  }
};

interface Solved {
  readonly result: Reconciled;
  /** Without bounds held, for uncertainties. */
  readonly open: () => Reconciled;
}

/** About the values where it stands. */
const solveAt = (state: MetalState): Solved => {
  const { of } = state;
  const now = { ...state, values: Float64Array.from(state.values) };
  const rows = linearise(apart(state.rows), now.values);
  const solve = (held: readonly number[]): Reconciled => {
    const system = withHeld(now, rows, held);
    const expanded = withSources(system, of.figures);
    const layout = layoutFor(state, expanded, held);
    const full = (): Layout => {
      layout.full ??= layOut(expanded, false, layout.lean.structure);
      return layout.full;
    };
    return completeLean(system, expanded, layout.lean, full, now.values);
  };
  const held = heldInOrder(state);
  const result = solve(held);
  let known = held.length === 0 ? result : undefined;
  const open = (): Reconciled => {
    known ??= solve([]);
    return known;
  };
  return { result, open };
};

const resultOf = (state: MetalState, { result, open }: Solved, converged: boolean, passes: number): MetalResult => {
  const { network } = state;
  const told = { state, result, open };
  return {
    result,
    mass: (stream) => knownVariable(told, stream),
    metal: (stream, metal) => knownMetal(told, stream, metal),
    fineness: (composition, metal) => knownFineness(told, composition, metal),
    gamma: result.gamma,
    freedom: result.freedom,
    held: heldInOrder(state).map((index): Held => {
      const { stream, kind } = boundOf(network, index);
      return { stream, metal: kind === 0 ? undefined : kind > network.metals ? 'rest' : kind - 1 };
    }),
    converged,
    passes,
    state,
  };
};

interface Told extends Solved {
  readonly state: MetalState;
}

const UNKNOWN: Known = { standing: 'unknown', value: undefined, u: undefined, variable: -1 };
const NONE: Known = { standing: 'unchecked', value: 0, u: 0, variable: -1 };

const knownVariable = ({ state, result, open }: Told, variable: number): Known => {
  const standing = result.standings[variable]!;
  // A reading that stands only in products with an unknown mass is adjusted by nothing.
  const idle = result.evidence.leverage[variable] === 0 && kindOf(state.of.readings[variable]!) === 'measured';
  return {
    standing: standing === 'checked' && idle ? 'unchecked' : standing,
    value: result.values[variable],
    u: open().uOf(variable) ?? result.uOf(variable),
    variable,
  };
};

/** Mass × fineness where there is a fineness to ask for. */
const knownMetal = (told: Told, stream: number, metal: number): Known => {
  const { network, of } = told.state;
  const own = of.metal[stream * network.metals + metal]!;
  if (own >= 0) return knownVariable(told, own);
  const at = network.streams[stream]!.composition * network.metals + metal;
  if (of.nothing[at]) return NONE;
  const [mass, fineness] = [told.result.values[stream], told.result.values[of.fineness[at]!]];
  if (mass === undefined || fineness === undefined) return UNKNOWN;
  const u = uOfTwo(told, stream, fineness, of.fineness[at]!, mass);
  return { standing: 'inferred', value: mass * fineness, u, variable: -1 };
};

/** Metal / mass where nobody read it and no other stream shares it. */
const knownFineness = (told: Told, composition: number, metal: number): Known => {
  const { network, of } = told.state;
  const at = composition * network.metals + metal;
  if (of.nothing[at]) return NONE;
  if (of.fineness[at]! >= 0) return knownVariable(told, of.fineness[at]!);
  const stream = of.firstStream[composition]!;
  if (stream < 0) return UNKNOWN;
  const part = of.metal[stream * network.metals + metal]!;
  const [mass, held] = [told.result.values[stream], told.result.values[part]];
  if (mass === undefined || held === undefined || !(mass > LEAST_MASS)) return UNKNOWN;
  const u = uOfTwo(told, part, 1 / mass, stream, -held / mass ** 2);
  return { standing: 'inferred', value: held / mass, u, variable: -1 };
};

/** First order (GUM 5.2.2), with the covariance of the two. */
const uOfTwo = ({ open, result }: Told, one: number, a: number, other: number, b: number): number | undefined => {
  const of = open().uOf(one) !== undefined && open().uOf(other) !== undefined ? open() : result;
  const [u, v, both] = [of.uOf(one), of.uOf(other), of.covarianceOf(one, other)];
  if (u === undefined || v === undefined || both === undefined) return undefined;
  return Math.sqrt(Math.max(0, (a * u) ** 2 + (b * v) ** 2 + 2 * a * b * both));
};
