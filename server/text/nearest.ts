/** The known word that a mistyped one most likely means. */
import { asItLooks } from './look-alike';

/** Edits to turn one word into the other: letters put in, left out, changed, or two neighbours swapped; stops counting past `limit`. */
export const editDistance = (a: string, b: string, limit: number): number => {
  if (Math.abs(a.length - b.length) > limit) return limit + 1;
  let beforeLast: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, column) => column);
  for (let row = 1; row <= a.length; row++) {
    const current = [row];
    for (let column = 1; column <= b.length; column++) {
      const same = a[row - 1] === b[column - 1];
      let best = Math.min(current[column - 1]! + 1, last[column]! + 1, last[column - 1]! + (same ? 0 : 1));
      const swapped = row > 1 && column > 1 && a[row - 1] === b[column - 2] && a[row - 2] === b[column - 1];
      if (swapped) best = Math.min(best, beforeLast[column - 2]! + 1);
      current.push(best);
    }
    if (Math.min(...current) > limit) return limit + 1;
    beforeLast = last;
    last = current;
  }
  return last[b.length]!;
};

/** The nearest of the known words, if near enough to be meant: none in words of one or two letters, one edit in three, two in longer ones. Case counts for nothing, nor do letters of other scripts that look the same. */
export const nearest = (word: string, known: Iterable<string>, most?: number): string | undefined => {
  const sought = asItLooks(word).toLowerCase();
  const limit = most ?? (sought.length < 3 ? 0 : sought.length < 4 ? 1 : 2);
  let best: string | undefined;
  let bestDistance = limit + 1;
  for (const candidate of known) {
    if (candidate === word) continue;
    const distance = editDistance(sought, asItLooks(candidate).toLowerCase(), bestDistance - 1);
    if (distance < bestDistance) {
      best = candidate;
      bestDistance = distance;
    }
  }
  return best;
};
