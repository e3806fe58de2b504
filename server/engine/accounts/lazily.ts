/**
 * Values that rest on each other along a history, worked out when asked for and kept. Histories are long chains: they are walked with a list of
 * our own, not by calls within calls.
 */

/**
 * `needs` names what must be there before `work` is called for a key. In a circle, which only a wrong record has, what is not there yet stays
 * `unknown` to the one that asks.
 */
export const lazily = <Key extends object, Value>(
  needs: (key: Key) => Iterable<Key>,
  work: (key: Key, get: (key: Key) => Value) => Value,
  unknown: Value,
): ((key: Key) => Value) => {
  const kept = new Map<Key, Value>();
  const get = (key: Key): Value => kept.get(key) ?? unknown;
  return (key) => {
    const begun = new Set<Key>();
    const stack = [key];
    while (stack.length > 0) {
      const next = stack.at(-1)!;
      if (kept.has(next)) {
        stack.pop();
      } else if (begun.has(next)) {
        kept.set(next, work(next, get));
        stack.pop();
      } else {
        begun.add(next);
        for (const need of needs(next)) if (!kept.has(need) && !begun.has(need)) stack.push(need);
      }
    }
    return get(key);
  };
};
