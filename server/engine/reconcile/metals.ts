/**
 * Masses and fineness together: every step keeps the mass, and keeps each metal.
 *
 * In: what was weighed (grams and u, with the errors that one scale shares), what was assayed (mass fraction and u), and which step each
 * stream comes from and goes to. Out, beside each reading: its adjusted value and u, whether anything checks it, and through `result` its
 * test, the global test and the suspects (`gross.ts`). Values that nobody read are solved for where the balances tell them. Nothing is
 * negative, and the metals of a lot are no more than the lot.
 *
 * The balances are linear but for products of mass and fineness; these are linearised from pass to pass (Gauss and Newton). Passes share
 * one layout, and only what the figures change is computed anew.
 */
import { type Bounds, type Limit, moveBounds, newBounds } from './bounds';
import { type Layout, layOut } from './layout';
import {
  type MetalNetwork,
  type MetalRows,
  type MetalStream,
  type MetalVariables,
  metalSystem,
  metalVariables,
  partOf,
  restRow,
} from './metal-system';
import { type Expanded, withSources } from './shared';
import { adjustedValues, complete, type Reconciled, type Standing } from './solve';
import { checkSystem, kindOf, type Reading, type System } from './system';

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

interface HeldLayout {
  readonly held: string;
  readonly layout: Layout;
}

export interface MetalState {
  readonly network: MetalNetwork;
  readonly of: MetalVariables;
  readonly layout: Layout;
  readonly values: Float64Array;
  readonly bounds: Bounds;
  /** Room for the balances of each pass. */
  readonly rows: MetalRows;
  /** The layouts with the rests, and with all, that were held last. */
  restLayout: HeldLayout | undefined;
  heldLayout: HeldLayout | undefined;
}

const MOST_PASSES = 60;
/** A fineness is not spoken of in less than this, grams. */
const LEAST_MASS = 1e-6;
/** Linearised anew until nothing moves by this share: far below what any reading means. */
const CLOSE = 1e-8;
/** Moving by less than this share of its own uncertainty means nothing either. */
const CLOSE_TO_U = 1e-5;
/** Bounds are looked at as soon as nothing moves by more than this share. */
const ROUGH = 1e-3;
/** For a layout that holds good whatever is held. */
const NOT_HELD: ReadonlySet<number> = new Set();

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

const nextState = (before: MetalState, network: MetalNetwork): MetalState => ({
  ...before,
  network,
  of: metalVariables(network),
  bounds: newBounds(before.bounds),
  values: Float64Array.from(before.values),
});

const newState = (network: MetalNetwork): MetalState => {
  const of = metalVariables(network);
  checkSystem({ readings: of.readings, balances: [], sources: network.sources });
  const values = startValues(network, of);
  const system = metalSystem(network, of, values);
  const layout = layOut(withSources(system));
  return {
    network,
    of,
    layout,
    values,
    bounds: newBounds(),
    rows: system.balances,
    restLayout: undefined,
    heldLayout: undefined,
  };
};

/** Balances tell masses that were not weighed; a mass that they do not tell starts at a usual one, a shared fineness at the middle. */
const startValues = (network: MetalNetwork, { readings }: MetalVariables): Float64Array => {
  const { streams } = network;
  const weighed = streams
    .flatMap(({ value }) => (value !== undefined && value > 0 ? [value] : []))
    .sort((a, b) => a - b);
  const usual = weighed[weighed.length >> 1] ?? 1;
  const told = toldMasses(network);
  return Float64Array.from(readings, ({ value }, variable) => {
    if (variable >= streams.length) return value ?? 0.5;
    const mass = told[variable] ?? usual;
    return mass > LEAST_MASS ? mass : usual * 1e-3;
  });
};

/** Masses that nobody weighed, where a step has all others: step after step, each one once. */
const toldMasses = ({ streams, nodes }: MetalNetwork): (number | undefined)[] => {
  const told = streams.map(({ value }) => value);
  const around: number[][] = Array.from({ length: nodes }, () => []);
  for (const [stream, { from, to }] of streams.entries()) {
    for (const node of [from, to]) around[node ?? -1]?.push(stream);
  }
  const open = around.map((list) => list.filter((stream) => told[stream] === undefined).length);
  const ready = [...open.keys()].filter((node) => open[node] === 1);
  for (let node = ready.pop(); node !== undefined; node = ready.pop()) {
    const missing = around[node]!.find((stream) => told[stream] === undefined);
    if (missing === undefined) continue;
    let sum = 0;
    for (const stream of around[node]!) sum += (streams[stream]!.to === node ? 1 : -1) * (told[stream] ?? 0);
    const { from, to } = streams[missing]!;
    told[missing] = to === node ? -sum : sum;
    for (const end of [from, to]) if (end !== undefined && --open[end]! === 1) ready.push(end);
  }
  return told;
};

const settle = (state: MetalState): { readonly converged: boolean; readonly passes: number } => {
  const { values, bounds, network } = state;
  const count = network.streams.length * (network.metals + 2);
  let rests = heldRests(state);
  for (let passes = 1; passes <= MOST_PASSES; passes++) {
    const system = systemAt(state, rests);
    const solved = adjustedValues(system, layoutFor(state, rests), values);
    const moved = takeValues(state, solved.values);
    if (moved > ROUGH) continue;
    const changed = moveBounds(
      bounds,
      count,
      (index) => limitOf(state, solved.values, index),
      (index) => pullOf(state, solved, system, rests, index),
    );
    if (!changed && moved <= CLOSE) return { converged: true, passes };
    rests = heldRests(state);
  }
  return { converged: false, passes: MOST_PASSES };
};

/** About the values, what is held at its bound as exactly nothing, and with the rows of lots that are all metal. */
const systemAt = (
  { network, of, values, bounds, rows }: MetalState,
  rests: readonly number[],
  held: ReadonlySet<number> = bounds.held,
): Expanded => {
  const system = metalSystem(network, of, values, rows);
  const readings = [...of.readings];
  for (const index of held) {
    const variable = boundVariable(network, of, index);
    if (variable >= 0) readings[variable] = { value: 0 };
  }
  const more = rests.map((stream) => restRow(network, of, values, stream));
  return withSources({ ...system, readings, balances: [...system.balances, ...more] });
};

/** Says by how much they moved: the largest as a share of the value, or of 1 for small ones; as little as nothing where u is far above. */
const takeValues = ({ of, values }: MetalState, solved: Float64Array): number => {
  let most = 0;
  for (let variable = 0; variable < values.length; variable++) {
    const value = solved[variable]!;
    if (Number.isNaN(value)) continue;
    const before = values[variable]!;
    const change = Math.abs(value - before);
    values[variable] = value;
    if (change <= CLOSE_TO_U * (of.readings[variable]!.u ?? 0)) continue;
    most = Math.max(most, change / Math.max(1, Math.abs(before)));
  }
  return most;
};

/** Bounds of a stream, in this order: its mass, each metal, the rest. */
const boundOf = ({ metals }: MetalNetwork, index: number): { stream: number; kind: number } => ({
  stream: Math.floor(index / (metals + 2)),
  kind: index % (metals + 2),
});

/** The variable that must not be negative; −1 for a rest, and for what is surely nothing. */
const boundVariable = (network: MetalNetwork, { metal, fineness }: MetalVariables, index: number): number => {
  const { stream, kind } = boundOf(network, index);
  if (kind === 0) return stream;
  if (kind > network.metals) return -1;
  const own = metal[stream * network.metals + kind - 1]!;
  return own >= 0 ? own : fineness[network.streams[stream]!.composition * network.metals + kind - 1]!;
};

/** Nothing can be said where a part of it is not known: NaN. */
const NO_LIMIT: Limit = { value: Number.NaN, size: 0 };

const limitOf = (state: MetalState, solved: Float64Array, index: number): Limit => {
  const { network, of, values } = state;
  const { stream, kind } = boundOf(network, index);
  // Streams of one composition share its bounds.
  if (kind > 0 && of.firstStream[network.streams[stream]!.composition] !== stream) return NO_LIMIT;
  if (kind <= network.metals) {
    const variable = boundVariable(network, of, index);
    return variable < 0 ? NO_LIMIT : { value: solved[variable]!, size: 0 };
  }
  if (network.metals === 0 || network.streams[stream]!.loose) return NO_LIMIT;
  let [rest, size] = [solved[stream]!, Math.abs(solved[stream]!)];
  for (let each = 0; each < network.metals; each++) {
    const { variables, coefficients, constant } = partOf(network, of, values, stream, each);
    let part = -constant;
    for (let at = 0; at < variables.length; at++) part += coefficients[at]! * solved[variables[at]!]!;
    rest -= part;
    size += Math.abs(part);
  }
  return { value: rest, size };
};

/** With μ the force of the bound x ≥ 0: (x̂ − x)/u² + aᵀλ − μ = 0. */
const pullOf = (
  { network, of }: MetalState,
  { sway, multipliers }: { readonly sway: Float64Array; readonly multipliers: Float64Array },
  system: Expanded,
  rests: readonly number[],
  index: number,
): number => {
  const { stream, kind } = boundOf(network, index);
  if (kind > network.metals) {
    const row = rests.indexOf(stream);
    return row < 0 ? 0 : -multipliers[system.balances.length - rests.length + row]!;
  }
  const variable = boundVariable(network, of, index);
  const reading = of.readings[variable]!;
  const own = kindOf(reading) === 'measured' ? -reading.value! / reading.u! ** 2 : 0;
  return own + sway[variable]!;
};

/** In rising order, so that the same ones make the same layout. */
const heldInOrder = ({ bounds }: MetalState): number[] => [...bounds.held].sort((one, other) => one - other);

const heldRests = (state: MetalState): number[] =>
  heldInOrder(state).flatMap((index) => {
    const { stream, kind } = boundOf(state.network, index);
    return kind > state.network.metals ? [stream] : [];
  });

const layoutFor = (state: MetalState, rests: readonly number[]): Layout => {
  if (rests.length === 0) return state.layout;
  const held = rests.join();
  if (state.restLayout?.held !== held) {
    state.restLayout = { held, layout: layOut(systemAt(state, rests, NOT_HELD)) };
  }
  return state.restLayout.layout;
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

/** The same streams between the same steps, and the same things read. */
const sameShape = (before: MetalNetwork, after: MetalNetwork): boolean =>
  before.nodes === after.nodes &&
  before.metalNodes === after.metalNodes &&
  sameMore(before.more, after.more) &&
  before.metals === after.metals &&
  before.sources === after.sources &&
  before.streams.length === after.streams.length &&
  before.compositions.length === after.compositions.length &&
  before.streams.every((stream, at) => {
    const other = after.streams[at]!;
    return (
      stream.from === other.from &&
      stream.to === other.to &&
      stream.composition === other.composition &&
      stream.shared === other.shared &&
      kindOf(stream) === kindOf(other) &&
      sameMetals(stream.metals, other.metals)
    );
  }) &&
  before.compositions.every((fractions, at) => {
    const others = after.compositions[at]!;
    if (fractions === others) return true;
    for (let metal = 0; metal < before.metals; metal++) {
      const [one, other] = [fractions[metal] ?? {}, others[metal] ?? {}];
      if (kindOf(one) !== kindOf(other) || one.shared !== other.shared) return false;
      if (kindOf(one) === 'exact' && (one.value === 0) !== (other.value === 0)) return false;
    }
    return true;
  });

const sameMore = (before: MetalNetwork['more'] = [], after: MetalNetwork['more'] = []): boolean =>
  before.length === after.length &&
  before.every((one, at) => {
    const other = after[at]!;
    return one.composition === other.composition && one.metal === other.metal && kindOf(one) === kindOf(other);
  });

const sameMetals = (before: MetalStream['metals'] = [], after: MetalStream['metals'] = []): boolean =>
  before === after || (before.length === after.length && before.every((one, at) => alike(one, after[at])));

const alike = (one: Reading = {}, other: Reading = {}): boolean =>
  kindOf(one) === kindOf(other) && one.shared === other.shared;
