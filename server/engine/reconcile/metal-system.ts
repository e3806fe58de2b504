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

/** A term of a stream's metal: coefficients on its variables and a constant. */
interface Part {
  readonly variables: readonly number[];
  readonly coefficients: readonly number[];
  readonly constant: number;
}

const NOTHING: Part = { variables: [], coefficients: [], constant: 0 };

/** What a stream's metal is about the values, Σ coefficient · variable − constant. */
export const partOf = (
  { streams, metals }: MetalNetwork,
  { metal, fineness, nothing }: MetalVariables,
  values: Float64Array,
  stream: number,
  each: number,
): Part => {
  const own = metal[stream * metals + each]!;
  if (own >= 0) return { variables: [own], coefficients: [1], constant: 0 };
  const at = streams[stream]!.composition * metals + each;
  if (nothing[at]) return NOTHING;
  const [mass, share] = [Math.max(0, values[stream]!), values[fineness[at]!]!];
  return { variables: [stream, fineness[at]!], coefficients: [share, mass], constant: mass * share };
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
  for (const [stream, { from, to }] of streams.entries()) {
    checkNode(stream, from, nodes);
    checkNode(stream, to, nodes);
    for (let each = -1; each < metals; each++) {
      const part = each < 0 ? wholeOf(stream) : partOf(network, of, values, stream, each);
      for (let end = 0; end < 2; end++) {
        const node = end === 0 ? to : from;
        if (node === undefined || (each >= 0 && node >= metalNodes)) continue;
        const index = each < 0 ? node : nodes + each * metalNodes + node;
        filled[index] = addPart(rows[index]!, part, end === 0 ? 1 : -1, filled[index]!);
      }
    }
  }
  for (const [at, { composition, metal }] of more.entries()) {
    const same = {
      variables: [of.more[at]!, of.fineness[composition * metals + metal]!],
      coefficients: [1, -1],
      constant: 0,
    };
    addPart(rows[own + at]!, same, 1, 0);
  }
  return { readings: of.readings, balances: rows, sources };
};

const wholeOf = (stream: number): Part => ({ variables: [stream], coefficients: [1], constant: 0 });

const checkNode = (stream: number, node: number | undefined, nodes: number): void => {
  if (node !== undefined && !(node >= 0 && node < nodes))
    throw new RangeError(`stream ${stream} touches node ${node}, which is not there`);
};

/** From this place on in the row; says where the next part goes. */
const addPart = (row: MetalRow, part: Part, sign: number, place: number): number => {
  let next = place;
  for (let at = 0; at < part.variables.length; at++) {
    row.variables[next] = part.variables[at]!;
    row.coefficients[next++] = sign * part.coefficients[at]!;
  }
  row.constant += sign * part.constant;
  return next;
};

/** mass − Σ metals = 0, linearised at the values: the stream is nothing but these metals. */
export const restRow = (network: MetalNetwork, of: MetalVariables, values: Float64Array, stream: number): Balance => {
  const row = { variables: [stream], coefficients: [1], constant: 0 };
  let next = 1;
  for (let each = 0; each < network.metals; each++) {
    next = addPart(row, partOf(network, of, values, stream, each), -1, next);
  }
  return row;
};
