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
import { layOut } from './layout';
import {
  boundOf,
  boundVariable,
  heldInOrder,
  LEAST_MASS,
  type MetalState,
  newState,
  nextState,
  settle,
} from './metal-passes';
import { sameShape } from './metal-shape';
import { type MetalNetwork, metalSystem, restRow } from './metal-system';
import { withSources } from './shared';
import { complete, type Reconciled } from './solve';
import type { Standing } from './structure';
import { kindOf, type System } from './system';

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
  const settled = settle(state);
  return resultOf(state, settled);
};

const resultOf = (
  state: MetalState,
  { converged, passes }: { readonly converged: boolean; readonly passes: number },
): MetalResult => {
  const { network, of, layout, values, bounds } = state;
  const system = metalSystem(network, of, values);
  const open = complete(system, withSources(system), layout, values);
  const result = bounds.held.size === 0 ? open : reconcileHeld(state, withHeld(state, system));
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

const reconcileHeld = (state: MetalState, system: System): Reconciled => {
  const held = heldInOrder(state).join();
  const expanded = withSources(system);
  if (state.heldLayout?.held !== held) state.heldLayout = { held, layout: layOut(expanded) };
  return complete(system, expanded, state.heldLayout.layout, state.values);
};

/** Held values as balances of their own, so that what was read of them is still tested. */
const withHeld = (state: MetalState, system: System): System => {
  const { network, of, values } = state;
  const rows = heldInOrder(state).map((index) => {
    const variable = boundVariable(network, of, index);
    if (variable >= 0) return { variables: [variable], coefficients: [1], constant: 0 };
    return restRow(network, of, values, boundOf(network, index).stream);
  });
  return { ...system, balances: [...system.balances, ...rows] };
};

interface Told {
  readonly state: MetalState;
  readonly result: Reconciled;
  /** Without bounds held, for uncertainties. */
  readonly open: Reconciled;
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
    u: open.u[variable] ?? result.u[variable],
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
  const of = open.u[one] !== undefined && open.u[other] !== undefined ? open : result;
  const [u, v, both] = [of.u[one], of.u[other], of.covarianceOf(one, other)];
  if (u === undefined || v === undefined || both === undefined) return undefined;
  return Math.sqrt(Math.max(0, (a * u) ** 2 + (b * v) ** 2 + 2 * a * b * both));
};
