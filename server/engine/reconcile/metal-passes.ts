/**
 * Where masses and fineness settle: about the values so far the balances are linear, and are solved, and so again until nothing moves; then it
 * is looked at which bounds hold a value. Passes share one layout, and only what the figures change is computed anew.
 */
import { type Bounds, type Limit, moveBounds, newBounds } from './bounds';
import { type Layout, layOut } from './layout';
import {
  type MetalNetwork,
  type MetalRows,
  type MetalVariables,
  metalAt,
  metalSystem,
  metalVariables,
  restRow,
} from './metal-system';
import { type Expanded, withSources } from './shared';
import { adjustedValues } from './solve';
import { checkSystem, kindOf } from './system';

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
/** A mass below this, grams, is as good as none. */
export const LEAST_MASS = 1e-6;
/** Linearised anew until nothing moves by this share: far below what any reading means. */
const CLOSE = 1e-8;
/** Moving by less than this share of its own uncertainty means nothing either. */
const CLOSE_TO_U = 1e-5;
/** Bounds are looked at as soon as nothing moves by more than this share. */
const ROUGH = 1e-3;
/** For a layout that holds good whatever is held. */
const NOT_HELD: ReadonlySet<number> = new Set();

export const nextState = (before: MetalState, network: MetalNetwork): MetalState => ({
  ...before,
  network,
  of: metalVariables(network),
  bounds: newBounds(before.bounds),
  values: Float64Array.from(before.values),
});

export const newState = (network: MetalNetwork): MetalState => {
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

export const settle = (state: MetalState): { readonly converged: boolean; readonly passes: number } => {
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
export const boundOf = ({ metals }: MetalNetwork, index: number): { stream: number; kind: number } => ({
  stream: Math.floor(index / (metals + 2)),
  kind: index % (metals + 2),
});

/** The variable that must not be negative; −1 for a rest, and for what is surely nothing. */
export const boundVariable = (network: MetalNetwork, { metal, fineness }: MetalVariables, index: number): number => {
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
    const part = metalAt(network, of, values, solved, stream, each);
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
export const heldInOrder = ({ bounds }: MetalState): number[] => [...bounds.held].sort((one, other) => one - other);

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
