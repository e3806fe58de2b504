/** A sparse symmetric matrix, taken apart once: solves, and tells the entries of its inverse where the matrix has entries. */
import { type Block, eliminate, type SymmetricRows } from './elimination';
import { selectedInverse } from './inverse';

export interface Factor {
  readonly solve: (right: Float64Array) => Float64Array;
  /** Entry of the inverse; undefined where the matrix has no entry, not even a zero. */
  readonly inverse: (row: number, column: number) => number | undefined;
}

/** `groups` says which unknowns are eliminated together; each stands in one group. Entries should be of the order of one. */
export const factorise = (rows: SymmetricRows, groups: readonly (readonly number[])[]): Factor => {
  const blocks = eliminate(rows, groups);
  // Who only wants the solution does not pay for the inverse.
  let inverse: readonly Map<number, number>[] | undefined;
  return {
    solve: (right) => solveBlocks(blocks, right),
    inverse: (row, column) => {
      inverse ??= selectedInverse(blocks, rows);
      return inverse[row]!.get(column) ?? inverse[column]!.get(row);
    },
  };
};

const solveBlocks = (blocks: readonly Block[], right: Float64Array): Float64Array => {
  const x = Float64Array.from(right);
  for (const block of blocks) solveForth(block, x);
  for (let at = blocks.length - 1; at >= 0; at--) solveBack(blocks[at]!, x);
  return x;
};

const solveForth = ({ members, neighbours, coupling }: Block, x: Float64Array): void => {
  for (let m = 0; m < members.length; m++) {
    const value = x[members[m]!]!;
    if (value === 0) continue;
    const start = m * neighbours.length;
    for (let n = 0; n < neighbours.length; n++) x[neighbours[n]!]! -= coupling[start + n]! * value;
  }
};

const solveBack = ({ members, neighbours, inverse, coupling }: Block, x: Float64Array): void => {
  const size = members.length;
  const values = members.map((_, m) => {
    let sum = 0;
    for (let k = 0; k < size; k++) sum += inverse[m * size + k]! * x[members[k]!]!;
    const start = m * neighbours.length;
    for (let n = 0; n < neighbours.length; n++) sum -= coupling[start + n]! * x[neighbours[n]!]!;
    return sum;
  });
  for (const [m, member] of members.entries()) x[member] = values[m]!;
};
