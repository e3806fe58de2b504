/**
 * Entries of the inverse of a sparse matrix, without the others: from the last block to the first, each one's part follows from that of
 * the block that took it over (Takahashi, Fagan and Chen 1973; citation from memory). With G the coupling and D the pivot,
 * Z_PN = −G Z_NN and Z_PP = D⁻¹ − Z_PN Gᵀ.
 */
import type { Block, SymmetricRows } from './elimination';

/** A dense part of the inverse over the unknowns named, in their order. */
interface Part {
  readonly unknowns: readonly number[];
  readonly entries: Float64Array;
  /** Blocks that still need it. */
  children: number;
}

/** For each unknown the entries of its row where `rows` has entries, each kept with the one of the two that was eliminated first. */
export const selectedInverse = (blocks: readonly Block[], rows: SymmetricRows): Map<number, number>[] => {
  const inverse: Map<number, number>[] = Array.from(rows, () => new Map());
  const children = childrenOf(blocks);
  const parts = new Map<number, Part>();
  const place = new Int32Array(rows.length).fill(-1);
  const stack = [...blocks.keys()].filter((id) => blocks[id]!.parent < 0);
  // Depth first, so that only the parts on the way down are held.
  for (let id = stack.pop(); id !== undefined; id = stack.pop()) {
    const block = blocks[id]!;
    const parent = parts.get(block.parent);
    const part = partOf(block, parent, place, children[id]!.length);
    keepEntries(part, block.members.length, rows, inverse, place);
    if (part.children > 0) parts.set(id, part);
    if (parent && --parent.children === 0) parts.delete(block.parent);
    for (const child of children[id]!) stack.push(child);
  }
  return inverse;
};

const childrenOf = (blocks: readonly Block[]): number[][] => {
  const children: number[][] = Array.from(blocks, () => []);
  for (const [id, { parent }] of blocks.entries()) if (parent >= 0) children[parent]!.push(id);
  return children;
};

const partOf = (block: Block, parent: Part | undefined, place: Int32Array, children: number): Part => {
  const { members, neighbours, inverse, coupling } = block;
  const [size, count] = [members.length, neighbours.length];
  const width = size + count;
  const entries = new Float64Array(width * width);
  if (parent) copyPart(parent, neighbours, place, entries, size, width);
  for (let m = 0; m < size; m++) {
    for (let i = 0; i < count; i++) {
      const factor = coupling[m * count + i]!;
      if (factor === 0) continue;
      const from = (i + size) * width + size;
      for (let j = 0; j < count; j++) entries[m * width + size + j]! -= factor * entries[from + j]!;
    }
  }
  for (let m = 0; m < size; m++) {
    for (let j = 0; j < count; j++) entries[(j + size) * width + m] = entries[m * width + size + j]!;
    for (let k = 0; k < size; k++) {
      let sum = inverse[m * size + k]!;
      for (let j = 0; j < count; j++) sum -= entries[m * width + size + j]! * coupling[k * count + j]!;
      entries[m * width + k] = sum;
    }
  }
  return { unknowns: [...members, ...neighbours], entries, children };
};

const copyPart = (
  { unknowns, entries }: Part,
  neighbours: readonly number[],
  place: Int32Array,
  into: Float64Array,
  offset: number,
  width: number,
): void => {
  for (const [at, unknown] of unknowns.entries()) place[unknown] = at;
  const places = Int32Array.from(neighbours, (unknown) => place[unknown]!);
  for (const unknown of unknowns) place[unknown] = -1;
  for (let i = 0; i < places.length; i++) {
    const from = places[i]! * unknowns.length;
    const to = (i + offset) * width + offset;
    for (let j = 0; j < places.length; j++) into[to + j] = entries[from + places[j]!]!;
  }
};

const keepEntries = (
  { unknowns, entries }: Part,
  members: number,
  rows: SymmetricRows,
  inverse: readonly Map<number, number>[],
  place: Int32Array,
): void => {
  for (const [at, unknown] of unknowns.entries()) place[unknown] = at;
  for (let m = 0; m < members; m++) {
    for (const other of rows[unknowns[m]!]!.keys()) {
      const at = place[other]!;
      if (at >= 0) inverse[unknowns[m]!]!.set(other, entries[m * unknowns.length + at]!);
    }
  }
  for (const unknown of unknowns) place[unknown] = -1;
};
