/** A queue of small whole keys, smallest first; of one key, the last put in comes out first. An item put again counts with its last key. */
export interface DegreeQueue {
  readonly put: (item: number, key: number) => void;
  readonly take: () => number | undefined;
  readonly drop: (item: number) => void;
}

const MOST = 100_000;

export const degreeQueue = (): DegreeQueue => {
  const buckets: number[][] = [];
  const keys = new Map<number, number>();
  let lowest = 0;
  const put = (item: number, key: number): void => {
    const at = Math.min(key, MOST);
    if (keys.get(item) === at) return;
    keys.set(item, at);
    while (buckets.length <= at) buckets.push([]);
    buckets[at]!.push(item);
    if (at < lowest) lowest = at;
  };
  const take = (): number | undefined => {
    for (; lowest < buckets.length; lowest++) {
      const bucket = buckets[lowest]!;
      for (let item = bucket.pop(); item !== undefined; item = bucket.pop()) {
        if (keys.get(item) !== lowest) continue;
        keys.delete(item);
        return item;
      }
    }
    return undefined;
  };
  return { put, take, drop: (item) => void keys.delete(item) };
};
