/**
 * Values that rest on each other along a history, worked out when asked for and kept. Histories are long chains: they are walked with a list of
 * our own, not by calls within calls.
 */

import { isSameList } from '../../text/lists';
import { type Memo, memo } from './memo';
import type { Settled } from './settled';

export interface Recipe<Key extends object, Value> {
  /** What must be there before `work` is called for a key. */
  readonly needs: (key: Key) => readonly Key[];
  /** All else that a value rests on, compared by identity. Asked once what it needs is there. */
  readonly rests: (key: Key) => readonly unknown[];
  readonly work: (key: Key, get: (key: Key) => Value) => Value;
  readonly same: (a: Value, b: Value) => boolean;
  /** What one is told that asks in a circle, which only a wrong record has, for what is not there yet. */
  readonly unknown: Value;
}

/** What a value was worked out from, so that it can be used again after an edit that left all of it as it was. */
interface Kept<Key, Value> {
  readonly value: Value;
  readonly needs: readonly Key[];
  readonly given: readonly Value[];
  readonly rests: readonly unknown[];
}

export type Keeping<Key extends object, Value> = Memo<Key, Kept<Key, Value>>;

export const keepingOf = <Key extends object, Value>(): Keeping<Key, Value> => memo();

/**
 * One version of a journal asks; `settled` holds what is known to be right in it, and `keeping` goes on from version to version. A value that
 * comes out the same stays the same object, so that what rests on it stays too.
 */
export const lazily = <Key extends object, Value>(
  keeping: Keeping<Key, Value>,
  settled: Settled<Key, Value>,
  { needs, rests, work, same, unknown }: Recipe<Key, Value>,
): ((key: Key) => Value) => {
  const get = (key: Key): Value => settled.get(key) ?? unknown;

  const settle = (key: Key, needed: readonly Key[]): Value => {
    const given = needed.map(get);
    const resting = rests(key);
    const before = keeping.get(key);
    if (
      before &&
      isSameList(before.needs, needed) &&
      isSameList(before.given, given) &&
      isSameList(before.rests, resting)
    ) {
      return before.value;
    }
    const made = work(key, get);
    const value = before && same(before.value, made) ? before.value : made;
    keeping.set(key, { value, needs: needed, given, rests: resting });
    return value;
  };

  return (key) => {
    const known = settled.get(key);
    if (known !== undefined) return known;
    const begun = new Map<Key, readonly Key[]>();
    const stack = [key];
    while (stack.length > 0) {
      const next = stack.at(-1)!;
      const needed = begun.get(next);
      if (settled.get(next) !== undefined) {
        stack.pop();
      } else if (needed) {
        settled.set(next, settle(next, needed));
        stack.pop();
      } else {
        const list = needs(next);
        begun.set(next, list);
        for (const need of list) if (settled.get(need) === undefined && !begun.has(need)) stack.push(need);
      }
    }
    return get(key);
  };
};
