/**
 * What the balances can tell at all, whatever the figures: which unmeasured values follow from the others, which readings something
 * checks, which balances say nothing new. Only the coefficients decide, so a lot of 0.05 g beside 500 g of flux is judged like any other.
 *
 * Unmeasured columns are eliminated from the balances first (Crowe's projection, as Gaussian elimination with Markowitz' order instead of
 * a dense null space); what is left binds measured values only. Then measured columns are eliminated, which gives the rank.
 */
import { degreeQueue } from './queue';
import { kindOf, type SparseRow, type System, sparseRow } from './system';

/**
 * `checked`: measured, and some balance tests it. `unchecked`: measured, and nothing would show if it were wrong.
 * `inferred`: unmeasured, told by the balances. `unknown`: unmeasured, and no balance tells it.
 */
export type Standing = 'checked' | 'unchecked' | 'inferred' | 'unknown';

/** An unmeasured variable and the balance that it is solved from. */
export interface Pivot {
  readonly balance: number;
  readonly variable: number;
}

export interface Structure {
  /** In the order in which each is free of those before it. */
  readonly pivots: readonly Pivot[];
  /** Unmeasured variables that can be told from the readings; for all others 0. */
  readonly observable: Uint8Array;
  /** Measured and exact variables that at least one balance checks. */
  readonly redundant: Uint8Array;
  /** Balances that follow from the others. */
  readonly dependent: Uint8Array;
  /** Dependent balances whose exact readings contradict each other. */
  readonly contradictions: readonly number[];
  /** Degrees of freedom: independent balances left when the unmeasured are gone. */
  readonly freedom: number;
}

/** A difference of this share of its terms is rounding. */
const ROUNDING = 1e-10;
/** Of a column's coefficients, those within this share of the largest may be pivots. */
const PIVOT_SHARE = 0.01;

interface Work {
  readonly rows: readonly SparseRow[];
  readonly active: Uint8Array;
  readonly constants: Float64Array;
  /** What has been added up in a row's constant, to tell rounding from contradiction. */
  readonly sizes: Float64Array;
}

export const structureOf = (system: System): Structure => {
  const { readings } = system;
  const work = startWork(system);
  const kinds = readings.map(kindOf);
  const pivots = eliminateColumns(work, readings.length, (variable) => kinds[variable] === 'unmeasured');
  const redundant = new Uint8Array(readings.length);
  for (const [index, row] of work.rows.entries()) {
    if (work.active[index]) for (const variable of row.keys()) redundant[variable] = 1;
  }
  const observable = observableOf(
    work.rows,
    pivots,
    kinds.map((kind) => kind === 'unmeasured'),
  );
  const freedom = eliminateColumns(work, readings.length, (variable) => kinds[variable] === 'measured').length;
  const left = [...work.rows.keys()].filter((index) => work.active[index]);
  return {
    pivots,
    observable,
    redundant,
    dependent: work.active,
    contradictions: left.filter((index) => contradicts(work, index, system)),
    freedom,
  };
};

const startWork = ({ balances }: System): Work => ({
  rows: balances.map(sparseRow),
  active: new Uint8Array(balances.length).fill(1),
  constants: Float64Array.from(balances, ({ constant }) => constant),
  sizes: Float64Array.from(balances, ({ constant }) => Math.abs(constant)),
});

/** Each pivot's row keeps what it was when it was chosen, and is no longer active. */
const eliminateColumns = (work: Work, variables: number, eligible: (variable: number) => boolean): Pivot[] => {
  const columns = activeColumns(work, eligible);
  const queue = degreeQueue(variables);
  for (const [variable, rows] of columns) queue.put(variable, rows.size);
  const pivots: Pivot[] = [];
  for (let variable = queue.take(); variable !== undefined; variable = queue.take()) {
    const column = columns.get(variable)!;
    columns.delete(variable);
    if (column.size === 0) continue;
    const balance = choosePivot(work, variable, column);
    pivots.push({ balance, variable });
    work.active[balance] = 0;
    for (const other of column) if (other !== balance) subtractRow(work, balance, other, variable, columns);
    for (const touched of work.rows[balance]!.keys()) {
      const rows = columns.get(touched);
      if (!rows) continue;
      rows.delete(balance);
      queue.put(touched, rows.size);
    }
  }
  return pivots;
};

const activeColumns = ({ rows, active }: Work, eligible: (variable: number) => boolean): Map<number, Set<number>> => {
  const columns = new Map<number, Set<number>>();
  for (const [index, row] of rows.entries()) {
    if (!active[index]) continue;
    for (const variable of row.keys()) {
      if (!eligible(variable)) continue;
      const column = columns.get(variable);
      if (column) column.add(index);
      else columns.set(variable, new Set([index]));
    }
  }
  return columns;
};

/** The shortest row, so that short is added to long, among those whose coefficient is not small. */
const choosePivot = ({ rows }: Work, variable: number, column: ReadonlySet<number>): number => {
  let largest = 0;
  for (const index of column) largest = Math.max(largest, Math.abs(rows[index]!.get(variable)!));
  let best = -1;
  for (const index of column) {
    if (Math.abs(rows[index]!.get(variable)!) < PIVOT_SHARE * largest) continue;
    if (best < 0 || rows[index]!.size < rows[best]!.size) best = index;
  }
  return best;
};

const subtractRow = (
  { rows, constants, sizes }: Work,
  pivot: number,
  other: number,
  variable: number,
  columns: ReadonlyMap<number, Set<number>>,
): void => {
  const [from, into] = [rows[pivot]!, rows[other]!];
  const factor = into.get(variable)! / from.get(variable)!;
  into.delete(variable);
  for (const [column, coefficient] of from) {
    if (column === variable) continue;
    const [before, less] = [into.get(column) ?? 0, factor * coefficient];
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

/**
 * An unmeasured value can be told when it does not move with those that were left free. They are given two sets of arbitrary values,
 * and what moves is seen: cheaper than writing out every dependence, and wrong only if arbitrary numbers cancel twice.
 */
const observableOf = (
  rows: readonly SparseRow[],
  pivots: readonly Pivot[],
  unmeasured: readonly boolean[],
): Uint8Array => {
  const observable = new Uint8Array(unmeasured.length);
  for (const { variable } of pivots) observable[variable] = 1;
  if (unmeasured.every((free, variable) => !free || observable[variable])) return observable;
  const moves = [0x9e3779b9, 0x85ebca6b].map((start) =>
    Float64Array.from(unmeasured, (free, index) => (free && !observable[index] ? arbitrary(start, index) : 0)),
  );
  for (let at = pivots.length - 1; at >= 0; at--) {
    const { balance, variable } = pivots[at]!;
    if (moves.map((moved) => follow(rows[balance]!, variable, moved)).some((move) => move !== 0))
      observable[variable] = 0;
  }
  return observable;
};

/**
 * From 1 to 2, the same for an index each time. No multiple of the index: of such numbers those of 7 and 11 less those of 6 and 12 are nothing.
 * The mixing is that of MurmurHash3, which is in the public domain.
 */
const arbitrary = (start: number, index: number): number => {
  let bits = Math.imul(index + 1, 0xcc9e2d51) ^ start;
  bits = Math.imul(bits ^ (bits >>> 16), 0x85ebca6b);
  bits = Math.imul(bits ^ (bits >>> 13), 0xc2b2ae35);
  return 1 + ((bits ^ (bits >>> 16)) >>> 0) / 2 ** 32;
};

/** How far a pivot moves with what has moved; what is measured has not. */
const follow = (row: SparseRow, variable: number, moved: Float64Array): number => {
  let [sum, size, own] = [0, 0, 0];
  for (const [other, coefficient] of row) {
    if (other === variable) {
      own = coefficient;
      continue;
    }
    const term = coefficient * moved[other]!;
    sum += term;
    size += Math.abs(term);
  }
  moved[variable] = Math.abs(sum) <= ROUNDING * size ? 0 : -sum / own;
  return moved[variable]!;
};

const contradicts = ({ rows, constants, sizes }: Work, index: number, { readings }: System): boolean => {
  let [sum, size] = [-constants[index]!, sizes[index]!];
  for (const [variable, coefficient] of rows[index]!) {
    const term = coefficient * readings[variable]!.value!;
    sum += term;
    size += Math.abs(term);
  }
  return Math.abs(sum) > 1e-9 * size;
};
