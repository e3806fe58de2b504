/**
 * Where masses and fineness settle: about the values so far the balances are linear, and are solved, and so again until nothing moves; then it
 * is looked at which bounds hold a value. Passes share one layout, and only what the figures change is computed anew.
 */
import { type Bounds, isBelow, moveBounds, newBounds } from './bounds';
import { type Layout, layOut } from './layout';
import {
  linearise,
  type MetalNetwork,
  type MetalRows,
  type MetalVariables,
  metalAt,
  metalRows,
  metalVariables,
  restRow,
} from './metal-system';
import { type Expanded, withSources } from './shared';
import { adjustedValues } from './solve';
import { type Balance, type FlatSystem, type Rows, withRows } from './system';

/** How the balances of a held set, or of none, are solved: lean on the way, and in full for the uncertainty of what nobody read. */
export interface HeldLayout {
  readonly held: string;
  readonly lean: Layout;
  full: Layout | undefined;
}

export interface MetalState {
  readonly network: MetalNetwork;
  readonly of: MetalVariables;
  readonly open: HeldLayout;
  readonly values: Float64Array;
  readonly bounds: Bounds;
  /** Room for the balances of each pass. */
  readonly rows: MetalRows;
  /** With what was held last. */
  held: HeldLayout | undefined;
}

export const MOST_PASSES = 60;
/** A mass below this, grams, is as good as none. */
export const LEAST_MASS = 1e-6;
/** Linearised anew until nothing moves by this share: far below what any reading means. */
export const CLOSE = 1e-8;
/** Moving by less than this share of its own uncertainty means nothing either. */
const CLOSE_TO_U = 1e-5;
/** With more than this share still moving, which bounds hold is not seen for sure. */
const ROUGH = 1e-3;
const LET_GO = 1e-9;
/** A first large step shrinks by more than those that follow: by no more than this it is believed. */
const LEAST_SHRINKING = 1e-3;

export const nextState = (before: MetalState, network: MetalNetwork): MetalState => ({
  ...before,
  network,
  of: metalVariables(network),
  bounds: newBounds(before.bounds),
  values: Float64Array.from(before.values),
});

export const newState = (network: MetalNetwork): MetalState => {
  const of = metalVariables(network);
  const values = startValues(network, of);
  const rows = metalRows(network, of);
  const { readings, figures } = of;
  const system = { readings, rows: linearise(rows, values), sources: network.sources };
  const lean = layOut(withSources(system, figures), true);
  return {
    network,
    of,
    open: { held: '', lean, full: undefined },
    values,
    bounds: newBounds(),
    rows,
    held: undefined,
  };
};

/** Balances tell masses that were not weighed; a mass that they do not tell starts at a usual one, a shared fineness at the middle. */
const startValues = (network: MetalNetwork, of: MetalVariables): Float64Array => {
  const { figures } = of;
  const streams = network.streams.length;
  const told = toldMasses(network.nodes, of);
  const weighed = figures.value.subarray(0, streams).filter((value) => value > 0);
  const usual = weighed.sort()[weighed.length >> 1] ?? 1;
  return figures.value.map((value, variable) => {
    if (variable >= streams) return Number.isNaN(value) ? 0.5 : value;
    const mass = Number.isNaN(told[variable]) ? usual : told[variable]!;
    return mass > LEAST_MASS ? mass : usual * 1e-3;
  });
};

/** Masses that nobody weighed, where a step has all others: step after step, each one once. NaN where they do not tell. */
const toldMasses = (nodes: number, { from, to, figures }: MetalVariables): Float64Array => {
  const told = figures.value.slice(0, from.length);
  const [open, sum, missing] = [new Int32Array(nodes), new Float64Array(nodes), new Float64Array(nodes)];
  // Of several streams that a node misses the sum of their indexes: of one, itself.
  const count = (stream: number, node: number, sign: number): void => {
    if (node < 0) return;
    if (Number.isNaN(told[stream])) {
      open[node]! += 1;
      missing[node]! += stream;
    } else sum[node]! += sign * told[stream]!;
  };
  for (let stream = 0; stream < told.length; stream++) {
    count(stream, to[stream]!, 1);
    count(stream, from[stream]!, -1);
  }
  const ready: number[] = [];
  for (let node = 0; node < nodes; node++) if (open[node] === 1) ready.push(node);
  for (let node = ready.pop(); node !== undefined; node = ready.pop()) {
    if (open[node] !== 1) continue;
    const stream = missing[node]!;
    const mass = to[stream] === node ? -sum[node]! : sum[node]!;
    told[stream] = mass;
    for (const end of [from[stream]!, to[stream]!]) {
      if (end < 0) continue;
      missing[end]! -= stream;
      sum[end]! += end === to[stream] ? mass : -mass;
      if (--open[end]! === 1) ready.push(end);
    }
  }
  return told;
};

/**
 * Passes until nothing moves, or until one more, made by the caller, is likely to be the last: each shrinks what moves by about as much as the
 * one before, so long as the same bounds hold. `sure`: the likelihood is not relied on.
 */
export const settle = (
  state: MetalState,
  before: number,
  sure: boolean,
): { readonly settled: boolean; readonly passes: number } => {
  const { values, bounds, of } = state;
  let last: number | undefined;
  for (let passes = before + 1; passes < MOST_PASSES; passes++) {
    const held = heldInOrder(state);
    const system = withHeld(state, linearise(state.rows, values), held);
    const expanded = withSources(system, of.figures);
    const solved = adjustedValues(expanded, layoutFor(state, expanded, held).lean, values);
    const moved = takeValues(state, solved.values);
    const shrinks = sure || last === undefined ? 1 : Math.min(1, Math.max(moved / last, LEAST_SHRINKING));
    last = moved;
    // With μ the force of the bound x ≥ 0, and x = 0 as a balance: μ = −λ.
    const first = system.rows.constant.length - held.length;
    const pull = new Map(held.map((index, at) => [index, -solved.multipliers[first + at]!]));
    const broken = brokenBounds(state, solved.values);
    const changed = moveBounds(bounds, broken, (index) => pull.get(index)!, moved > ROUGH);
    atBounds(state, held);
    if (!changed && moved * shrinks <= CLOSE) return { settled: true, passes };
    if (changed) last = undefined;
  }
  return { settled: false, passes: MOST_PASSES };
};

/**
 * What is held is exactly nothing, so that what it would be multiplied with is not told by it; what was held before and is let go is a little
 * more, so that this is told again.
 */
const atBounds = ({ network, of, values, bounds }: MetalState, before: readonly number[]): void => {
  const put = (index: number, value: number): void => {
    const variable = boundVariable(network, of, index);
    if (variable >= 0) values[variable] = value;
  };
  for (const index of before) if (!bounds.held.has(index)) put(index, LET_GO);
  for (const index of bounds.held) put(index, 0);
};

/** Held values as balances of their own, so that what was read of them is still tested. */
export const withHeld = ({ network, of, values }: MetalState, rows: Rows, held: readonly number[]): FlatSystem => {
  const more = held.map((index): Balance => {
    const variable = boundVariable(network, of, index);
    if (variable >= 0) return { variables: [variable], coefficients: [1], constant: 0 };
    return restRow(network, of, values, boundOf(network, index).stream);
  });
  return { readings: of.readings, rows: withRows(rows, more), sources: network.sources };
};

export const layoutFor = (state: MetalState, system: Expanded, held: readonly number[]): HeldLayout => {
  if (held.length === 0) return state.open;
  const now = held.join();
  if (state.held?.held !== now) state.held = { held: now, lean: layOut(system, true), full: undefined };
  return state.held;
};

/** Says by how much they moved: the largest as a share of the value, or of 1 for small ones; as little as nothing where u is far above. */
export const takeValues = ({ of, values }: MetalState, solved: Float64Array): number => {
  const { variance } = of.figures;
  let most = 0;
  for (let variable = 0; variable < values.length; variable++) {
    const value = solved[variable]!;
    if (Number.isNaN(value)) continue;
    const before = values[variable]!;
    const change = Math.abs(value - before);
    values[variable] = value;
    if (change * change <= CLOSE_TO_U * CLOSE_TO_U * variance[variable]!) continue;
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
export const boundVariable = (
  network: MetalNetwork,
  { metal, fineness, composition }: MetalVariables,
  index: number,
): number => {
  const kind = index % (network.metals + 2);
  const stream = (index - kind) / (network.metals + 2);
  if (kind === 0) return stream;
  if (kind > network.metals) return -1;
  const own = metal[stream * network.metals + kind - 1]!;
  return own >= 0 ? own : fineness[composition[stream]! * network.metals + kind - 1]!;
};

/** What falls below its bound and is not held there. */
export const brokenBounds = ({ network, of, values, bounds }: MetalState, solved: Float64Array): number[] => {
  const { metals } = network;
  const broken: number[] = [];
  for (let stream = 0; stream < of.from.length; stream++) {
    const first = stream * (metals + 2);
    const composition = of.composition[stream]!;
    if (isBelow(solved[stream]!, 0)) broken.push(first);
    // Streams of one composition share its bounds.
    if (of.firstStream[composition] !== stream) continue;
    let rest = solved[stream]!;
    let size = Math.abs(solved[stream]!);
    for (let metal = 0; metal < metals; metal++) {
      const own = of.metal[stream * metals + metal]!;
      const variable = own >= 0 ? own : of.fineness[composition * metals + metal]!;
      if (variable < 0) continue;
      if (isBelow(solved[variable]!, 0)) broken.push(first + 1 + metal);
      const part = metalAt(network, of, values, solved, stream, metal);
      rest -= part;
      size += Math.abs(part);
    }
    if (metals > 0 && !of.loose[stream] && isBelow(rest, size)) broken.push(first + metals + 1);
  }
  return broken.filter((index) => !bounds.held.has(index));
};

/** In rising order, so that the same ones make the same layout. */
export const heldInOrder = ({ bounds }: MetalState): number[] => [...bounds.held].sort((one, other) => one - other);
