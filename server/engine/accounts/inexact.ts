/**
 * A number with the sources of its error, in binary fractions: for shares of metal, which are never better known than a few digits. A source
 * that two figures share adds up in their sum and falls out of their difference, as in `quantity/measured` (GUM 5.2.2).
 *
 * There are very many of these in a long journal, so sources and sizes stand in two lists side by side rather than in pairs.
 */
import type { ErrorSource, Measured } from '../../quantity/measured';

export interface Inexact {
  readonly value: number;
  /** Each source once. */
  readonly sources: readonly ErrorSource[];
  /** Of each source: sensitivity times standard uncertainty, signed, in the value's unit. */
  readonly sizes: readonly number[];
  /** How much of the value rests on a guess, signed as the value is; left out where nothing does. */
  readonly guess?: number;
}

const NO_SOURCES: readonly ErrorSource[] = [];
const NO_SIZES: readonly number[] = [];

export const certain = (value: number): Inexact => ({ value, sources: NO_SOURCES, sizes: NO_SIZES });

export const NOTHING: Inexact = certain(0);

/** With one error of its own, as a standard uncertainty. */
export const inexact = (value: number, u: number, source: ErrorSource): Inexact =>
  u > 0 ? { value, sources: [source], sizes: [u] } : certain(value);

export const fromMeasured = ({ value, errors, guessed }: Measured): Inexact => {
  const of: Inexact = {
    value: value.toNumber(),
    sources: errors.length === 0 ? NO_SOURCES : errors.map(({ source }) => source),
    sizes: errors.length === 0 ? NO_SIZES : errors.map(({ size }) => size),
  };
  return guessed ? asGuess(of) : of;
};

/** All of it rests on a guess. */
export const asGuess = (of: Inexact): Inexact => (of.value === 0 ? of : { ...of, guess: of.value });

/** Half of it, or so much that it shows beside what is not sure anyway. */
export const isGuess = (of: Inexact): boolean => {
  if (of.guess === undefined) return false;
  const size = Math.abs(of.guess);
  return size > 0 && (2 * size >= Math.abs(of.value) || 2 * size > spread(of));
};

const withGuess = (of: Inexact, guess: number): Inexact => (guess === 0 ? of : { ...of, guess });

/** Standard uncertainty. */
export const spread = ({ sizes }: Inexact): number => {
  let squares = 0;
  for (const size of sizes) squares += size * size;
  return Math.sqrt(squares);
};

/** The same figure, its errors larger by a factor. */
export const widenedBy = (of: Inexact, factor: number): Inexact => ({
  ...of,
  sizes: of.sizes.map((size) => size * factor),
});

export const plus = (x: Inexact, y: Inexact): Inexact => {
  if (x === NOTHING) return y;
  return y === NOTHING ? x : joined(x.value + y.value, x, 1, y, 1);
};
export const minus = (x: Inexact, y: Inexact): Inexact => joined(x.value - y.value, x, 1, y, -1);
export const scaled = (x: Inexact, by: number): Inexact => joined(x.value * by, x, by, NOTHING, 0);
/** More of them are added up at once: one by one, a thousand lots would be gathered a thousand times. */
const FEW = 4;

export const sum = (all: readonly Inexact[]): Inexact => (all.length > FEW ? summed(all) : all.reduce(plus, NOTHING));

const summed = (all: readonly Inexact[]): Inexact => {
  let [value, guess] = [0, 0];
  const bySource = new Map<ErrorSource, number>();
  for (const one of all) {
    value += one.value;
    guess += one.guess ?? 0;
    for (let at = 0; at < one.sources.length; at++) {
      const source = one.sources[at]!;
      bySource.set(source, (bySource.get(source) ?? 0) + one.sizes[at]!);
    }
  }
  const [sources, sizes] = [[...bySource.keys()], [...bySource.values()]];
  const of = sources.length > MOST_SOURCES ? gathered(value, sources, sizes) : { value, sources, sizes };
  return withGuess(of, guess);
};

/** First order (GUM 5.1.2). */
export const times = (x: Inexact, y: Inexact): Inexact => joined(x.value * y.value, x, y.value, y, x.value);

/** First order (GUM 5.1.2). `y` is not 0. */
export const over = (x: Inexact, y: Inexact): Inexact => {
  const value = x.value / y.value;
  return joined(value, x, 1 / y.value, y, -value / y.value);
};

/** Of independent figures, each by the inverse square of its uncertainty; one that is certain wins outright. */
export const weightedMean = (all: readonly [Inexact, ...Inexact[]]): Inexact => {
  const sure = all.find((one) => spread(one) === 0);
  if (sure) return sure;
  const weights = all.map((one) => 1 / spread(one) ** 2);
  const total = weights.reduce((so, weight) => so + weight, 0);
  return sum(all.map((one, index) => scaled(one, weights[index]! / total)));
};

/** More sources than these are a long history: the small ones are taken together as one, which no other figure shares. */
const MOST_SOURCES = 8;

/** `value` with the errors of a·x + b·y, those in common counted once. */
const joined = (value: number, x: Inexact, a: number, y: Inexact, b: number): Inexact => {
  const guess = a * (x.guess ?? 0) + b * (y.guess ?? 0);
  return withGuess(withErrors(value, errorsOf(x, a), errorsOf(y, b)), guess);
};

/** Lists side by side, as in a figure. */
type Errors = Pick<Inexact, 'sources' | 'sizes'>;

const NONE: Errors = { sources: NO_SOURCES, sizes: NO_SIZES };

const errorsOf = ({ sources, sizes }: Inexact, times: number): Errors => {
  if (times === 0 || sources.length === 0) return NONE;
  return { sources, sizes: times === 1 ? sizes : sizes.map((size) => times * size) };
};

/** Lists are joined as wholes: one that grows sign by sign keeps room for a dozen more, and there are hundreds of thousands of them. */
const withErrors = (value: number, one: Errors, other: Errors): Inexact => {
  if (other.sources.length === 0) return { value, sources: one.sources, sizes: one.sizes };
  if (one.sources.length === 0) return { value, sources: other.sources, sizes: other.sizes };
  const alone = other.sources.filter((source) => !one.sources.includes(source));
  const isApart = alone.length === other.sources.length;
  const sources = alone.length === 0 ? one.sources : one.sources.concat(alone);
  const sizes = isApart
    ? one.sizes.concat(other.sizes)
    : sources.map((source) => sizeIn(one, source) + sizeIn(other, source));
  return sources.length > MOST_SOURCES ? gathered(value, sources, sizes) : { value, sources, sizes };
};

const sizeIn = ({ sources, sizes }: Errors, source: ErrorSource): number => {
  const at = sources.indexOf(source);
  return at < 0 ? 0 : sizes[at]!;
};

const BEFORE = 'what came before';

const gathered = (value: number, sources: readonly ErrorSource[], sizes: readonly number[]): Inexact => {
  const kept = largest(sizes, MOST_SOURCES - 1);
  let squares = 0;
  for (let at = 0; at < sizes.length; at++) if (!kept.includes(at)) squares += sizes[at]! ** 2;
  return {
    value,
    sources: [...kept.map((at) => sources[at]!), { label: BEFORE }],
    sizes: [...kept.map((at) => sizes[at]!), Math.sqrt(squares)],
  };
};

/** The places of so many of the largest, the largest first. */
const largest = (sizes: readonly number[], count: number): number[] => {
  const found: number[] = [];
  for (let at = 0; at < sizes.length; at++) {
    const size = Math.abs(sizes[at]!);
    if (found.length === count && Math.abs(sizes[found[count - 1]!]!) >= size) continue;
    let place = found.length === count ? count - 1 : found.length;
    while (place > 0 && Math.abs(sizes[found[place - 1]!]!) < size) {
      found[place] = found[place - 1]!;
      place--;
    }
    found[place] = at;
  }
  return found;
};
