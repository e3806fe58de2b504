/**
 * What has been worked out of metals, kept with what it is of. In a long journal it is a good deal, and most of it is of pages that nobody looks
 * at: so all of it can be forgotten at any time, and comes back where it is asked for.
 */
export interface Memo<Key extends object, Value> {
  readonly get: (key: Key) => Value | undefined;
  readonly set: (key: Key, value: Value) => void;
}

const forgets: (() => void)[] = [];

/** To be made once, not for each use: it is never taken off the list of what can be forgotten. */
export const memo = <Key extends object, Value>(): Memo<Key, Value> => {
  let kept = new WeakMap<Key, Value>();
  forgets.push(() => {
    kept = new WeakMap();
  });
  return { get: (key) => kept.get(key), set: (key, value) => void kept.set(key, value) };
};

export const forgetMetals = (): void => {
  for (const forget of forgets) forget();
};
