/** A queue of whole keys, smallest first; of one key, the last put in comes out first. An item put again counts with its last key. */
export interface DegreeQueue {
  readonly put: (item: number, key: number) => void;
  readonly take: () => number | undefined;
}

const MOST = 100_000;

/** For items from 0 to before `items`. */
export const degreeQueue = (items: number): DegreeQueue => {
  const buckets: number[][] = [];
  const keys = new Int32Array(items).fill(-1);
  let lowest = 0;
  const put = (item: number, key: number): void => {
    const at = Math.min(Math.max(key, 0), MOST);
    if (keys[item] === at) return;
    keys[item] = at;
    while (buckets.length <= at) buckets.push([]);
    buckets[at]!.push(item);
    if (at < lowest) lowest = at;
  };
  const take = (): number | undefined => {
    for (; lowest < buckets.length; lowest++) {
      const bucket = buckets[lowest]!;
      for (let item = bucket.pop(); item !== undefined; item = bucket.pop()) {
        if (keys[item] !== lowest) continue;
        keys[item] = -1;
        return item;
      }
    }
    return undefined;
  };
  return { put, take };
};
