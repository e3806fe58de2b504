/** Two lists held against each other: what changed in its place, what came, what went. */

/** One place where they differ. Both are there where a value was put in another's place. */
export interface Difference<Value> {
  readonly was: Value | undefined;
  readonly now: { readonly value: Value; readonly index: number } | undefined;
  /** The last place of the new list before it; none at the start. */
  readonly behind: number | undefined;
}

/** Beyond so many pairs to try, what stands between the equal ends is taken as changed from top to bottom. */
const MOST_PAIRS = 4_000_000;

/** By the longest run of what both have in the same order; between two such, what was and what is are paired from the top. */
export const compareLists = <Value>(was: readonly Value[], now: readonly Value[]): readonly Difference<Value>[] => {
  let start = 0;
  while (start < was.length && start < now.length && was[start] === now[start]) start++;
  let wasEnd = was.length;
  let nowEnd = now.length;
  while (wasEnd > start && nowEnd > start && was[wasEnd - 1] === now[nowEnd - 1]) {
    wasEnd--;
    nowEnd--;
  }
  const differences: Difference<Value>[] = [];
  let [fromWas, fromNow] = [start, start];
  const pairs = [
    ...common(was.slice(start, wasEnd), now.slice(start, nowEnd)),
    [wasEnd - start, nowEnd - start] as const,
  ];
  for (const [toWas, toNow] of pairs) {
    for (; fromWas < start + toWas || fromNow < start + toNow; fromWas++, fromNow++) {
      const old = fromWas < start + toWas ? was[fromWas] : undefined;
      const index = Math.min(fromNow, start + toNow);
      const value = fromNow < start + toNow ? { value: now[fromNow]!, index: fromNow } : undefined;
      differences.push({ was: old, now: value, behind: index > 0 ? index - 1 : undefined });
    }
    fromWas = start + toWas + 1;
    fromNow = start + toNow + 1;
  }
  return differences;
};

/** Places of what both have, in the order of both. */
const common = <Value>(a: readonly Value[], b: readonly Value[]): readonly (readonly [number, number])[] => {
  if (a.length === 0 || b.length === 0 || a.length * b.length > MOST_PAIRS) return [];
  const width = b.length + 1;
  const longest = new Uint32Array((a.length + 1) * width);
  for (let i = a.length - 1; i >= 0; i--) {
    for (let j = b.length - 1; j >= 0; j--) {
      longest[i * width + j] =
        a[i] === b[j]
          ? longest[(i + 1) * width + j + 1]! + 1
          : Math.max(longest[(i + 1) * width + j]!, longest[i * width + j + 1]!);
    }
  }
  const pairs: (readonly [number, number])[] = [];
  for (let i = 0, j = 0; i < a.length && j < b.length; ) {
    if (a[i] === b[j]) pairs.push([i++, j++]);
    else if (longest[(i + 1) * width + j]! >= longest[i * width + j + 1]!) i++;
    else j++;
  }
  return pairs;
};
