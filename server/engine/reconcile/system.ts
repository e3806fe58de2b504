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

/**
 * Balances laid end to end, for what goes over all of them again and again: the terms of balance b are those from `start[b]` to before
 * `start[b + 1]`.
 */
export interface Rows {
  readonly start: Int32Array;
  readonly variable: Int32Array;
  readonly coefficient: Float64Array;
  readonly constant: Float64Array;
}

/** A system whose balances were made end to end. */
export interface FlatSystem {
  readonly readings: readonly Reading[];
  readonly rows: Rows;
  readonly sources?: number | undefined;
}

export type AnySystem = System | FlatSystem;

export const rowsOf = (system: AnySystem): Rows => ('rows' in system ? system.rows : endToEnd(system.balances));

export const endToEnd = (balances: readonly Balance[]): Rows => {
  const start = new Int32Array(balances.length + 1);
  for (let index = 0; index < balances.length; index++) {
    start[index + 1] = start[index]! + balances[index]!.variables.length;
  }
  const variable = new Int32Array(start[balances.length]!);
  const coefficient = new Float64Array(variable.length);
  const constant = new Float64Array(balances.length);
  for (let index = 0; index < balances.length; index++) {
    const balance = balances[index]!;
    variable.set(balance.variables, start[index]!);
    coefficient.set(balance.coefficients, start[index]!);
    constant[index] = balance.constant;
  }
  return { start, variable, coefficient, constant };
};

/** These balances, and others after them. */
export const withRows = (rows: Rows, more: readonly Balance[]): Rows => {
  if (more.length === 0) return rows;
  const other = endToEnd(more);
  const [count, terms] = [rows.constant.length, rows.variable.length];
  const start = new Int32Array(count + more.length + 1);
  start.set(rows.start);
  for (let index = 1; index <= more.length; index++) start[count + index] = terms + other.start[index]!;
  return {
    start,
    variable: joined(new Int32Array(terms + other.variable.length), rows.variable, other.variable),
    coefficient: joined(new Float64Array(terms + other.variable.length), rows.coefficient, other.coefficient),
    constant: joined(new Float64Array(count + more.length), rows.constant, other.constant),
  };
};

const joined = <List extends Int32Array | Float64Array>(into: List, one: List, other: List): List => {
  into.set(one);
  into.set(other, one.length);
  return into;
};

export type Kind = 'measured' | 'exact' | 'unmeasured';

export const kindOf = (reading: Reading): Kind => {
  if (reading.value === undefined) return 'unmeasured';
  return reading.u === undefined || reading.u === 0 ? 'exact' : 'measured';
};

/** Readings as plain lists: `value` NaN where unmeasured, `variance` 0 where unmeasured or exact. */
export interface Figures {
  readonly value: Float64Array;
  readonly variance: Float64Array;
}

/** Throws a RangeError where a figure is not one, or an uncertainty is negative, or of a source that is not there. */
export const figuresOf = (readings: readonly Reading[], sources = Number.POSITIVE_INFINITY): Figures => {
  const [value, variance] = [new Float64Array(readings.length), new Float64Array(readings.length)];
  for (let at = 0; at < readings.length; at++) {
    const { value: read, u, shared } = readings[at]!;
    if (u !== undefined && !(u >= 0 && u < Number.POSITIVE_INFINITY)) throw new RangeError(`uncertainty ${at} is ${u}`);
    if (shared && !shared.every(({ source, size }) => source >= 0 && source < sources && Number.isFinite(size)))
      throw new RangeError(`reading ${at} shares an error that is not there`);
    if (read === undefined) {
      value[at] = Number.NaN;
      continue;
    }
    if (!Number.isFinite(read)) throw new RangeError(`reading ${at} is not a number`);
    value[at] = read;
    if (u !== undefined) variance[at] = u * u;
  }
  return { value, variance };
};

/** Throws a RangeError where a figure is not one, an uncertainty is negative, or a balance names a variable that is not there. */
export const checkSystem = (system: AnySystem): void => {
  figuresOf(system.readings, system.sources ?? 0);
  if ('balances' in system) {
    for (const [index, { variables, coefficients }] of system.balances.entries()) {
      if (variables.length !== coefficients.length) throw new RangeError(`balance ${index} names what is not there`);
    }
  }
  const { start, variable, coefficient, constant } = rowsOf(system);
  for (let index = 0; index < constant.length; index++) {
    if (!Number.isFinite(constant[index])) throw new RangeError(`balance ${index}`);
    for (let at = start[index]!; at < start[index + 1]!; at++) {
      if (!(variable[at]! >= 0 && variable[at]! < system.readings.length))
        throw new RangeError(`balance ${index} names what is not there`);
      if (!Number.isFinite(coefficient[at])) throw new RangeError(`balance ${index}`);
    }
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

/** Where the coefficients of a shape lie: its k-th term, balance after balance, adds to `placeOfTerm[k]`; −1: it has no place. */
export interface Shape {
  readonly start: Int32Array;
  readonly balance: Int32Array;
  readonly placeOfTerm: Int32Array;
}

/** `placeOfBalance`: balances that it gives no place are left out. */
export const shapeOf = (
  variables: number,
  { start: rowStart, variable }: Rows,
  placeOfBalance: Int32Array = rowStart,
): Shape => {
  const start = new Int32Array(variables + 1);
  const last = new Int32Array(variables).fill(-1);
  const placeOfTerm = new Int32Array(variable.length).fill(-1);
  const balances = rowStart.length - 1;
  // First the place within its column, as columns begin only where those before them end.
  for (let index = 0; index < balances; index++) {
    for (let at = rowStart[index]!; at < rowStart[index + 1]! && placeOfBalance[index]! >= 0; at++) {
      const each = variable[at]!;
      if (last[each] !== index) start[each + 1]! += 1;
      last[each] = index;
      placeOfTerm[at] = start[each + 1]! - 1;
    }
  }
  for (let each = 0; each < variables; each++) start[each + 1]! += start[each]!;
  const balance = new Int32Array(start[variables]!);
  for (let index = 0; index < balances; index++) {
    for (let at = rowStart[index]!; at < rowStart[index + 1]! && placeOfBalance[index]! >= 0; at++) {
      placeOfTerm[at]! += start[variable[at]!]!;
      balance[placeOfTerm[at]!] = index;
    }
  }
  return { start, balance, placeOfTerm };
};

/** The rows are of this shape. */
export const columnsOf = ({ start, balance, placeOfTerm }: Shape, rows: Rows): Columns => {
  const coefficient = new Float64Array(balance.length);
  for (let at = 0; at < placeOfTerm.length; at++) {
    if (placeOfTerm[at]! >= 0) coefficient[placeOfTerm[at]!]! += rows.coefficient[at]!;
  }
  return { start, balance, coefficient };
};
