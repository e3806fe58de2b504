/** Lists that are kept for long: one empty list serves them all, and none keeps room for what never comes. */

const NONE: readonly never[] = Object.freeze([]);

/** A copy of just its length, where lists that grew item by item have room for seventeen; the shared empty list where it holds nothing. */
export const lean = <T>(list: readonly T[]): readonly T[] => (list.length === 0 ? NONE : list.slice());

/** Whether two lists hold the same objects in the same order. */
export const isSameList = (a: readonly unknown[], b: readonly unknown[]): boolean =>
  a.length === b.length && a.every((one, at) => one === b[at]);

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
  // Slices are copied whole: a list of thousands changes at every key.
  const made: (readonly T[])[] = [];
  let from = 0;
  for (const one of [...come].sort(compare)) {
    let [low, high] = [from, rest.length];
    while (low < high) {
      const middle = (low + high) >> 1;
      if (compare(rest[middle]!, one) <= 0) low = middle + 1;
      else high = middle;
    }
    made.push(rest.slice(from, low), [one]);
    from = low;
  }
  return ([] as T[]).concat(...made, rest.slice(from));
};
