/** Columns eliminated from sparse balances, one after the other. */
import { degreeQueue } from './queue';
import type { Expanded } from './shared';
import type { Columns, SparseRow } from './system';

/** Unmeasured variables, each beside the balance that it is solved from. */
export interface Pivots {
  readonly balance: readonly number[];
  readonly variable: readonly number[];
}

/** A difference of this share of its terms is rounding. */
export const ROUNDING = 1e-10;
/** Of a column's coefficients, those within this share of the largest may be pivots. */
const PIVOT_SHARE = 0.01;

/** Balances on the way. */
export interface Work {
  /** Row r has its terms from `from[r]` to before `to[r]`; one that was changed lies behind all others. */
  readonly from: Int32Array;
  readonly to: Int32Array;
  variable: Int32Array;
  coefficient: Float64Array;
  readonly active: Uint8Array;
  readonly constants: Float64Array;
  /** What has been added up in a row's constant, to tell rounding from contradiction. */
  readonly sizes: Float64Array;
}

/** Rows without the coefficients that have cancelled. */
export const startWork = ({ rows: { constant } }: Expanded, { start, balance, coefficient }: Columns): Work => {
  const [from, to] = [new Int32Array(constant.length), new Int32Array(constant.length)];
  for (let at = 0; at < balance.length; at++) if (coefficient[at] !== 0) to[balance[at]!]! += 1;
  for (let row = 0, next = 0; row < constant.length; row++) {
    from[row] = next;
    next += to[row]!;
    to[row] = from[row]!;
  }
  const work: Work = {
    from,
    to,
    variable: new Int32Array(balance.length),
    coefficient: new Float64Array(balance.length),
    active: new Uint8Array(constant.length).fill(1),
    constants: Float64Array.from(constant),
    sizes: constant.map(Math.abs),
  };
  for (let variable = 0; variable < start.length - 1; variable++) {
    for (let at = start[variable]!; at < start[variable + 1]!; at++) {
      if (coefficient[at] === 0) continue;
      const place = to[balance[at]!]!++;
      work.variable[place] = variable;
      work.coefficient[place] = coefficient[at]!;
    }
  }
  return work;
};

/**
 * Each pivot's row keeps what it was when it was chosen, and is no longer active. Most variables stand, or come to stand, in one active row:
 * these are taken first, and nothing has to be subtracted for them.
 */
export const eliminateColumns = (
  work: Work,
  eligible: Uint8Array,
): { readonly pivots: Pivots; readonly alone: number } => {
  const { from, to, variable: of, active } = work;
  const left = new Int32Array(eligible.length);
  // Of the active rows of a variable the sum of their indexes: of one, itself.
  const rows = new Float64Array(eligible.length);
  let open = 0;
  for (let row = 0; row < active.length; row++) {
    for (let at = from[row]!; at < to[row]! && active[row]; at++) {
      const variable = of[at]!;
      if (!eligible[variable]) continue;
      if (left[variable]!++ === 0) open++;
      rows[variable]! += row;
    }
  }
  const single: number[] = [];
  for (let variable = 0; variable < left.length; variable++) if (left[variable] === 1) single.push(variable);
  const pivots: { balance: number[]; variable: number[] } = { balance: [], variable: [] };
  for (let variable = single.pop(); variable !== undefined; variable = single.pop()) {
    if (left[variable] !== 1) continue;
    const balance = rows[variable]!;
    pivots.balance.push(balance);
    pivots.variable.push(variable);
    active[balance] = 0;
    for (let at = from[balance]!; at < to[balance]!; at++) {
      const other = of[at]!;
      if (!eligible[other]) continue;
      rows[other]! -= balance;
      const count = --left[other]!;
      if (count === 1) single.push(other);
      else if (count === 0) open--;
    }
  }
  const alone = pivots.variable.length;
  if (open > 0) eliminateTied(work, left, pivots);
  return { pivots, alone };
};

interface Tied {
  readonly work: Work;
  /** The rows that they stand in. */
  readonly rows: Map<number, SparseRow>;
  readonly columns: Map<number, Set<number>>;
  readonly changed: Set<number>;
}

/** Variables that are `left` in more than one active row. */
const eliminateTied = (work: Work, left: Int32Array, pivots: { balance: number[]; variable: number[] }): void => {
  const tied = tiedOf(work, left);
  const { rows, columns } = tied;
  const queue = degreeQueue(left.length);
  for (const [variable, column] of columns) queue.put(variable, column.size);
  for (let variable = queue.take(); variable !== undefined; variable = queue.take()) {
    const column = columns.get(variable)!;
    columns.delete(variable);
    if (column.size === 0) continue;
    const balance = choosePivot(tied, variable, column);
    pivots.balance.push(balance);
    pivots.variable.push(variable);
    work.active[balance] = 0;
    for (const other of column) if (other !== balance) subtractRow(tied, balance, other, variable);
    for (const touched of rows.get(balance)!.keys()) {
      const others = columns.get(touched);
      if (!others) continue;
      others.delete(balance);
      queue.put(touched, others.size);
    }
  }
  putBack(tied);
};

const tiedOf = (work: Work, left: Int32Array): Tied => {
  const { from, to, variable, coefficient, active } = work;
  const rows = new Map<number, SparseRow>();
  const columns = new Map<number, Set<number>>();
  for (let row = 0; row < active.length; row++) {
    if (!active[row]) continue;
    let own: SparseRow | undefined;
    for (let at = from[row]!; at < to[row]!; at++) {
      const each = variable[at]!;
      if (left[each] === 0) continue;
      const column = columns.get(each);
      if (column) column.add(row);
      else columns.set(each, new Set([row]));
      own ??= new Map();
    }
    if (!own) continue;
    for (let at = from[row]!; at < to[row]!; at++) own.set(variable[at]!, coefficient[at]!);
    rows.set(row, own);
  }
  return { work, rows, columns, changed: new Set() };
};

const putBack = ({ work, rows, changed }: Tied): void => {
  let next = work.variable.length;
  let more = 0;
  for (const index of changed) more += rows.get(index)!.size;
  const [variable, coefficient] = [new Int32Array(next + more), new Float64Array(next + more)];
  variable.set(work.variable);
  coefficient.set(work.coefficient);
  for (const index of changed) {
    work.from[index] = next;
    for (const [column, value] of rows.get(index)!) {
      variable[next] = column;
      coefficient[next++] = value;
    }
    work.to[index] = next;
  }
  work.variable = variable;
  work.coefficient = coefficient;
};

/** The shortest row, so that short is added to long, among those whose coefficient is not small. */
const choosePivot = ({ rows }: Tied, variable: number, column: ReadonlySet<number>): number => {
  let largest = 0;
  for (const index of column) largest = Math.max(largest, Math.abs(rows.get(index)!.get(variable)!));
  let best = -1;
  for (const index of column) {
    if (Math.abs(rows.get(index)!.get(variable)!) < PIVOT_SHARE * largest) continue;
    if (best < 0 || rows.get(index)!.size < rows.get(best)!.size) best = index;
  }
  return best;
};

const subtractRow = (
  { work: { constants, sizes }, rows, columns, changed }: Tied,
  pivot: number,
  other: number,
  variable: number,
): void => {
  const from = rows.get(pivot)!;
  const into = rows.get(other)!;
  changed.add(other);
  const factor = into.get(variable)! / from.get(variable)!;
  into.delete(variable);
  for (const [column, coefficient] of from) {
    if (column === variable) continue;
    const before = into.get(column) ?? 0;
    const less = factor * coefficient;
    const after = before - less;
    if (Math.abs(after) <= ROUNDING * (Math.abs(before) + Math.abs(less))) {
      into.delete(column);
      columns.get(column)?.delete(other);
    } else {
      into.set(column, after);
      if (before === 0) columns.get(column)?.add(other);
    }
  }
  constants[other]! -= factor * constants[pivot]!;
  sizes[other]! += Math.abs(factor) * sizes[pivot]!;
};
