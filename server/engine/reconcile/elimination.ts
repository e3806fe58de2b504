/**
 * Takes a sparse symmetric matrix apart, block by block, in the order of least degree.
 *
 * What an eliminated block leaves to its neighbours is kept as one dense matrix, an element, until a neighbour is eliminated in turn and
 * takes it over (multifrontal elimination on a quotient graph; degrees bounded as by Amestoy, Davis and Duff 1996; citation from memory).
 * Histories are nearly trees, so the elements stay about as small as the number of lots that are open at one time.
 */
import { invertBlock, multiply } from './dense';
import { type DegreeQueue, degreeQueue } from './queue';

/** Both triangles, and every diagonal entry, zero or not. */
export type SymmetricRows = readonly ReadonlyMap<number, number>[];

export interface Block {
  readonly members: readonly number[];
  readonly neighbours: readonly number[];
  /** Inverse of the pivot, members × members. */
  readonly inverse: Float64Array;
  /** Inverse of the pivot times its coupling, members × neighbours. */
  readonly coupling: Float64Array;
  /** The block that took this one over: its members and neighbours hold all neighbours of this one. −1: none. */
  parent: number;
}

interface State {
  readonly rows: SymmetricRows;
  readonly members: (readonly number[])[];
  readonly owner: Int32Array;
  readonly queue: DegreeQueue;
  readonly gone: Uint8Array;
  /** Neighbours in the matrix itself that are not gone. */
  readonly left: Int32Array;
  /** Elements that touch an unknown. */
  readonly elements: number[][];
  readonly blocks: Block[];
  /** What each block left over, neighbours × neighbours, until it is taken over. */
  readonly updates: (Float64Array | undefined)[];
  readonly degrees: Float64Array;
  /** Scratch: where an unknown stands in the front. */
  readonly place: Int32Array;
  /** Scratch: how much of an element lies outside the newest one. */
  readonly outside: (number | undefined)[];
}

/** Blocks in the order of their elimination. `groups` says which unknowns are taken together; each stands in one group. */
export const eliminate = (rows: SymmetricRows, groups: readonly (readonly number[])[]): Block[] => {
  const state = startState(rows, groups);
  for (let group = state.queue.take(); group !== undefined; group = state.queue.take()) {
    const members = state.members[group]!;
    const front = frontOf(state, members);
    const matrix = assembleFront(state, members.length, front);
    const inverse = invertBlock(
      corner(matrix, members.length, front.length),
      members.length,
      front.length > members.length,
    );
    if (inverse) takeOut(state, members.length, front, matrix, inverse);
    else joinToNeighbour(state, group, front.slice(members.length));
  }
  return state.blocks;
};

const startState = (rows: SymmetricRows, groups: readonly (readonly number[])[]): State => {
  const state: State = {
    rows,
    members: [...groups],
    owner: new Int32Array(rows.length),
    queue: degreeQueue(),
    gone: new Uint8Array(rows.length),
    left: Int32Array.from(rows, (row) => row.size - 1),
    elements: Array.from(rows, () => []),
    blocks: [],
    updates: [],
    degrees: Float64Array.from(rows, (row) => row.size - 1),
    place: new Int32Array(rows.length).fill(-1),
    outside: [],
  };
  for (const [group, list] of groups.entries()) {
    for (const member of list) state.owner[member] = group;
    enqueue(state, group);
  }
  return state;
};

const enqueue = ({ members, degrees, queue }: State, group: number): void => {
  let degree = 0;
  for (const member of members[group]!) degree = Math.max(degree, degrees[member]!);
  queue.put(group, degree);
};

/** The members, then all that they touch. Leaves each one's position in `place`. */
const frontOf = ({ rows, gone, elements, blocks, place }: State, members: readonly number[]): number[] => {
  const front = [...members];
  for (const [at, member] of members.entries()) place[member] = at;
  const add = (unknown: number): void => {
    if (gone[unknown] || place[unknown]! >= 0) return;
    place[unknown] = front.length;
    front.push(unknown);
  };
  for (const member of members) {
    for (const unknown of rows[member]!.keys()) add(unknown);
    for (const element of elements[member]!) for (const unknown of blocks[element]!.neighbours) add(unknown);
  }
  return front;
};

const assembleFront = (state: State, members: number, front: readonly number[]): Float64Array => {
  const { rows, gone, place } = state;
  const size = front.length;
  const matrix = new Float64Array(size * size);
  for (let m = 0; m < members; m++) {
    for (const [unknown, entry] of rows[front[m]!]!) {
      if (gone[unknown]) continue;
      const at = place[unknown]!;
      matrix[m * size + at]! += entry;
      if (at >= members) matrix[at * size + m]! += entry;
    }
  }
  for (const element of touching(state, front, members)) addElement(state, element, matrix, size, place);
  for (const unknown of front) place[unknown] = -1;
  return matrix;
};

const touching = ({ elements }: State, front: readonly number[], members: number): Set<number> => {
  const all = new Set<number>();
  for (let m = 0; m < members; m++) for (const element of elements[front[m]!]!) all.add(element);
  return all;
};

const addElement = (
  { blocks, updates }: State,
  element: number,
  matrix: Float64Array,
  size: number,
  place: Int32Array,
): void => {
  const { neighbours } = blocks[element]!;
  const update = updates[element]!;
  const count = neighbours.length;
  const places = Int32Array.from(neighbours, (unknown) => place[unknown]!);
  for (let i = 0; i < count; i++) {
    const start = places[i]! * size;
    for (let j = 0; j < count; j++) matrix[start + places[j]!]! += update[i * count + j]!;
  }
};

const corner = (matrix: Float64Array, members: number, size: number): Float64Array => {
  const block = new Float64Array(members * members);
  for (let i = 0; i < members; i++) block.set(matrix.subarray(i * size, i * size + members), i * members);
  return block;
};

const takeOut = (
  state: State,
  size: number,
  front: readonly number[],
  matrix: Float64Array,
  inverse: Float64Array,
): void => {
  const [members, neighbours] = [front.slice(0, size), front.slice(size)];
  const count = neighbours.length;
  const entries = new Float64Array(size * count);
  for (let m = 0; m < size; m++) {
    entries.set(matrix.subarray(m * front.length + size, (m + 1) * front.length), m * count);
  }
  const coupling = multiply(inverse, entries, size, count);
  const update = new Float64Array(count * count);
  for (let i = 0; i < count; i++) {
    const from = (i + size) * front.length + size;
    for (let j = 0; j < count; j++) update[i * count + j] = matrix[from + j]!;
    for (let m = 0; m < size; m++) {
      const factor = entries[m * count + i]!;
      if (factor === 0) continue;
      for (let j = 0; j < count; j++) update[i * count + j]! -= factor * coupling[m * count + j]!;
    }
  }
  const id = state.blocks.length;
  const absorbed = touching(state, front, size);
  state.blocks.push({ members, neighbours, inverse, coupling, parent: -1 });
  state.updates.push(update);
  for (const element of absorbed) handOver(state, element, id);
  for (const member of members) {
    state.gone[member] = 1;
    for (const unknown of state.rows[member]!.keys()) state.left[unknown]!--;
  }
  afterwards(state, id);
};

const handOver = ({ blocks, updates }: State, element: number, to: number): void => {
  blocks[element]!.parent = to;
  updates[element] = undefined;
};

/** New element lists and degrees of the neighbours; an element that lies wholly within the new one is added to it at once. */
const afterwards = (state: State, id: number): void => {
  const { blocks, updates, elements, outside, place, left, degrees } = state;
  const { neighbours } = blocks[id]!;
  const others: number[] = [];
  for (const [at, unknown] of neighbours.entries()) {
    place[unknown] = at;
    elements[unknown] = elements[unknown]!.filter((element) => updates[element] !== undefined);
    for (const element of elements[unknown]!) {
      if (outside[element] === undefined) {
        outside[element] = blocks[element]!.neighbours.length;
        others.push(element);
      }
      outside[element]! -= 1;
    }
  }
  for (const element of others) {
    if (outside[element]! > 0) continue;
    addElement(state, element, updates[id]!, neighbours.length, place);
    handOver(state, element, id);
  }
  const groups = new Set<number>();
  for (const unknown of neighbours) {
    place[unknown] = -1;
    const list = elements[unknown]!.filter((element) => updates[element] !== undefined);
    let degree = left[unknown]! + neighbours.length - 1;
    for (const element of list) degree += outside[element]!;
    list.push(id);
    elements[unknown] = list;
    degrees[unknown] = degree;
    groups.add(state.owner[unknown]!);
  }
  for (const element of others) outside[element] = undefined;
  for (const group of groups) enqueue(state, group);
};

/** A block whose pivot is lost in rounding where it stands is eliminated together with the neighbour of least degree. */
const joinToNeighbour = (state: State, group: number, neighbours: readonly number[]): void => {
  const { degrees, owner, members } = state;
  const other = owner[neighbours.reduce((best, next) => (degrees[next]! < degrees[best]! ? next : best))]!;
  for (const member of members[group]!) owner[member] = other;
  members[other] = [...members[other]!, ...members[group]!];
  enqueue(state, other);
};
