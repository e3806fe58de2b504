/** Lists that are kept for long: one empty list serves them all, and none keeps room for what never comes. */

const NONE: readonly never[] = Object.freeze([]);

/** A copy of just its length, where lists that grew item by item have room for seventeen; the shared empty list where it holds nothing. */
export const lean = <T>(list: readonly T[]): readonly T[] => (list.length === 0 ? NONE : list.slice());
