/** Seeded random numbers, so that every run sees the same. (mulberry32) */
export interface Random {
  /** 0 up to but not 1. */
  readonly next: () => number;
  /** A whole number from `low` to `high`, both included. */
  readonly whole: (low: number, high: number) => number;
  readonly pick: <T>(from: readonly T[]) => T;
}

export const seeded = (seed: number): Random => {
  let state = seed >>> 0;
  const next = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
  const whole = (low: number, high: number): number => low + Math.floor(next() * (high - low + 1));
  return { next, whole, pick: (from) => from[Math.floor(next() * from.length)]! };
};

/** Of a normal distribution with mean 0 and variance 1 (Box and Muller). */
export const normal = ({ next }: Random): number =>
  Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next());
