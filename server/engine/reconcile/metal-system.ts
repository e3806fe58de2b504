/**
 * Masses and fineness as a linear system about given values.
 *
 * A stream's metal is mass × fineness. Where a fineness is read, or several streams share it, the product is linearised,
 * f₀ m + m₀ f − m₀ f₀, and stands so in the balances; where nobody read it, the mass of the metal is an unknown of its own and the balances
 * stay plain sums. The shape is the same at all values.
 */
import type { Network, Stream } from './network';
import { type Balance, type Figures, figuresOf, type Reading, type Rows } from './system';

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
  readonly figures: Figures;
  /** Variable of a stream's metal, at stream × metals + metal; −1 where it is a product or surely nothing. */
  readonly metal: Int32Array;
  /** Variable of a composition's fineness, at composition × metals + metal; −1 where it is no variable. */
  readonly fineness: Int32Array;
  /** 1: surely no such metal, as in flux; at composition × metals + metal. */
  readonly nothing: Uint8Array;
  /** Of each stream its ends, −1 for outside, and its composition. */
  readonly from: Int32Array;
  readonly to: Int32Array;
  readonly composition: Int32Array;
  /** 1: its metals may be more than its mass. */
  readonly loose: Uint8Array;
  /** The streams of each composition, the first of them or −1. */
  readonly firstStream: Int32Array;
  /** Variable of each further assay. */
  readonly more: Int32Array;
}

const NOT_READ: Reading = {};

/**
 * Variables 0 to before the count of streams are their masses. Throws a RangeError on a node or composition that is not there, on a further
 * assay without a first one, and on a figure that is none.
 */
export const metalVariables = ({
  streams,
  nodes,
  metals,
  compositions,
  more = [],
  sources = 0,
}: MetalNetwork): MetalVariables => {
  const firstStream = new Int32Array(compositions.length).fill(-1);
  const shared = new Uint8Array(compositions.length);
  const from = new Int32Array(streams.length);
  const [to, compositionOf] = [from.slice(), from.slice()];
  const looseOf = new Uint8Array(streams.length);
  const readings: Reading[] = [];
  for (let stream = 0; stream < streams.length; stream++) {
    const { from: source, to: goal, composition, loose } = streams[stream]!;
    readings.push(streams[stream]!);
    if (loose) looseOf[stream] = 1;
    from[stream] = checkedNode(stream, source, nodes);
    to[stream] = checkedNode(stream, goal, nodes);
    if (!(composition >= 0 && composition < compositions.length))
      throw new RangeError(`stream ${stream} has no composition`);
    compositionOf[stream] = composition;
    if (firstStream[composition]! < 0) firstStream[composition] = stream;
    else shared[composition] = 1;
  }
  const metal = new Int32Array(streams.length * metals).fill(-1);
  const fineness = new Int32Array(compositions.length * metals).fill(-1);
  const nothing = new Uint8Array(compositions.length * metals);
  for (let composition = 0; composition < compositions.length; composition++) {
    for (let each = 0; each < metals; each++) {
      const reading = compositions[composition]![each] ?? NOT_READ;
      const at = composition * metals + each;
      if (reading.value === 0 && (reading.u ?? 0) === 0) nothing[at] = 1;
      else if (reading.value !== undefined || shared[composition]) {
        fineness[at] = readings.length;
        readings.push(reading);
      } else if (firstStream[composition]! >= 0) {
        metal[firstStream[composition]! * metals + each] = readings.length;
        readings.push(streams[firstStream[composition]!]!.metals?.[each] ?? NOT_READ);
      }
    }
  }
  const further = Int32Array.from(more, (reading, at) => {
    const first = fineness[reading.composition * metals + reading.metal] ?? -1;
    if (first < 0) throw new RangeError(`further assay ${at} has no first`);
    return readings.push(reading) - 1;
  });
  return {
    readings,
    figures: figuresOf(readings, sources),
    metal,
    fineness,
    nothing,
    from,
    to,
    composition: compositionOf,
    loose: looseOf,
    firstStream,
    more: further,
  };
};

const checkedNode = (stream: number, node: number | undefined, nodes: number): number => {
  if (node === undefined) return -1;
  if (node >= 0 && node < nodes) return node;
  throw new RangeError(`stream ${stream} touches node ${node}, which is not there`);
};

/**
 * Mass and metals at every node, so far as it does not depend on the values. The p-th product of a mass and a fineness has its two terms, mass
 * first, from `place[p]` on.
 */
export interface MetalRows {
  readonly rows: Rows;
  readonly place: Int32Array;
  readonly row: Int32Array;
  readonly sign: Int8Array;
  readonly mass: Int32Array;
  readonly share: Int32Array;
}

export const metalRows = (network: MetalNetwork, of: MetalVariables): MetalRows => {
  const { nodes, metals, metalNodes = nodes, more = [] } = network;
  const own = nodes + metals * metalNodes;
  const start = new Int32Array(own + more.length + 1);
  let products = 0;
  // Counted first, as rows begin only where those before them end.
  eachTerm(network, of, (row, _, __, share) => {
    start[row + 1]! += share < 0 ? 1 : 2;
    if (share >= 0) products++;
  });
  for (let row = 0; row < own + more.length; row++) start[row + 1]! += start[row]!;
  const made: MetalRows = {
    rows: {
      start,
      variable: new Int32Array(start.at(-1)!),
      coefficient: new Float64Array(start.at(-1)!),
      constant: new Float64Array(own + more.length),
    },
    place: new Int32Array(products),
    row: new Int32Array(products),
    sign: new Int8Array(products),
    mass: new Int32Array(products),
    share: new Int32Array(products),
  };
  const next = start.slice(0, own + more.length);
  eachTerm(network, of, (row, sign, variable, share) => {
    const at = next[row]!;
    made.rows.variable[at] = variable;
    made.rows.coefficient[at] = sign;
    next[row]! += share < 0 ? 1 : 2;
    if (share < 0) return;
    made.rows.variable[at + 1] = share;
    products--;
    made.place[products] = at;
    made.row[products] = row;
    made.sign[products] = sign;
    made.mass[products] = variable;
    made.share[products] = share;
  });
  return made;
};

/** `share` −1: the term is a plain one, and not a product. */
const eachTerm = (
  { nodes, metals, metalNodes = nodes, more = [] }: MetalNetwork,
  of: MetalVariables,
  visit: (row: number, sign: number, variable: number, share: number) => void,
): void => {
  const meet = (stream: number, node: number, sign: number): void => {
    if (node < 0) return;
    visit(node, sign, stream, -1);
    for (let metal = 0; metal < metals && node < metalNodes; metal++) {
      const row = nodes + metal * metalNodes + node;
      const itself = of.metal[stream * metals + metal]!;
      const at = of.composition[stream]! * metals + metal;
      if (itself >= 0) visit(row, sign, itself, -1);
      else if (!of.nothing[at]) visit(row, sign, stream, of.fineness[at]!);
    }
  };
  for (let stream = 0; stream < of.from.length; stream++) {
    meet(stream, of.to[stream]!, 1);
    meet(stream, of.from[stream]!, -1);
  }
  for (let at = 0; at < more.length; at++) {
    const row = nodes + metals * metalNodes + at;
    visit(row, 1, of.more[at]!, -1);
    visit(row, -1, of.fineness[more[at]!.composition * metals + more[at]!.metal]!, -1);
  }
};

/** Linearised at the values, in place. */
export const linearise = ({ rows, place, row, sign, mass, share }: MetalRows, values: Float64Array): Rows => {
  const { coefficient, constant } = rows;
  constant.fill(0);
  for (let product = 0; product < place.length; product++) {
    const at = place[product]!;
    const grams = sign[product]! * Math.max(0, values[mass[product]!]!);
    const part = values[share[product]!]!;
    coefficient[at] = sign[product]! * part;
    coefficient[at + 1] = grams;
    constant[row[product]!]! += grams * part;
  }
  return rows;
};

/** For figures that are to stay as they are when others are worked out. */
export const apart = (made: MetalRows): MetalRows => ({
  ...made,
  rows: {
    ...made.rows,
    coefficient: Float64Array.from(made.rows.coefficient),
    constant: Float64Array.from(made.rows.constant),
  },
});

/** What a stream's metal, linearised at the values, comes to where it is solved; NaN where a part of it is not known. */
export const metalAt = (
  { metals }: MetalNetwork,
  { metal, fineness, nothing, composition }: MetalVariables,
  values: Float64Array,
  solved: Float64Array,
  stream: number,
  each: number,
): number => {
  const own = metal[stream * metals + each]!;
  if (own >= 0) return solved[own]!;
  const at = composition[stream]! * metals + each;
  if (nothing[at]) return 0;
  const variable = fineness[at]!;
  const mass = Math.max(0, values[stream]!);
  const share = values[variable]!;
  return share * solved[stream]! + mass * solved[variable]! - mass * share;
};

/** mass − Σ metals = 0, linearised at the values: the stream is nothing but these metals. */
export const restRow = (
  { metals }: MetalNetwork,
  { metal, fineness, nothing, composition }: MetalVariables,
  values: Float64Array,
  stream: number,
): Balance => {
  const row = { variables: [stream], coefficients: [1], constant: 0 };
  const add = (variable: number, coefficient: number): void => {
    row.variables.push(variable);
    row.coefficients.push(coefficient);
  };
  for (let each = 0; each < metals; each++) {
    const own = metal[stream * metals + each]!;
    const at = composition[stream]! * metals + each;
    if (own >= 0) add(own, -1);
    else if (!nothing[at]) {
      const mass = Math.max(0, values[stream]!);
      const share = values[fineness[at]!]!;
      row.constant -= mass * share;
      add(stream, -share);
      add(fineness[at]!, -mass);
    }
  }
  return row;
};
