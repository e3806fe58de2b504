/**
 * A map as a value: a change copies one small part of it and shares the rest. Copying a plain Map of every lot on each keystroke would
 * cost more than all that is computed.
 */

const SHARDS = 512;

const shardOf = (key: string): number => {
  let hash = 0;
  for (let at = 0; at < key.length; at++) hash = (hash * 31 + key.charCodeAt(at)) | 0;
  return (hash >>> 0) % SHARDS;
};

export class ShardedMap<Value> {
  private constructor(private readonly shards: readonly (ReadonlyMap<string, Value> | undefined)[]) {}

  static empty<Value>(): ShardedMap<Value> {
    return new ShardedMap<Value>(new Array(SHARDS).fill(undefined));
  }

  get(key: string): Value | undefined {
    return this.shards[shardOf(key)]?.get(key);
  }

  *keys(): Iterable<string> {
    for (const shard of this.shards) if (shard) yield* shard.keys();
  }

  /** Every value that this map has and the other does not have under the same key; of two versions next to each other only what changed is looked at. */
  but(other: ShardedMap<Value>): readonly Value[] {
    const found: Value[] = [];
    for (let index = 0; index < SHARDS; index++) {
      const shard = this.shards[index];
      const beside = other.shards[index];
      if (shard && shard !== beside)
        shard.forEach((value, key) => {
          if (beside?.get(key) !== value) found.push(value);
        });
    }
    return found;
  }

  /** The map with these keys set, or taken out where the value is undefined. */
  with(changes: ReadonlyMap<string, Value | undefined>): ShardedMap<Value> {
    if (changes.size === 0) return this;
    const shards = [...this.shards];
    const opened = new Map<number, Map<string, Value>>();
    for (const [key, value] of changes) {
      const index = shardOf(key);
      let shard = opened.get(index);
      if (!shard) {
        shard = new Map(shards[index]);
        opened.set(index, shard);
        shards[index] = shard;
      }
      if (value === undefined) shard.delete(key);
      else shard.set(key, value);
    }
    return new ShardedMap(shards);
  }
}
