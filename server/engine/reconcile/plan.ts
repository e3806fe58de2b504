/** Where everything lies when a matrix of a known pattern is taken apart block by block: worked out once, used for all its values. */
import { type Lists, type Order, orderGroups } from './order';
import type { Pattern } from './pattern';

/**
 * Blocks in the order of their elimination. The unknowns of block b are `unknowns[start[b]]` to before `unknowns[start[b + 1]]`: its
 * `sizes[b]` members, then the neighbours that it touches, which are eliminated later, in that order.
 */
export interface Plan {
  readonly pattern: Pattern;
  readonly groups: Lists;
  /** The group of each block. */
  readonly sequence: Int32Array;
  readonly sizes: Int32Array;
  readonly start: Int32Array;
  readonly unknowns: Int32Array;
  /** Block that takes over what this one leaves, or −1. */
  readonly parent: Int32Array;
  /** Where each neighbour stands among the unknowns of the parent; beside `unknowns`. Rises within a block. */
  readonly inParent: Int32Array;
  /** The slots of block b are those from `slotStart[b]`: `slot`, and where it stands in the front (row × width + column, row ≤ column). */
  readonly slotStart: Int32Array;
  readonly slot: Int32Array;
  readonly local: Int32Array;
  /** Most room that is needed for what waits to be taken over, and for one front. */
  readonly stackSize: number;
  readonly frontSize: number;
}

/** Of block b: the inverse of its pivot, from `inverseStart[b]`, and that times its coupling to its neighbours, from `couplingStart[b]`. */
export interface Blocks {
  readonly plan: Plan;
  readonly inverse: Float64Array;
  readonly inverseStart: Int32Array;
  readonly coupling: Float64Array;
  readonly couplingStart: Int32Array;
}

export const planOf = (pattern: Pattern, groups: Lists): Plan => {
  const order = orderGroups(pattern, groups);
  const { sequence } = order;
  const blockOfGroup = new Int32Array(sequence.length);
  for (let block = 0; block < sequence.length; block++) blockOfGroup[sequence[block]!] = block;
  const parent = sequence.map((group) => (order.parent[group]! < 0 ? -1 : blockOfGroup[order.parent[group]!]!));
  const sizes = sequence.map((group) => groups.start[group + 1]! - groups.start[group]!);
  const { start, unknowns } = listUnknowns(order, groups, blockOfGroup);
  const slots = sortSlots(pattern, unknowns, start, sizes);
  const places = placesOf(pattern, { start, unknowns, parent, sizes, ...slots });
  return {
    pattern,
    groups,
    sequence,
    sizes,
    start,
    unknowns,
    parent,
    ...slots,
    ...places,
    ...roomFor(start, sizes, parent),
  };
};

const listUnknowns = (
  { sequence, neighbours }: Order,
  groups: Lists,
  blockOfGroup: Int32Array,
): { start: Int32Array; unknowns: Int32Array } => {
  const start = new Int32Array(sequence.length + 1);
  const weight = (group: number): number => groups.start[group + 1]! - groups.start[group]!;
  for (let block = 0; block < sequence.length; block++) {
    let width = weight(sequence[block]!);
    const group = sequence[block]!;
    for (let at = neighbours.from[group]!; at < neighbours.to[group]!; at++) width += weight(neighbours.touched[at]!);
    start[block + 1] = start[block]! + width;
  }
  const unknowns = new Int32Array(start[sequence.length]!);
  for (let block = 0; block < sequence.length; block++) {
    let at = start[block]!;
    const put = (group: number): void => {
      for (let from = groups.start[group]!; from < groups.start[group + 1]!; from++)
        unknowns[at++] = groups.list[from]!;
    };
    put(sequence[block]!);
    const group = sequence[block]!;
    const { touched, from, to } = neighbours;
    for (let each = from[group]!; each < to[group]!; each++) touched[each] = blockOfGroup[touched[each]!]!;
    sortPart(touched, from[group]!, to[group]!);
    for (let each = from[group]!; each < to[group]!; each++) put(sequence[touched[each]!]!);
  }
  return { start, unknowns };
};

/** Short lists, most of them nearly in order: each moves forward past what is larger. */
const sortPart = (list: Int32Array, from: number, to: number): void => {
  for (let at = from + 1; at < to; at++) {
    const item = list[at]!;
    let into = at;
    for (; into > from && list[into - 1]! > item; into--) list[into] = list[into - 1]!;
    list[into] = item;
  }
};

/** Each slot belongs to the block that is eliminated first of its two. */
const sortSlots = (
  { size, slots, start: rowStart, other }: Pattern,
  unknowns: Int32Array,
  start: Int32Array,
  sizes: Int32Array,
): { slotStart: Int32Array; slot: Int32Array } => {
  const blockOf = new Int32Array(size);
  for (let block = 0; block < sizes.length; block++) {
    for (let at = start[block]!; at < start[block]! + sizes[block]!; at++) blockOf[unknowns[at]!] = block;
  }
  const blockOfSlot = new Int32Array(slots);
  const slotStart = new Int32Array(sizes.length + 1);
  for (let row = 0; row < size; row++) {
    for (let at = rowStart[row]!; at < rowStart[row + 1]!; at++) {
      blockOfSlot[at] = Math.min(blockOf[row]!, blockOf[other[at]!]!);
      slotStart[blockOfSlot[at]! + 1]! += 1;
    }
  }
  for (let block = 0; block < sizes.length; block++) slotStart[block + 1]! += slotStart[block]!;
  const next = slotStart.slice(0, sizes.length);
  const slot = new Int32Array(slots);
  for (let each = 0; each < slots; each++) slot[next[blockOfSlot[each]!]!++] = each;
  return { slotStart, slot };
};

interface Listed {
  readonly start: Int32Array;
  readonly unknowns: Int32Array;
  readonly parent: Int32Array;
  readonly sizes: Int32Array;
  readonly slotStart: Int32Array;
  readonly slot: Int32Array;
}

const placesOf = (
  { size, slots, start: rowStart, other }: Pattern,
  { start, unknowns, parent, sizes, slotStart, slot }: Listed,
): { inParent: Int32Array; local: Int32Array } => {
  const rowOf = new Int32Array(slots);
  for (let row = 0; row < size; row++) rowOf.fill(row, rowStart[row]!, rowStart[row + 1]!);
  const children = childrenOf(parent);
  const place = new Int32Array(size);
  const inParent = new Int32Array(unknowns.length).fill(-1);
  const local = new Int32Array(slots);
  for (let block = 0; block < sizes.length; block++) {
    const from = start[block]!;
    const to = start[block + 1]!;
    for (let at = from; at < to; at++) place[unknowns[at]!] = at - from;
    for (let at = slotStart[block]!; at < slotStart[block + 1]!; at++) {
      const p = place[rowOf[slot[at]!]!]!;
      const q = place[other[slot[at]!]!]!;
      local[at] = Math.min(p, q) * (to - from) + Math.max(p, q);
    }
    for (let each = children.start[block]!; each < children.start[block + 1]!; each++) {
      const child = children.list[each]!;
      for (let at = start[child]! + sizes[child]!; at < start[child + 1]!; at++) inParent[at] = place[unknowns[at]!]!;
    }
  }
  return { inParent, local };
};

const childrenOf = (parent: Int32Array): Lists => {
  const start = new Int32Array(parent.length + 1);
  for (const block of parent) if (block >= 0) start[block + 1]! += 1;
  for (let block = 0; block < parent.length; block++) start[block + 1]! += start[block]!;
  const next = start.slice(0, parent.length);
  const list = new Int32Array(start[parent.length]!);
  for (let block = 0; block < parent.length; block++) {
    if (parent[block]! >= 0) list[next[parent[block]!]!++] = block;
  }
  return { start, list };
};

const roomFor = (
  start: Int32Array,
  sizes: Int32Array,
  parent: Int32Array,
): { stackSize: number; frontSize: number } => {
  const freed = new Float64Array(sizes.length);
  let filled = 0;
  let stackSize = 0;
  let frontSize = 0;
  for (let block = 0; block < sizes.length; block++) {
    const width = start[block + 1]! - start[block]!;
    const left = (width - sizes[block]!) ** 2;
    filled += left - freed[block]!;
    stackSize = Math.max(stackSize, filled);
    frontSize = Math.max(frontSize, width * width);
    if (parent[block]! >= 0) freed[parent[block]!]! += left;
  }
  return { stackSize, frontSize };
};
