/** Lists that are mostly empty: one empty list serves them all. */

const NONE: readonly never[] = Object.freeze([]);

/** The list; the shared empty one where it holds nothing. */
export const lean = <T>(list: readonly T[]): readonly T[] => (list.length === 0 ? NONE : list);
