/**
 * Values by key that pass from one version of a journal to the next but for those that an edit may have changed. Versions live side by side, so
 * none takes anything away from another: what is new stands in a small map over a large one that they share.
 */
export class Settled<Key extends object, Value> {
  private readonly base: ReadonlyMap<Key, Value>;
  /** Keys of the base that no longer hold. */
  private readonly dropped: ReadonlySet<Key>;
  private readonly own: Map<Key, Value>;

  constructor(
    base: ReadonlyMap<Key, Value> = new Map(),
    dropped: ReadonlySet<Key> = new Set(),
    own: Map<Key, Value> = new Map(),
  ) {
    this.base = base;
    this.dropped = dropped;
    this.own = own;
  }

  get(key: Key): Value | undefined {
    const own = this.own.get(key);
    if (own !== undefined) return own;
    return this.dropped.size > 0 && this.dropped.has(key) ? undefined : this.base.get(key);
  }

  set(key: Key, value: Value): void {
    this.own.set(key, value);
  }

  /** The same without some keys, for another version. */
  without(keys: ReadonlySet<Key>): Settled<Key, Value> {
    if (this.own.size + this.dropped.size + keys.size > LEAST_COPIED + this.base.size / 32) return this.flat(keys);
    const own = new Map(this.own);
    for (const key of keys) own.delete(key);
    return new Settled(this.base, new Set([...this.dropped, ...keys]), own);
  }

  private flat(without: ReadonlySet<Key>): Settled<Key, Value> {
    const base = new Map(this.base);
    for (const key of this.dropped) base.delete(key);
    for (const [key, value] of this.own) base.set(key, value);
    for (const key of without) base.delete(key);
    return new Settled(base);
  }
}

/** What stands over the base is copied with each edit; past so many, and a share of the base, a new base is made. */
const LEAST_COPIED = 200;
