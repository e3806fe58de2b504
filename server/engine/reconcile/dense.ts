/** Small dense matrices, row by row in one array, as the sparse factors need them for their blocks. */

/** With entries of the order of one, a pivot below this is rounding. */
export const SMALLEST_PIVOT = 1e-12;
/** A balance whose unmeasured value hardly stands in it makes the entries of the inverse this large, and all digits are lost. */
const LARGEST_INVERSE = 1e8;

/**
 * The inverse of a symmetric block of `size`, or undefined if a pivot is lost in rounding. Not `strict`: a direction that is empty is
 * left at zero.
 */
export const invertBlock = (block: Float64Array, size: number, strict: boolean): Float64Array | undefined => {
  if (size === 1) {
    if (Math.abs(block[0]!) < SMALLEST_PIVOT) return strict ? undefined : new Float64Array(1);
    return Float64Array.of(1 / block[0]!);
  }
  if (size === 2) {
    // Of a balance and its unmeasured value: both terms have one sign, so nothing cancels.
    const a = block[0]!;
    const b = block[1]!;
    const d = block[3]!;
    const determinant = a * d - b * b;
    const most = Math.max(Math.abs(a), Math.abs(b), Math.abs(d)) / Math.abs(determinant);
    if (most < LARGEST_INVERSE || (!strict && Math.abs(determinant) > 1e4 * SMALLEST_PIVOT ** 2)) {
      return Float64Array.of(d / determinant, -b / determinant, -b / determinant, a / determinant);
    }
    if (strict) return undefined;
  }
  return invertDense(Float64Array.from(block), size, strict);
};

/** The inverse of a symmetric block of two, put there; false, and nothing put, where its digits might be lost. */
export const invertPair = (a: number, b: number, d: number, into: Float64Array, at: number): boolean => {
  // Of a balance and its unmeasured value: both terms have one sign, so nothing cancels.
  const determinant = a * d - b * b;
  const most = Math.max(Math.abs(a), Math.abs(b), Math.abs(d)) / Math.abs(determinant);
  if (!(most < LARGEST_INVERSE)) return false;
  into[at] = d / determinant;
  into[at + 1] = into[at + 2] = -b / determinant;
  into[at + 3] = a / determinant;
  return true;
};

/** A square matrix of `size` times one of `size` × `count`. */
export const multiply = (square: Float64Array, wide: Float64Array, size: number, count: number): Float64Array => {
  const product = new Float64Array(size * count);
  for (let i = 0; i < size; i++) {
    for (let k = 0; k < size; k++) {
      const factor = square[i * size + k]!;
      if (factor === 0) continue;
      for (let j = 0; j < count; j++) product[i * count + j]! += factor * wide[k * count + j]!;
    }
  }
  return product;
};

/** Gauss and Jordan; each step takes the largest entry that is left as its pivot. */
const invertDense = (matrix: Float64Array, size: number, strict: boolean): Float64Array | undefined => {
  const right = new Float64Array(size * size);
  for (let i = 0; i < size; i++) right[i * size + i] = 1;
  const columnOfRow = new Int32Array(size).fill(-1);
  const used = new Uint8Array(size);
  for (let step = 0; step < size; step++) {
    const { row, column, pivot } = largestLeft(matrix, size, columnOfRow, used);
    if (Math.abs(pivot) < SMALLEST_PIVOT) {
      if (strict) return undefined;
      break;
    }
    columnOfRow[row] = column;
    used[column] = 1;
    scaleRow(matrix, right, size, row, 1 / pivot);
    for (let other = 0; other < size; other++) {
      if (other !== row) subtractRow(matrix, right, size, row, other, matrix[other * size + column]!);
    }
  }
  const inverse = new Float64Array(size * size);
  for (const [row, column] of columnOfRow.entries()) {
    if (column >= 0) inverse.set(right.subarray(row * size, (row + 1) * size), column * size);
  }
  return inverse;
};

const largestLeft = (
  matrix: Float64Array,
  size: number,
  columnOfRow: Int32Array,
  used: Uint8Array,
): { row: number; column: number; pivot: number } => {
  let best = { row: 0, column: 0, pivot: 0 };
  for (let row = 0; row < size; row++) {
    if (columnOfRow[row]! >= 0) continue;
    for (let column = 0; column < size; column++) {
      const pivot = matrix[row * size + column]!;
      if (!used[column] && Math.abs(pivot) > Math.abs(best.pivot)) best = { row, column, pivot };
    }
  }
  return best;
};

const scaleRow = (matrix: Float64Array, right: Float64Array, size: number, row: number, by: number): void => {
  for (let k = row * size; k < (row + 1) * size; k++) {
    matrix[k]! *= by;
    right[k]! *= by;
  }
};

const subtractRow = (
  matrix: Float64Array,
  right: Float64Array,
  size: number,
  from: number,
  into: number,
  factor: number,
): void => {
  if (factor === 0) return;
  for (let k = 0; k < size; k++) {
    matrix[into * size + k]! -= factor * matrix[from * size + k]!;
    right[into * size + k]! -= factor * right[from * size + k]!;
  }
};
