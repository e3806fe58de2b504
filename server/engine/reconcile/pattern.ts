/** Where a sparse symmetric matrix has entries. Each pair of unknowns has one slot, however often it was named; values come later. */

export interface Pattern {
  readonly size: number;
  readonly slots: number;
  /** The slots of unknown p are those from `start[p]` to `start[p + 1]`; each is a pair (p, `other[slot]`) with p ≤ other. */
  readonly start: Int32Array;
  readonly other: Int32Array;
}

/** `slotOf[k]` is the slot of the k-th pair named. Every diagonal has a slot. */
export const patternOf = (
  size: number,
  first: ArrayLike<number>,
  second: ArrayLike<number>,
): { readonly pattern: Pattern; readonly slotOf: Int32Array } => {
  const byRow = gather(size, first, second);
  const start = new Int32Array(size + 1);
  const other = new Int32Array(size + first.length);
  const slotOf = new Int32Array(first.length);
  const seen = new Int32Array(size).fill(-1);
  let slots = 0;
  for (let row = 0; row < size; row++) {
    start[row] = slots;
    seen[row] = slots;
    other[slots++] = row;
    for (let at = byRow.start[row]!; at < byRow.start[row + 1]!; at++) {
      const pair = byRow.pairs[at]!;
      const column = Math.max(first[pair]!, second[pair]!);
      // A slot before this row's first is from another row.
      if (seen[column]! < start[row]!) {
        seen[column] = slots;
        other[slots++] = column;
      }
      slotOf[pair] = seen[column]!;
    }
  }
  start[size] = slots;
  return { pattern: { size, slots, start, other: other.slice(0, slots) }, slotOf };
};

const gather = (
  size: number,
  first: ArrayLike<number>,
  second: ArrayLike<number>,
): { readonly start: Int32Array; readonly pairs: Int32Array } => {
  const start = new Int32Array(size + 1);
  for (let pair = 0; pair < first.length; pair++) start[Math.min(first[pair]!, second[pair]!) + 1]! += 1;
  for (let row = 0; row < size; row++) start[row + 1]! += start[row]!;
  const next = start.slice(0, size);
  const pairs = new Int32Array(first.length);
  for (let pair = 0; pair < first.length; pair++) pairs[next[Math.min(first[pair]!, second[pair]!)]!++] = pair;
  return { start, pairs };
};

/** The slot of a pair, or −1. */
export const slotOfPair = ({ start, other }: Pattern, p: number, q: number): number => {
  const [row, column] = p < q ? [p, q] : [q, p];
  for (let slot = start[row]!; slot < start[row + 1]!; slot++) if (other[slot] === column) return slot;
  return -1;
};
