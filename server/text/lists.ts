/** Lists that are kept for long: one empty list serves them all, and none keeps room for what never comes. */
const NONE: readonly never[] = Object.freeze([]);

/** A copy of just its length, where lists that grew item by item have room for seventeen; the shared empty list where it holds nothing. */
export const lean = <T>(list: readonly T[]): readonly T[] => (list.length === 0 ? NONE : list.slice());

/** Whether two lists hold the same objects in the same order. */
export const isSameList = (a: readonly unknown[], b: readonly unknown[]): boolean =>
  a.length === b.length && a.every((one, at) => one === b[at]);

/** Of a list in which all that are so stand behind all that are not: where they begin, by halving; its length where none is. */
export const firstWhere = <T>(list: ArrayLike<T>, isSo: (one: T) => boolean, from = 0, to = list.length): number => {
  let [low, high] = [from, to];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (isSo(list[middle]!)) high = middle;
    else low = middle + 1;
  }
  return low;
};

/**
 * A list in order with some taken out and others put in where they belong, in one pass: a change of a few costs no sorting of all. Of those that
 * compare as equal what was there stands first.
 */
export const changedInOrder = <T>(
  list: readonly T[],
  gone: ReadonlySet<T>,
  come: readonly T[],
  compare: (a: T, b: T) => number,
): readonly T[] => {
  const rest = gone.size > 0 ? list.filter((one) => !gone.has(one)) : list;
  if (come.length === 0) return rest;
  if (come.length > rest.length) return [...rest, ...come].sort(compare);
  const made: T[] = [];
  let from = 0;
  for (const one of [...come].sort(compare)) {
    const at = firstWhere(rest, (other) => compare(other, one) > 0, from);
    while (from < at) made.push(rest[from++]!);
    made.push(one);
  }
  while (from < rest.length) made.push(rest[from++]!);
  return made;
};

/** Items by the words that each bears, in the order in which the words first come; in their own order under each. */
export const indexedBy = <T>(items: readonly T[], wordsOf: (item: T) => Iterable<string>): Map<string, T[]> => {
  const index = new Map<string, T[]>();
  for (const item of items) {
    for (const word of wordsOf(item)) {
      const list = index.get(word);
      if (list) list.push(item);
      else index.set(word, [item]);
    }
  }
  return index;
};
