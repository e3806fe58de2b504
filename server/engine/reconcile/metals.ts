/**
 * Masses and fineness together: every step keeps the mass, and keeps each metal.
 *
 * The unknowns are the mass of each stream and the mass of each metal in it, so that all balances of steps stay plain sums; only where a
 * fineness is read does a product enter, metal = mass × fineness, and is linearised from pass to pass. Streams of one lot share one
 * composition and so one reading of its fineness.
 */
import { type Bounds, heldRows, moveBounds, newBounds } from './bounds';
import { nodeBalances, type Stream } from './network';
import { reconcileSuccessively } from './nonlinear';
import { type Reconciled, reconcile, type Standing } from './solve';
import { type Balance, kindOf, type Reading } from './system';

/** A stream whose reading is its mass in grams. */
export interface MetalStream extends Stream {
  /** Index of its composition. */
  readonly composition: number;
}

export interface MetalNetwork {
  readonly streams: readonly MetalStream[];
  readonly nodes: number;
  /** How many metals are followed; what is not one of them is the rest. */
  readonly metals: number;
  /** For each composition the fineness of each metal, as a mass fraction; a metal left out is not known. */
  readonly compositions: readonly (readonly Reading[])[];
}

export interface Known {
  readonly standing: Standing;
  readonly value: number | undefined;
  /** As if no bound held it: at a bound the true error is one-sided, and smaller. */
  readonly u: number | undefined;
  /** Its index in `MetalResult.result`, for tests. */
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
}

/** `metal` undefined: the mass itself; `rest`: the metals make up the whole. */
export interface Held {
  readonly stream: number;
  readonly metal: number | 'rest' | undefined;
}

const MOST_ROUNDS = 25;
/** A fineness is not spoken of in less than this, grams. */
const LEAST_MASS = 1e-6;
/** Linearised anew until nothing moves by this share: far below what any reading means. */
const CLOSE = 1e-8;

/**
 * Throws a RangeError on a stream whose node or composition is not there. `converged: false` says that linearising or the choice of bounds
 * did not settle; the figures are then not to be relied on.
 */
export const reconcileMetals = (network: MetalNetwork): MetalResult => {
  const layout = layOut(network);
  const linear = linearBalances(network, layout);
  const bounds = newBounds(boundRows(network, layout));
  const { readings } = layout;
  const rows = (values: Float64Array, which: 'binding' | 'all', held: boolean): Balance[] => [
    ...linear,
    ...(held ? heldRows(bounds) : []),
    ...products(network, layout, values, which),
  ];
  let values = startValues(network, layout, linear);
  let settled = false;
  for (let round = 0; round < MOST_ROUNDS && !settled; round++) {
    const solved = reconcileSuccessively(readings, (at) => rows(at, 'binding', true), values, {
      close: CLOSE,
      mostPasses: 30,
    });
    values = solved.values;
    settled = !moveBounds(bounds, solved.known, solved.multipliers, linear.length) && solved.converged;
  }
  inferFineness(network, layout, values);
  const result = reconcile({ readings, balances: rows(values, 'all', true) }, values);
  const open = bounds.held.size === 0 ? result : reconcile({ readings, balances: rows(values, 'all', false) }, values);
  return resultOf(network, layout, result, open.u, bounds, settled);
};

interface Layout {
  readonly readings: readonly Reading[];
  readonly metalAt: (stream: number, metal: number) => number;
  readonly finenessAt: (composition: number, metal: number) => number;
  /** 1: more than one stream has this composition. */
  readonly shared: Uint8Array;
}

const layOut = ({ streams, metals, compositions }: MetalNetwork): Layout => {
  const [finenessFrom, unmeasured, nothing] = [streams.length * (1 + metals), {}, { value: 0, u: 0 }];
  const readings: Reading[] = streams.map(({ value, u }) => ({ value, u }));
  for (const { composition } of streams) {
    const fractions = compositions[composition] ?? [];
    for (let metal = 0; metal < metals; metal++) readings.push(isNothing(fractions[metal]) ? nothing : unmeasured);
  }
  for (const fractions of compositions) {
    for (let metal = 0; metal < metals; metal++) readings.push(fractions[metal] ?? unmeasured);
  }
  const counts = new Uint32Array(compositions.length);
  for (const { composition } of streams) counts[composition] = (counts[composition] ?? 0) + 1;
  return {
    readings,
    shared: Uint8Array.from(counts, (count) => (count > 1 ? 1 : 0)),
    metalAt: (stream, metal) => streams.length + stream * metals + metal,
    finenessAt: (composition, metal) => finenessFrom + composition * metals + metal,
  };
};

/** Surely no such metal, as in flux: then there is no product to linearise. */
const isNothing = (reading: Reading | undefined): boolean => reading?.value === 0 && (reading.u ?? 0) === 0;

const linearBalances = ({ streams, nodes, metals, compositions }: MetalNetwork, layout: Layout): Balance[] => {
  for (const [index, { composition }] of streams.entries()) {
    if (!(composition >= 0 && composition < compositions.length))
      throw new RangeError(`stream ${index} has no composition`);
  }
  const masses = nodeBalances(streams, nodes);
  const all = [...masses];
  for (let metal = 0; metal < metals; metal++) {
    for (const { variables, coefficients } of masses) {
      all.push({ variables: variables.map((stream) => layout.metalAt(stream, metal)), coefficients, constant: 0 });
    }
  }
  return all;
};

/**
 * metal − mass × fineness = 0, at the values: g − f₀ m − m₀ f = −m₀ f₀. A fineness that nobody read and that belongs to one stream binds
 * nothing: its rows only carry the result over, and are left out until the end.
 */
const products = (
  { streams, metals }: MetalNetwork,
  layout: Layout,
  values: Float64Array,
  which: 'binding' | 'all',
): Balance[] => {
  const rows: Balance[] = [];
  for (const [stream, { composition }] of streams.entries()) {
    for (let metal = 0; metal < metals; metal++) {
      const variable = layout.finenessAt(composition, metal);
      const read = layout.readings[variable]!.value !== undefined;
      if (isNothing(layout.readings[variable])) continue;
      if (which === 'binding' && !read && !layout.shared[composition]) continue;
      const mass = values[stream]! > LEAST_MASS ? values[stream]! : 0;
      if (mass === 0 && !read) continue;
      const fineness = values[variable]!;
      rows.push({
        variables: [layout.metalAt(stream, metal), stream, variable],
        coefficients: [1, -fineness, -mass],
        constant: -mass * fineness,
      });
    }
  }
  return rows;
};

/** With every read fineness taken as exact the problem is linear: its solution tells about where the masses not weighed lie. */
const startValues = (network: MetalNetwork, layout: Layout, linear: readonly Balance[]): Float64Array => {
  const { streams, metals } = network;
  const rows: Balance[] = [...linear];
  for (const [stream, { composition }] of streams.entries()) {
    for (let metal = 0; metal < metals; metal++) {
      const { value } = layout.readings[layout.finenessAt(composition, metal)]!;
      if (value === undefined) continue;
      rows.push({ variables: [layout.metalAt(stream, metal), stream], coefficients: [1, -value], constant: 0 });
    }
  }
  const start = Float64Array.from(layout.readings, ({ value }) => value ?? 0);
  const { values } = reconcileSuccessively(layout.readings, () => rows, start, { mostPasses: 1 });
  for (const [stream, { composition }] of streams.entries()) {
    if (!layout.shared[composition] || !(values[stream]! > LEAST_MASS)) continue;
    for (let metal = 0; metal < metals; metal++) {
      const variable = layout.finenessAt(composition, metal);
      if (layout.readings[variable]!.value !== undefined || values[variable] !== 0) continue;
      values[variable] = Math.min(1, Math.max(0, values[layout.metalAt(stream, metal)]! / values[stream]!));
    }
  }
  inferFineness(network, layout, values);
  return values;
};

/** A fineness that nobody read is its metal in its mass, where both are known. */
const inferFineness = ({ streams, metals }: MetalNetwork, layout: Layout, values: Float64Array): void => {
  for (const [stream, { composition }] of streams.entries()) {
    for (let metal = 0; metal < metals; metal++) {
      const variable = layout.finenessAt(composition, metal);
      const [mass, part] = [values[stream]!, values[layout.metalAt(stream, metal)]!];
      if (layout.readings[variable]!.value !== undefined || layout.shared[composition] || !(mass > LEAST_MASS))
        continue;
      values[variable] = Math.min(1, Math.max(0, part / mass));
    }
  }
};

/** Each must not be negative. */
const boundRows = ({ streams, metals }: MetalNetwork, layout: Layout): Balance[] =>
  streams.flatMap((_, stream) => {
    const parts = Array.from({ length: metals }, (_unused, metal) => layout.metalAt(stream, metal));
    return [
      { variables: [stream], coefficients: [1], constant: 0 },
      ...parts.map((part) => ({ variables: [part], coefficients: [1], constant: 0 })),
      { variables: [stream, ...parts], coefficients: [1, ...parts.map(() => -1)], constant: 0 },
    ];
  });

const resultOf = (
  network: MetalNetwork,
  layout: Layout,
  result: Reconciled,
  u: Reconciled['u'],
  bounds: Bounds,
  converged: boolean,
): MetalResult => {
  const known = (variable: number): Known => ({
    standing: standingOf(result, layout, variable),
    value: result.values[variable],
    u: u[variable],
    variable,
  });
  const perStream = network.metals + 2;
  const held = [...bounds.held].map((index): Held => {
    const kind = index % perStream;
    return {
      stream: Math.floor(index / perStream),
      metal: kind === 0 ? undefined : kind > network.metals ? 'rest' : kind - 1,
    };
  });
  return {
    result,
    mass: known,
    metal: (stream, metal) => known(layout.metalAt(stream, metal)),
    fineness: (composition, metal) => known(layout.finenessAt(composition, metal)),
    gamma: result.gamma,
    freedom: result.freedom,
    held,
    converged,
  };
};

const standingOf = (result: Reconciled, layout: Layout, variable: number): Standing => {
  const standing = result.standings[variable]!;
  // A reading that stands only in products with an unknown mass is adjusted by nothing.
  const idle = result.evidence.leverage[variable] === 0 && kindOf(layout.readings[variable]!) === 'measured';
  return standing === 'checked' && idle ? 'unchecked' : standing;
};
