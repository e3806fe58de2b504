/**
 * Entries of the inverse of a sparse matrix, without the others: from the last block to the first, each one's part follows from that of
 * the block that took it over (Takahashi, Fagan and Chen 1973; citation from memory). With G the coupling and D the pivot,
 * Z_PN = −G Z_NN and Z_PP = D⁻¹ − Z_PN Gᵀ.
 */
import type { Blocks } from './plan';

/** For each slot of the pattern the entry of the inverse. */
export const selectedInverse = (blocks: Blocks): Float64Array => {
  const { sizes, slotStart, slot, local, pattern } = blocks.plan;
  const found = new Float64Array(pattern.slots);
  // The part of each block over its unknowns, dense, until its children have theirs.
  const parts = new Array<Float64Array | undefined>(sizes.length);
  const children = countChildren(blocks.plan.parent);
  const room = new Room();
  for (let block = sizes.length - 1; block >= 0; block--) {
    const part = partOf(blocks, block, parts, room);
    for (let at = slotStart[block]!; at < slotStart[block + 1]!; at++) found[slot[at]!] = part[local[at]!]!;
    if (children[block]! > 0) parts[block] = part;
    else room.give(part);
    const above = blocks.plan.parent[block]!;
    if (above < 0 || --children[above]! > 0) continue;
    room.give(parts[above]!);
    parts[above] = undefined;
  }
  return found;
};

/** Parts that are no longer needed, for others of their size: there are as many as the matrix has blocks. */
class Room {
  readonly #free = new Map<number, Float64Array[]>();

  take(size: number): Float64Array {
    return this.#free.get(size)?.pop()?.fill(0) ?? new Float64Array(size);
  }

  give(part: Float64Array): void {
    const same = this.#free.get(part.length);
    if (same) same.push(part);
    else this.#free.set(part.length, [part]);
  }
}

const countChildren = (parent: Int32Array): Int32Array => {
  const children = new Int32Array(parent.length);
  for (const block of parent) if (block >= 0) children[block]! += 1;
  return children;
};

const partOf = (
  blocks: Blocks,
  block: number,
  parts: readonly (Float64Array | undefined)[],
  room: Room,
): Float64Array => {
  const { plan, inverse, inverseStart, coupling, couplingStart } = blocks;
  const { sizes, start, parent } = plan;
  const size = sizes[block]!;
  const width = start[block + 1]! - start[block]!;
  const count = width - size;
  const part = room.take(width * width);
  if (parent[block]! >= 0) copyPart(blocks, block, parts[parent[block]!]!, part, width);
  for (let m = 0; m < size; m++) {
    const row = couplingStart[block]! + m * count;
    for (let i = 0; i < count; i++) {
      const factor = coupling[row + i]!;
      if (factor === 0) continue;
      const from = (i + size) * width + size;
      for (let j = 0; j < count; j++) part[m * width + size + j]! -= factor * part[from + j]!;
    }
  }
  for (let m = 0; m < size; m++) {
    for (let k = 0; k < size; k++) {
      let sum = inverse[inverseStart[block]! + m * size + k]!;
      const row = couplingStart[block]! + k * count;
      for (let j = 0; j < count; j++) sum -= part[m * width + size + j]! * coupling[row + j]!;
      part[m * width + k] = sum;
    }
  }
  for (let m = 0; m < size; m++) {
    for (let j = size; j < width; j++) part[j * width + m] = part[m * width + j]!;
  }
  return part;
};

const copyPart = ({ plan }: Blocks, block: number, above: Float64Array, part: Float64Array, width: number): void => {
  const { sizes, start, parent, inParent } = plan;
  const size = sizes[block]!;
  const first = start[block]!;
  const wide = start[parent[block]! + 1]! - start[parent[block]!]!;
  for (let i = size; i < width; i++) {
    const from = inParent[first + i]! * wide;
    for (let j = size; j < width; j++) part[i * width + j] = above[from + inParent[first + j]!]!;
  }
};
