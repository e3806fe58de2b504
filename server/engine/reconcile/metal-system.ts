/**
 * Masses and fineness as a linear system about given values.
 *
 * A stream's metal is mass × fineness. Where a fineness is read, or several streams share it, the product is linearised,
 * f₀ m + m₀ f − m₀ f₀, and stands so in the balances; where nobody read it, the mass of the metal is an unknown of its own and the balances
 * stay plain sums. The shape is the same at all values.
 */
import type { Network, Stream } from './network';
import type { Balance, Reading, System } from './system';

/** A stream whose reading is its mass in grams. */
export interface MetalStream extends Stream {
  /** Index of its composition: streams of one lot share one, and so one reading of its fineness. */
  readonly composition: number;
  /** What is known of the grams of each metal, such as a usual loss. Counts where nobody read the fineness and no other stream shares it. */
  readonly metals?: readonly (Reading | undefined)[];
  /** Its metals may be more than its mass: a loss of metal, booked beside a loss of mass. */
  readonly loose?: boolean;
}

/** One more assay of a composition whose metal was read already: a reading of its own. */
export interface MoreFineness extends Reading {
  readonly composition: number;
  readonly metal: number;
}

export interface MetalNetwork extends Network {
  readonly streams: readonly MetalStream[];
  /** How many metals are followed; what is not one of them is the rest. */
  readonly metals: number;
  /** For each composition the fineness of each metal, as a mass fraction; a metal left out is not known. */
  readonly compositions: readonly (readonly Reading[])[];
  /** Nodes from this one on keep the mass alone: what meets there is of one composition, so its metals say nothing more. All, if none said. */
  readonly metalNodes?: number;
  readonly more?: readonly MoreFineness[];
}

export interface MetalVariables {
  readonly readings: readonly Reading[];
  /** Variable of a stream's metal, at stream × metals + metal; −1 where it is a product or surely nothing. */
  readonly metal: Int32Array;
  /** Variable of a composition's fineness, at composition × metals + metal; −1 where it is no variable. */
  readonly fineness: Int32Array;
  /** 1: surely no such metal, as in flux; at composition × metals + metal. */
  readonly nothing: Uint8Array;
  /** The streams of each composition, the first of them or −1. */
  readonly firstStream: Int32Array;
  /** Variable of each further assay. */
  readonly more: Int32Array;
}

/**
 * Variables 0 to before the count of streams are their masses. Throws a RangeError on a composition that is not there, and on a further
 * assay without a first one.
 */
export const metalVariables = ({ streams, metals, compositions, more = [] }: MetalNetwork): MetalVariables => {
  const firstStream = new Int32Array(compositions.length).fill(-1);
  const shared = new Uint8Array(compositions.length);
  for (const [stream, { composition }] of streams.entries()) {
    if (!(composition >= 0 && composition < compositions.length))
      throw new RangeError(`stream ${stream} has no composition`);
    if (firstStream[composition]! < 0) firstStream[composition] = stream;
    else shared[composition] = 1;
  }
  const readings: Reading[] = streams.map(({ value, u, shared: sources }) => ({ value, u, shared: sources }));
  const metal = new Int32Array(streams.length * metals).fill(-1);
  const fineness = new Int32Array(compositions.length * metals).fill(-1);
  const nothing = new Uint8Array(compositions.length * metals);
  for (const [composition, fractions] of compositions.entries()) {
    for (let each = 0; each < metals; each++) {
      const reading = fractions[each] ?? {};
      const at = composition * metals + each;
      if (reading.value === 0 && (reading.u ?? 0) === 0) nothing[at] = 1;
      else if (reading.value !== undefined || shared[composition]) {
        fineness[at] = readings.length;
        readings.push(reading);
      } else if (firstStream[composition]! >= 0) {
        metal[firstStream[composition]! * metals + each] = readings.length;
        readings.push(streams[firstStream[composition]!]!.metals?.[each] ?? {});
      }
    }
  }
  const further = Int32Array.from(more, (reading, at) => {
    const first = fineness[reading.composition * metals + reading.metal] ?? -1;
    if (first < 0) throw new RangeError(`further assay ${at} has no first`);
    return readings.push(reading) - 1;
  });
  return { readings, metal, fineness, nothing, firstStream, more: further };
};

export interface MetalRow {
  readonly variables: number[];
  readonly coefficients: number[];
  constant: number;
}

export type MetalRows = readonly MetalRow[];

/**
 * Mass and metals at every node, linearised at the values. `into`, a system made by this function for the same network, is overwritten.
 * Throws a RangeError on a node that is not there.
 */
export const metalSystem = (
  network: MetalNetwork,
  of: MetalVariables,
  values: Float64Array,
  into?: MetalRows,
): System & { readonly balances: MetalRows } => {
  const { streams, nodes, metals, sources, metalNodes = nodes, more = [] } = network;
  const own = nodes + metals * metalNodes;
  const rows =
    into ?? Array.from({ length: own + more.length }, () => ({ variables: [], coefficients: [], constant: 0 }));
  const filled = new Int32Array(rows.length);
  for (const row of rows) row.constant = 0;
  const metalsAt = (stream: number, node: number, sign: number): void => {
    for (let each = 0; each < metals && node < metalNodes; each++) {
      const index = nodes + each * metalNodes + node;
      filled[index] = addMetal(rows[index]!, network, of, values, stream, each, sign, filled[index]!);
    }
  };
  for (let stream = 0; stream < streams.length; stream++) {
    const { from, to } = streams[stream]!;
    checkNode(stream, from, nodes);
    checkNode(stream, to, nodes);
    if (to !== undefined) {
      filled[to] = addTerm(rows[to]!, stream, 1, filled[to]!);
      metalsAt(stream, to, 1);
    }
    if (from !== undefined) {
      filled[from] = addTerm(rows[from]!, stream, -1, filled[from]!);
      metalsAt(stream, from, -1);
    }
  }
  for (let at = 0; at < more.length; at++) {
    const { composition, metal } = more[at]!;
    const row = rows[own + at]!;
    addTerm(row, of.fineness[composition * metals + metal]!, -1, addTerm(row, of.more[at]!, 1, 0));
  }
  return { readings: of.readings, balances: rows, sources };
};

const checkNode = (stream: number, node: number | undefined, nodes: number): void => {
  if (node !== undefined && !(node >= 0 && node < nodes))
    throw new RangeError(`stream ${stream} touches node ${node}, which is not there`);
};

/** At this place in the row; says where the next term goes. */
const addTerm = (row: MetalRow, variable: number, coefficient: number, place: number): number => {
  row.variables[place] = variable;
  row.coefficients[place] = coefficient;
  return place + 1;
};

/**
 * A stream's metal about the values, from this place on in the row: itself where it is an unknown of its own, else f₀ m + m₀ f − m₀ f₀. Says
 * where the next term goes. It is called for each metal of each stream in each pass: no list is made on the way.
 */
const addMetal = (
  row: MetalRow,
  { streams, metals }: MetalNetwork,
  { metal, fineness, nothing }: MetalVariables,
  values: Float64Array,
  stream: number,
  each: number,
  sign: number,
  place: number,
): number => {
  const own = metal[stream * metals + each]!;
  if (own >= 0) return addTerm(row, own, sign, place);
  const at = streams[stream]!.composition * metals + each;
  if (nothing[at]) return place;
  const variable = fineness[at]!;
  const [mass, share] = [Math.max(0, values[stream]!), values[variable]!];
  row.constant += sign * mass * share;
  return addTerm(row, variable, sign * mass, addTerm(row, stream, sign * share, place));
};

/** What a stream's metal, linearised at the values, comes to where it is solved; NaN where a part of it is not known. */
export const metalAt = (
  { streams, metals }: MetalNetwork,
  { metal, fineness, nothing }: MetalVariables,
  values: Float64Array,
  solved: Float64Array,
  stream: number,
  each: number,
): number => {
  const own = metal[stream * metals + each]!;
  if (own >= 0) return solved[own]!;
  const at = streams[stream]!.composition * metals + each;
  if (nothing[at]) return 0;
  const variable = fineness[at]!;
  const [mass, share] = [Math.max(0, values[stream]!), values[variable]!];
  return share * solved[stream]! + mass * solved[variable]! - mass * share;
};

/** mass − Σ metals = 0, linearised at the values: the stream is nothing but these metals. */
export const restRow = (network: MetalNetwork, of: MetalVariables, values: Float64Array, stream: number): Balance => {
  const row = { variables: [stream], coefficients: [1], constant: 0 };
  let next = 1;
  for (let each = 0; each < network.metals; each++) next = addMetal(row, network, of, values, stream, each, -1, next);
  return row;
};
