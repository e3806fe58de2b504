/** No more of the same in one entry than anybody reads. */
import type { Finding } from './rule';

/** Nobody reads more of the same in one entry; the rest is counted. */
const MOST_ALIKE = 20;

export const capped = (found: readonly Finding[]): readonly Finding[] => {
  if (found.length <= MOST_ALIKE) return found;
  const counts = new Map<string, number>();
  for (const { code } of found) counts.set(code, (counts.get(code) ?? 0) + 1);
  const seen = new Map<string, number>();
  return found.flatMap((one) => {
    const nth = (seen.get(one.code) ?? 0) + 1;
    seen.set(one.code, nth);
    const more = counts.get(one.code)! - MOST_ALIKE;
    if (nth > MOST_ALIKE) return [];
    return nth === MOST_ALIKE && more > 0
      ? [{ ...one, says: `${one.says} So it is with ${more} more in this entry.` }]
      : [one];
  });
};
