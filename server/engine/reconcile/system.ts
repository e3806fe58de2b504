/**
 * What reconciliation is asked: readings, and balances between them. Everything is known by its index, and results keep the indexes.
 */

/** No `value`: unmeasured. `u` is the standard uncertainty; 0 or none said: exact. */
export interface Reading {
  readonly value?: number;
  readonly u?: number;
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
}

export type Kind = 'measured' | 'exact' | 'unmeasured';

export const kindOf = (reading: Reading): Kind => {
  if (reading.value === undefined) return 'unmeasured';
  return reading.u === undefined || reading.u === 0 ? 'exact' : 'measured';
};

/** Throws a RangeError where a figure is not one, an uncertainty is negative, or a balance names a variable that is not there. */
export const checkSystem = ({ readings, balances }: System): void => {
  for (const [index, { value, u }] of readings.entries()) {
    if (value !== undefined && !Number.isFinite(value)) throw new RangeError(`reading ${index} is not a number`);
    if (u !== undefined && !(u >= 0 && Number.isFinite(u))) throw new RangeError(`uncertainty ${index} is ${u}`);
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

/** The same coefficients by column: for each variable its balances and coefficients. */
export interface Columns {
  readonly balances: readonly (readonly number[])[];
  readonly coefficients: readonly (readonly number[])[];
}

export const columnsOf = (rows: readonly SparseRow[], variables: number): Columns => {
  const balances: number[][] = Array.from({ length: variables }, () => []);
  const coefficients: number[][] = Array.from({ length: variables }, () => []);
  for (const [index, row] of rows.entries()) {
    for (const [variable, coefficient] of row) {
      balances[variable]!.push(index);
      coefficients[variable]!.push(coefficient);
    }
  }
  return { balances, coefficients };
};
