/**
 * A sparse symmetric matrix, taken apart block by block as its plan says (multifrontal elimination): solves, and tells the entries of its
 * inverse where the matrix has entries.
 */
import { invertBlock, invertPair, SMALLEST_PIVOT } from './dense';
import { selectedInverse } from './inverse';
import { type Lists, listsOf } from './order';
import type { Pattern } from './pattern';
import { type Blocks, type Plan, planOf } from './plan';

export interface Factor {
  /** Serves other values of the same pattern. */
  readonly plan: Plan;
  /** Solves in place. */
  readonly solve: (x: Float64Array) => void;
  /** Entry of the inverse for each slot of the pattern. */
  readonly inverse: () => Float64Array;
}

/** A pattern, and how to take it apart where that is known. */
export interface Plans {
  readonly pattern: Pattern;
  readonly groups: Lists;
  readonly plan: Plan | undefined;
}

/**
 * `values` stand beside the pattern's slots and should be of the order of one. Unknowns of one group are eliminated together. A group
 * whose pivot is lost in rounding where it stands is joined to a neighbour, and the plan made anew; `inPassing`, where solutions are
 * refined and nobody asks for the inverse, a pivot is put in instead, and the plan kept.
 */
export const factorise = (plans: Plans, values: Float64Array, inPassing: boolean): Factor => {
  let plan = plans.plan ?? planOf(plans.pattern, plans.groups);
  for (;;) {
    const { blocks, lost } = takeApart(plan, values, inPassing);
    if (lost.length === 0) return factorOf(blocks);
    plan = planOf(plans.pattern, joinGroups(plan, lost));
  }
};

/** Put in for a pivot that is lost: refining takes its share of an error off with each round. */
const STAND_IN = 1e-7;

const factorOf = (blocks: Blocks): Factor => {
  // Who only wants the solution does not pay for the inverse.
  let inverse: Float64Array | undefined;
  return {
    plan: blocks.plan,
    solve: (x) => {
      solveForth(blocks, x);
      solveBack(blocks, x);
    },
    inverse: () => {
      inverse ??= selectedInverse(blocks);
      return inverse;
    },
  };
};

const takeApart = (plan: Plan, values: Float64Array, inPassing: boolean): { blocks: Blocks; lost: number[] } => {
  const blocks = roomFor(plan);
  const { sizes, start, slotStart, slot, local } = plan;
  const front = new Float64Array(plan.frontSize);
  const stack = { values: new Float64Array(plan.stackSize), waiting: [] as number[], filled: 0 };
  const lost: number[] = [];
  for (let block = 0; block < sizes.length; block++) {
    const size = sizes[block]!;
    const width = start[block + 1]! - start[block]!;
    front.fill(0, 0, width * width);
    for (let at = slotStart[block]!; at < slotStart[block + 1]!; at++) front[local[at]!] = values[slot[at]!]!;
    takeOver(plan, block, front, width, stack);
    if (!invertPivot(blocks, block, front, size, width)) {
      if (inPassing) standIn(blocks, block, front, size, width);
      else lost.push(block);
    }
    couple(blocks, block, front, size, width);
    leave(blocks, block, front, size, width, stack);
  }
  return { blocks, lost };
};

const roomFor = (plan: Plan): Blocks => {
  const { sizes, start } = plan;
  const [inverseStart, couplingStart] = [new Int32Array(sizes.length + 1), new Int32Array(sizes.length + 1)];
  for (let block = 0; block < sizes.length; block++) {
    const size = sizes[block]!;
    inverseStart[block + 1] = inverseStart[block]! + size * size;
    couplingStart[block + 1] = couplingStart[block]! + size * (start[block + 1]! - start[block]! - size);
  }
  return {
    plan,
    inverse: new Float64Array(inverseStart[sizes.length]!),
    inverseStart,
    coupling: new Float64Array(couplingStart[sizes.length]!),
    couplingStart,
  };
};

/** What eliminated blocks have left and no other has taken over yet; of each the upper triangle counts. */
interface Stack {
  readonly values: Float64Array;
  readonly waiting: number[];
  filled: number;
}

const takeOver = (plan: Plan, block: number, front: Float64Array, width: number, stack: Stack): void => {
  const { parent, start, sizes, inParent } = plan;
  const { values, waiting } = stack;
  for (let child = waiting.at(-1); child !== undefined && parent[child] === block; child = waiting.at(-1)) {
    waiting.pop();
    const first = start[child]! + sizes[child]!;
    const count = start[child + 1]! - first;
    stack.filled -= count * count;
    for (let i = 0; i < count; i++) {
      const into = inParent[first + i]! * width;
      const from = stack.filled + i * count;
      for (let j = i; j < count; j++) front[into + inParent[first + j]!]! += values[from + j]!;
    }
  }
};

const invertPivot = (
  { inverse, inverseStart }: Blocks,
  block: number,
  front: Float64Array,
  size: number,
  width: number,
): boolean => {
  if (size === 1 && Math.abs(front[0]!) > SMALLEST_PIVOT) {
    inverse[inverseStart[block]!] = 1 / front[0]!;
    return true;
  }
  if (size === 2 && invertPair(front[0]!, front[1]!, front[width + 1]!, inverse, inverseStart[block]!)) return true;
  const found = invertBlock(pivotOf(front, size, width), size, width > size);
  if (found) inverse.set(found, inverseStart[block]!);
  return found !== undefined;
};

const pivotOf = (front: Float64Array, size: number, width: number): Float64Array => {
  const pivot = new Float64Array(size * size);
  for (let i = 0; i < size; i++) {
    for (let j = i; j < size; j++) pivot[i * size + j] = pivot[j * size + i] = front[i * width + j]!;
  }
  return pivot;
};

/** Balances come first in a group and have no negative entry on the diagonal; what stands behind them has no positive one. */
const standIn = (
  { inverse, inverseStart }: Blocks,
  block: number,
  front: Float64Array,
  size: number,
  width: number,
): void => {
  const pivot = pivotOf(front, size, width);
  for (let i = 0; i < size; i++) pivot[i * size + i]! += i === 0 ? STAND_IN : -STAND_IN;
  inverse.set(invertBlock(pivot, size, false)!, inverseStart[block]!);
};

const couple = (
  { inverse, inverseStart, coupling, couplingStart }: Blocks,
  block: number,
  front: Float64Array,
  size: number,
  width: number,
): void => {
  const count = width - size;
  for (let m = 0; m < size; m++) {
    const into = couplingStart[block]! + m * count;
    for (let k = 0; k < size; k++) {
      const factor = inverse[inverseStart[block]! + m * size + k]!;
      if (factor === 0) continue;
      const from = k * width + size;
      for (let j = 0; j < count; j++) coupling[into + j]! += factor * front[from + j]!;
    }
  }
};

const leave = (
  { coupling, couplingStart }: Blocks,
  block: number,
  front: Float64Array,
  size: number,
  width: number,
  stack: Stack,
): void => {
  const count = width - size;
  if (count === 0) return;
  const { values, filled } = stack;
  for (let i = 0; i < count; i++) {
    const into = filled + i * count;
    const from = (size + i) * width + size;
    for (let j = i; j < count; j++) values[into + j] = front[from + j]!;
    for (let m = 0; m < size; m++) {
      const factor = front[m * width + size + i]!;
      if (factor === 0) continue;
      const row = couplingStart[block]! + m * count;
      for (let j = i; j < count; j++) values[into + j]! -= factor * coupling[row + j]!;
    }
  }
  stack.waiting.push(block);
  stack.filled += count * count;
};

/** Groups as before, but each lost one together with the first that it touches. */
const joinGroups = ({ groups, sequence, sizes, start, unknowns }: Plan, lost: readonly number[]): Lists => {
  const count = sequence.length;
  const groupOf = new Int32Array(groups.list.length);
  for (let group = 0; group < count; group++) {
    for (let at = groups.start[group]!; at < groups.start[group + 1]!; at++) groupOf[groups.list[at]!] = group;
  }
  const into = Int32Array.from({ length: count }, (_, group) => group);
  const root = (group: number): number => {
    let at = group;
    while (into[at] !== at) at = into[at] = into[into[at]!]!;
    return at;
  };
  for (const block of lost) into[root(sequence[block]!)] = root(groupOf[unknowns[start[block]! + sizes[block]!]!]!);
  const joined: number[][] = Array.from({ length: count }, () => []);
  for (let at = 0; at < groups.list.length; at++) joined[root(groupOf[groups.list[at]!]!)]!.push(groups.list[at]!);
  return listsOf(joined.filter((list) => list.length > 0));
};

const solveForth = ({ plan, coupling, couplingStart }: Blocks, x: Float64Array): void => {
  const { sizes, start, unknowns } = plan;
  for (let block = 0; block < sizes.length; block++) {
    const from = start[block]!;
    const size = sizes[block]!;
    const count = start[block + 1]! - from - size;
    for (let m = 0; m < size; m++) {
      const value = x[unknowns[from + m]!]!;
      if (value === 0) continue;
      const row = couplingStart[block]! + m * count;
      for (let n = 0; n < count; n++) x[unknowns[from + size + n]!]! -= coupling[row + n]! * value;
    }
  }
};

const solveBack = ({ plan, inverse, inverseStart, coupling, couplingStart }: Blocks, x: Float64Array): void => {
  const { sizes, start, unknowns } = plan;
  const own = new Float64Array(plan.frontSize);
  for (let block = sizes.length - 1; block >= 0; block--) {
    const from = start[block]!;
    const size = sizes[block]!;
    const count = start[block + 1]! - from - size;
    for (let m = 0; m < size; m++) {
      let sum = 0;
      for (let k = 0; k < size; k++) sum += inverse[inverseStart[block]! + m * size + k]! * x[unknowns[from + k]!]!;
      const row = couplingStart[block]! + m * count;
      for (let n = 0; n < count; n++) sum -= coupling[row + n]! * x[unknowns[from + size + n]!]!;
      own[m] = sum;
    }
    for (let m = 0; m < size; m++) x[unknowns[from + m]!] = own[m]!;
  }
};
