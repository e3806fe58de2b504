/**
 * What reconciliation is asked: readings, and balances between them. Everything is known by its index, and results keep the indexes.
 */

/**
 * No `value`: unmeasured. `u` is the standard uncertainty of the reading's own error; 0 or none said: exact, but for what is shared.
 */
export interface Reading {
  readonly value?: number | undefined;
  readonly u?: number | undefined;
  /** Errors that it shares with other readings, such as its scale's bias; they come on top of `u`. */
  readonly shared?: readonly SharedError[] | undefined;
}

/** Reading = what is true + its own error + Σ size × error of the source; a source's error has mean 0 and standard uncertainty 1. */
export interface SharedError {
  readonly source: number;
  /** Standard uncertainty that the source brings into the reading, with its sign, in the reading's unit. */
  readonly size: number;
}

/** Σ coefficientₖ · x[variableₖ] = constant. A variable named twice counts with the sum of its coefficients. */
export interface Balance {
  readonly variables: readonly number[];
  readonly coefficients: readonly number[];
  readonly constant: number;
}

export interface System {
  readonly readings: readonly Reading[];
  readonly balances: readonly Balance[];
  /** How many sources of shared errors there are. */
  readonly sources?: number | undefined;
}

export type Kind = 'measured' | 'exact' | 'unmeasured';

export const kindOf = (reading: Reading): Kind => {
  if (reading.value === undefined) return 'unmeasured';
  return reading.u === undefined || reading.u === 0 ? 'exact' : 'measured';
};

/** Throws a RangeError where a figure is not one, an uncertainty is negative, or a balance names a variable that is not there. */
export const checkSystem = ({ readings, balances, sources = 0 }: System): void => {
  for (const [index, { value, u, shared }] of readings.entries()) {
    if (value !== undefined && !Number.isFinite(value)) throw new RangeError(`reading ${index} is not a number`);
    if (u !== undefined && !(u >= 0 && Number.isFinite(u))) throw new RangeError(`uncertainty ${index} is ${u}`);
    const strange = shared?.some(({ source, size }) => !(source >= 0 && source < sources) || !Number.isFinite(size));
    if (strange) throw new RangeError(`reading ${index} shares an error that is not there`);
  }
  for (const [index, { variables, coefficients, constant }] of balances.entries()) {
    const bad = variables.some((variable) => !(variable >= 0 && variable < readings.length));
    if (bad || variables.length !== coefficients.length)
      throw new RangeError(`balance ${index} names what is not there`);
    if (!Number.isFinite(constant) || !coefficients.every(Number.isFinite)) throw new RangeError(`balance ${index}`);
  }
};

/** A sparse row: variable to coefficient, none of them zero. */
export type SparseRow = Map<number, number>;

export const sparseRow = ({ variables, coefficients }: Balance): SparseRow => {
  const row: SparseRow = new Map();
  for (const [at, variable] of variables.entries()) {
    const sum = (row.get(variable) ?? 0) + coefficients[at]!;
    if (sum === 0) row.delete(variable);
    else row.set(variable, sum);
  }
  return row;
};

/**
 * The same coefficients by column: those of variable v are from `start[v]` to before `start[v + 1]`. A coefficient that cancels to zero
 * keeps its place, so that other figures of one shape lie alike.
 */
export interface Columns {
  readonly start: Int32Array;
  readonly balance: Int32Array;
  readonly coefficient: Float64Array;
}

/** Where the coefficients of a shape lie: its k-th term, balance after balance, adds to `placeOfTerm[k]`. */
export interface Shape {
  readonly start: Int32Array;
  readonly balance: Int32Array;
  readonly placeOfTerm: Int32Array;
}

export const shapeOf = ({ readings, balances }: System): Shape => {
  const start = new Int32Array(readings.length + 1);
  const last = new Int32Array(readings.length).fill(-1);
  let terms = 0;
  for (const [index, { variables }] of balances.entries()) {
    terms += variables.length;
    for (const variable of variables) {
      if (last[variable] === index) continue;
      last[variable] = index;
      start[variable + 1]! += 1;
    }
  }
  for (let variable = 0; variable < readings.length; variable++) start[variable + 1]! += start[variable]!;
  const next = start.slice(0, readings.length);
  const balance = new Int32Array(start[readings.length]!).fill(-1);
  const placeOfTerm = new Int32Array(terms);
  let term = 0;
  for (const [index, { variables }] of balances.entries()) {
    for (const variable of variables) {
      const before = next[variable]! - 1;
      const again = before >= start[variable]! && balance[before] === index;
      const place = again ? before : next[variable]!++;
      balance[place] = index;
      placeOfTerm[term++] = place;
    }
  }
  return { start, balance, placeOfTerm };
};

/** The system is of this shape. */
export const columnsOf = ({ start, balance, placeOfTerm }: Shape, { balances }: System): Columns => {
  const coefficient = new Float64Array(balance.length);
  let term = 0;
  for (const { coefficients } of balances) {
    for (let at = 0; at < coefficients.length; at++) coefficient[placeOfTerm[term++]!]! += coefficients[at]!;
  }
  return { start, balance, coefficient };
};
