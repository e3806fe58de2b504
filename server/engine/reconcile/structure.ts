/**
 * What the balances can tell at all, whatever the figures: which unmeasured values follow from the others, which readings something
 * checks, which balances say nothing new. Only the coefficients decide, so a lot of 0.05 g beside 500 g of flux is judged like any other.
 *
 * Unmeasured columns are eliminated from the balances first (Crowe's projection, as Gaussian elimination with Markowitz' order instead of
 * a dense null space); what is left binds measured values only. Then measured columns are eliminated, which gives the rank.
 */
import { eliminateColumns, type Pivots, ROUNDING, startWork, type Work } from './eliminate';
import type { Expanded } from './shared';
import type { Columns } from './system';

/**
 * `checked`: measured, and some balance tests it. `unchecked`: measured, and nothing would show if it were wrong.
 * `inferred`: unmeasured, told by the balances. `unknown`: unmeasured, and no balance tells it.
 */
export type Standing = 'checked' | 'unchecked' | 'inferred' | 'unknown';

export interface Structure {
  /** In the order in which each is free of those before it. */
  readonly pivots: Pivots;
  /** So many of the first pivots stand in no balance but their own and those of pivots before them. */
  readonly alone: number;
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

/** `columns` are those of the system. */
export const structureOf = (system: Expanded, columns: Columns): Structure => {
  const { value, variance } = system.figures;
  const count = value.length;
  const work = startWork(system, columns);
  const [unmeasured, measured] = [new Uint8Array(count), new Uint8Array(count)];
  for (let variable = 0; variable < count; variable++) {
    if (Number.isNaN(value[variable])) unmeasured[variable] = 1;
    else if (variance[variable]! > 0) measured[variable] = 1;
  }
  const { pivots, alone } = eliminateColumns(work, unmeasured);
  const redundant = new Uint8Array(count);
  for (let row = 0; row < work.active.length; row++) {
    if (!work.active[row]) continue;
    for (let at = work.from[row]!; at < work.to[row]!; at++) redundant[work.variable[at]!] = 1;
  }
  const observable = observableOf(work, pivots, unmeasured);
  const freedom = eliminateColumns(work, measured).pivots.variable.length;
  const contradictions: number[] = [];
  for (let row = 0; row < work.active.length; row++) {
    if (work.active[row] && contradicts(work, row, value)) contradictions.push(row);
  }
  return { pivots, alone, observable, redundant, dependent: work.active, contradictions, freedom };
};

/**
 * An unmeasured value can be told when it does not move with those that were left free. They are given two sets of arbitrary values,
 * and what moves is seen: cheaper than writing out every dependence, and wrong only if arbitrary numbers cancel twice.
 */
const observableOf = (work: Work, pivots: Pivots, unmeasured: Uint8Array): Uint8Array => {
  const observable = new Uint8Array(unmeasured.length);
  for (const variable of pivots.variable) observable[variable] = 1;
  const [one, other] = [new Float64Array(unmeasured.length), new Float64Array(unmeasured.length)];
  let free = false;
  for (let index = 0; index < unmeasured.length; index++) {
    if (!unmeasured[index] || observable[index]) continue;
    free = true;
    one[index] = arbitrary(0x9e3779b9, index);
    other[index] = arbitrary(0x85ebca6b, index);
  }
  for (let at = pivots.variable.length - 1; at >= 0 && free; at--) {
    const balance = pivots.balance[at]!;
    const variable = pivots.variable[at]!;
    const move = follow(work, balance, variable, one);
    if (follow(work, balance, variable, other) !== 0 || move !== 0) observable[variable] = 0;
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
const follow = ({ from, to, variable, coefficient }: Work, row: number, pivot: number, moved: Float64Array): number => {
  let sum = 0;
  let size = 0;
  let own = 0;
  for (let at = from[row]!; at < to[row]!; at++) {
    if (variable[at] === pivot) {
      own = coefficient[at]!;
      continue;
    }
    const term = coefficient[at]! * moved[variable[at]!]!;
    sum += term;
    size += Math.abs(term);
  }
  moved[pivot] = Math.abs(sum) <= ROUNDING * size ? 0 : -sum / own;
  return moved[pivot]!;
};

const contradicts = (
  { from, to, variable, coefficient, constants, sizes }: Work,
  row: number,
  values: Float64Array,
): boolean => {
  let sum = -constants[row]!;
  let size = sizes[row]!;
  for (let at = from[row]!; at < to[row]!; at++) {
    const term = coefficient[at]! * values[variable[at]!]!;
    sum += term;
    size += Math.abs(term);
  }
  return Math.abs(sum) > 1e-9 * size;
};
