/**
 * In which order a sparse symmetric matrix is best taken apart, and what each part will touch. Only the pattern decides, so one plan
 * serves all matrices of it.
 *
 * Groups of unknowns are eliminated by least degree on a quotient graph (degrees bounded as by Amestoy, Davis and Duff 1996; citation from
 * memory): what an eliminated group leaves to its neighbours is one element, until a neighbour is eliminated in turn and takes it over.
 * Histories are nearly trees, so the elements stay about as small as the number of lots that are open at one time.
 */
import type { Pattern } from './pattern';
import { degreeQueue } from './queue';

/** Groups as flat lists: those of group g are `list[start[g]]` to before `list[start[g + 1]]`. */
export interface Lists {
  readonly start: Int32Array;
  readonly list: Int32Array;
}

export const listsOf = (groups: readonly (readonly number[])[]): Lists => {
  const start = new Int32Array(groups.length + 1);
  for (const [group, list] of groups.entries()) start[group + 1] = start[group]! + list.length;
  return { start, list: Int32Array.from(groups.flat()) };
};

export interface Order {
  /** Groups, every one after those that it takes over. */
  readonly sequence: Int32Array;
  /** For each group the groups that it touches when it is eliminated: `touched`, from `from[group]` to before `to[group]`. */
  readonly neighbours: Neighbours;
  /** The group that takes over what this one leaves, or −1. Its neighbours and itself hold all neighbours of this one. */
  readonly parent: Int32Array;
}

export const orderGroups = (pattern: Pattern, groups: Lists): Order => {
  const count = groups.start.length - 1;
  const near = adjacency(pattern, groups);
  const weights = Int32Array.from({ length: count }, (_, group) => groups.start[group + 1]! - groups.start[group]!);
  const state: State = {
    near,
    weights,
    gone: new Uint8Array(count),
    absorbed: new Uint8Array(count),
    parent: new Int32Array(count).fill(-1),
    neighbours: {
      touched: new Int32Array(4 * count + near.list.length),
      from: new Int32Array(count),
      to: new Int32Array(count),
      filled: 0,
    },
    sizes: new Int32Array(count),
    elements: Array.from({ length: count }, () => []),
    left: Int32Array.from({ length: count }, (_, group) => weightOf(near, weights, group)),
    mark: new Int32Array(count).fill(-1),
    outside: new Int32Array(count).fill(-1),
  };
  const queue = degreeQueue(count);
  for (let group = 0; group < count; group++) queue.put(group, state.left[group]!);
  for (let group = queue.take(); group !== undefined; group = queue.take()) {
    takeOut(state, group);
    const { touched, from, to } = state.neighbours;
    for (let at = from[group]!; at < to[group]!; at++) queue.put(touched[at]!, state.sizes[touched[at]!]!);
  }
  return { sequence: postorder(state.parent), neighbours: state.neighbours, parent: state.parent };
};

/** One growing list, since a history has as many parts as groups. */
export interface Neighbours {
  touched: Int32Array;
  readonly from: Int32Array;
  readonly to: Int32Array;
  filled: number;
}

interface State {
  readonly near: Lists;
  readonly weights: Int32Array;
  readonly gone: Uint8Array;
  /** 1: an element that another one took over. */
  readonly absorbed: Uint8Array;
  readonly parent: Int32Array;
  readonly neighbours: Neighbours;
  /** Of a group that is left, its degree; of an element, how many unknowns it touches. */
  readonly sizes: Int32Array;
  readonly elements: number[][];
  /** Unknowns that are neighbours in the matrix itself and not gone. */
  readonly left: Int32Array;
  readonly mark: Int32Array;
  /** Scratch: how much of an element lies outside the newest one; −1 where not asked. */
  readonly outside: Int32Array;
}

const weightOf = ({ start, list }: Lists, weights: Int32Array, group: number): number => {
  let sum = 0;
  for (let at = start[group]!; at < start[group + 1]!; at++) sum += weights[list[at]!]!;
  return sum;
};

/** Groups that share an entry, each pair both ways and once. */
const adjacency = ({ size, start, other }: Pattern, groups: Lists): Lists => {
  const count = groups.start.length - 1;
  const owner = new Int32Array(size);
  for (let group = 0; group < count; group++) {
    for (let at = groups.start[group]!; at < groups.start[group + 1]!; at++) owner[groups.list[at]!] = group;
  }
  const starts = new Int32Array(count + 1);
  const each = (visit: (a: number, b: number) => void): void => {
    for (let row = 0; row < size; row++) {
      for (let slot = start[row]!; slot < start[row + 1]!; slot++) {
        const a = owner[row]!;
        const b = owner[other[slot]!]!;
        if (a !== b) visit(a, b);
      }
    }
  };
  each((a, b) => {
    starts[a + 1]! += 1;
    starts[b + 1]! += 1;
  });
  for (let group = 0; group < count; group++) starts[group + 1]! += starts[group]!;
  const list = new Int32Array(starts[count]!);
  const next = starts.slice(0, count);
  each((a, b) => {
    list[next[a]!++] = b;
    list[next[b]!++] = a;
  });
  return withoutRepeats({ start: starts, list });
};

const withoutRepeats = ({ start, list }: Lists): Lists => {
  const count = start.length - 1;
  const starts = new Int32Array(count + 1);
  const seen = new Int32Array(count).fill(-1);
  let kept = 0;
  for (let group = 0; group < count; group++) {
    for (let at = start[group]!; at < start[group + 1]!; at++) {
      const other = list[at]!;
      if (seen[other] === group) continue;
      seen[other] = group;
      list[kept++] = other;
    }
    starts[group + 1] = kept;
  }
  return { start: starts, list };
};

/** Makes the group an element, and brings the degrees of those that it touches up to date. */
const takeOut = (state: State, group: number): void => {
  const { near, weights, gone, absorbed, parent, neighbours, sizes, elements, left, mark } = state;
  let size = 0;
  gone[group] = 1;
  neighbours.from[group] = neighbours.filled;
  if (neighbours.filled + gone.length > neighbours.touched.length) grow(neighbours, gone.length);
  const add = (other: number): void => {
    if (gone[other] || mark[other] === group) return;
    mark[other] = group;
    neighbours.touched[neighbours.filled++] = other;
    size += weights[other]!;
  };
  for (let at = near.start[group]!; at < near.start[group + 1]!; at++) {
    add(near.list[at]!);
    left[near.list[at]!]! -= weights[group]!;
  }
  for (const element of elements[group]!) {
    if (absorbed[element]) continue;
    for (let at = neighbours.from[element]!; at < neighbours.to[element]!; at++) add(neighbours.touched[at]!);
    absorbed[element] = 1;
    parent[element] = group;
  }
  neighbours.to[group] = neighbours.filled;
  sizes[group] = size;
  elements[group]!.length = 0;
  updateDegrees(state, group);
};

const grow = (neighbours: Neighbours, least: number): void => {
  const larger = new Int32Array(2 * neighbours.touched.length + least);
  larger.set(neighbours.touched);
  neighbours.touched = larger;
};

const updateDegrees = (state: State, group: number): void => {
  const { weights, absorbed, parent, neighbours, sizes, elements, left, outside } = state;
  const { touched } = neighbours;
  const from = neighbours.from[group]!;
  const to = neighbours.to[group]!;
  const met: number[] = [];
  for (let at = from; at < to; at++) {
    const other = touched[at]!;
    for (const element of elements[other]!) {
      if (absorbed[element]) continue;
      if (outside[element]! < 0) {
        outside[element] = sizes[element]!;
        met.push(element);
      }
      outside[element]! -= weights[other]!;
    }
  }
  for (const element of met) {
    if (outside[element] !== 0) continue;
    absorbed[element] = 1;
    parent[element] = group;
  }
  for (let at = from; at < to; at++) {
    const other = touched[at]!;
    let degree = left[other]! + sizes[group]! - weights[other]!;
    const list = elements[other]!;
    let kept = 0;
    for (const element of list) {
      if (absorbed[element]) continue;
      list[kept++] = element;
      degree += outside[element]!;
    }
    list.length = kept;
    list.push(group);
    sizes[other] = degree;
  }
  for (const element of met) {
    // What is gone is counted again from the new element on.
    outside[element] = -1;
  }
};

/** Children right before their parents, so that what they leave lies on a stack. */
const postorder = (parent: Int32Array): Int32Array => {
  const count = parent.length;
  const [firstChild, nextChild] = [new Int32Array(count).fill(-1), new Int32Array(count).fill(-1)];
  for (let group = count - 1; group >= 0; group--) {
    if (parent[group]! < 0) continue;
    nextChild[group] = firstChild[parent[group]!]!;
    firstChild[parent[group]!] = group;
  }
  const sequence = new Int32Array(count);
  let filled = count;
  // Parents first from the back: the reverse is a postorder.
  const stack: number[] = [];
  for (let group = 0; group < count; group++) if (parent[group]! < 0) stack.push(group);
  for (let group = stack.pop(); group !== undefined; group = stack.pop()) {
    sequence[--filled] = group;
    for (let child = firstChild[group]!; child >= 0; child = nextChild[child]!) stack.push(child);
  }
  return sequence;
};
