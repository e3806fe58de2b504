/**
 * A value with the sources of its error. A source that two values share (a vessel's tare, a scale) adds up in their sum and falls out of
 * their difference, so correlation takes care of itself (GUM 5.2.2).
 */
import { type Decimal, decimal, ZERO } from './decimal';

/** Known by its identity. */
export interface ErrorSource {
  readonly label: string;
}

export interface ErrorTerm {
  readonly source: ErrorSource;
  /** Sensitivity times standard uncertainty, signed, in the value's unit. */
  readonly size: number;
}

export interface Measured {
  /** In base units: grams, millilitres, mass fraction. */
  readonly value: Decimal;
  /** Each source once. */
  readonly errors: readonly ErrorTerm[];
  /** Rests on a guess. */
  readonly guessed: boolean;
  /** Digits after the point to which the finest of its readings was read, in base units; none once it is multiplied or divided. */
  readonly places?: number;
}

const NO_ERRORS: readonly ErrorTerm[] = [];

export const exact = (value: Decimal): Measured => ({ value, errors: NO_ERRORS, guessed: false });

/** A value with one error of its own; `u` is its standard uncertainty. */
export const measured = (value: Decimal, u: number, label: string): Measured => ({
  value,
  errors: u === 0 ? NO_ERRORS : [{ source: { label }, size: u }],
  guessed: false,
});

export const withError = (of: Measured, source: ErrorSource, u: number): Measured => ({
  ...of,
  errors: u === 0 ? of.errors : join(of.errors, [{ source, size: u }]),
});

export const guess = (of: Measured): Measured => (of.guessed ? of : { ...of, guessed: true });

export const add = (...values: readonly Measured[]): Measured => {
  let total = ZERO;
  let guessed = false;
  for (const value of values) {
    total = total.plus(value.value);
    guessed ||= value.guessed;
  }
  return { value: total, errors: joinAll(values.map(({ errors }) => errors)), guessed, places: finestPlaces(values) };
};

export const negate = (of: Measured): Measured => ({
  value: of.value.negated(),
  errors: weigh(of.errors, -1),
  guessed: of.guessed,
  places: of.places,
});

export const subtract = (from: Measured, what: Measured): Measured => add(from, negate(what));

/** Times an exact factor. */
export const scale = (of: Measured, factor: Decimal): Measured => ({
  value: of.value.times(factor),
  errors: weigh(of.errors, factor.toNumber()),
  guessed: of.guessed,
});

/** A function of one measured value, by its result and its slope there. First order (GUM 5.1.2). */
export const through = (of: Measured, result: Decimal, slope: number): Measured => ({
  value: result,
  errors: weigh(of.errors, slope),
  guessed: of.guessed,
});

/** First order (GUM 5.1.2). */
export const multiply = (a: Measured, b: Measured): Measured => ({
  value: a.value.times(b.value),
  errors: join(weigh(a.errors, b.value.toNumber()), weigh(b.errors, a.value.toNumber())),
  guessed: a.guessed || b.guessed,
});

/**
 * With the second-order term u(a)·u(b) of GUM 5.1.2 as an error of its own: for two factors without common sources of which one may be near
 * zero, where the first order alone says far too little.
 */
export const multiplyNearZero = (a: Measured, b: Measured): Measured =>
  withError(multiply(a, b), { label: 'product of two errors' }, uncertainty(a) * uncertainty(b));

/** First order (GUM 5.1.2). Throws a RangeError on a divisor of zero. */
export const divide = (a: Measured, b: Measured): Measured => {
  if (b.value.isZero()) throw new RangeError('division by zero');
  const divisor = b.value.toNumber();
  const quotient = a.value.div(b.value);
  return {
    value: quotient,
    errors: join(weigh(a.errors, 1 / divisor), weigh(b.errors, -quotient.toNumber() / divisor)),
    guessed: a.guessed || b.guessed,
  };
};

/** Standard uncertainty: the root of the sum of squares over independent sources. */
export const uncertainty = (of: Measured): number => {
  let squares = 0;
  for (const { size } of of.errors) squares += size * size;
  return Math.sqrt(squares);
};

/** What two values share: the sum of products of the sizes of their common sources (GUM 5.2.2). */
export const covariance = (a: Measured, b: Measured): number => {
  const sizes = new Map(b.errors.map(({ source, size }) => [source, size]));
  return a.errors.reduce((total, { source, size }) => total + size * (sizes.get(source) ?? 0), 0);
};

/** Between -1 and 1; 0 where one of them is exact. */
export const correlation = (a: Measured, b: Measured): number => {
  const both = uncertainty(a) * uncertainty(b);
  return both === 0 ? 0 : covariance(a, b) / both;
};

const weigh = (errors: readonly ErrorTerm[], by: number): readonly ErrorTerm[] =>
  errors.map(({ source, size }) => ({ source, size: size * by }));

/** Lists up to this length in all are joined by looking through them, longer ones by a map. */
const SHORT = 24;

/** All lists as one, each source once. */
const joinAll = (lists: readonly (readonly ErrorTerm[])[]): readonly ErrorTerm[] => {
  const filled = lists.filter((list) => list.length > 0);
  if (filled.length < 2) return filled[0] ?? NO_ERRORS;
  const length = filled.reduce((total, list) => total + list.length, 0);
  return length > SHORT ? joinLong(filled) : filled.reduce(joinShort);
};

const join = (a: readonly ErrorTerm[], b: readonly ErrorTerm[]): readonly ErrorTerm[] => joinAll([a, b]);

const joinShort = (a: readonly ErrorTerm[], b: readonly ErrorTerm[]): readonly ErrorTerm[] => {
  const joined = [...a];
  for (const term of b) {
    const index = a.findIndex(({ source }) => source === term.source);
    if (index < 0) joined.push(term);
    else joined[index] = { source: term.source, size: joined[index]!.size + term.size };
  }
  // A list that has grown keeps room for more; these are kept by the ten thousand.
  return joined.length > a.length ? joined.slice() : joined;
};

const joinLong = (lists: readonly (readonly ErrorTerm[])[]): readonly ErrorTerm[] => {
  const sizes = new Map<ErrorSource, number>();
  for (const list of lists) {
    for (const { source, size } of list) sizes.set(source, (sizes.get(source) ?? 0) + size);
  }
  return [...sizes].map(([source, size]) => ({ source, size }));
};

/** Exact values are as fine as they are written; one value read to no known place leaves the sum without one. */
const finestPlaces = (values: readonly Measured[]): number | undefined => {
  let finest = 0;
  for (const { value, errors, places } of values) {
    const own = errors.length === 0 ? value.decimalPlaces() : places;
    if (own === undefined) return undefined;
    finest = Math.max(finest, own);
  }
  return finest;
};

/** Combined by their uncertainties (inverse variance); taken as independent. Exact values win outright. */
export const weightedMean = (values: readonly Measured[]): Measured => {
  const [first] = values;
  if (!first) throw new RangeError('mean of nothing');
  const sure = values.find((value) => uncertainty(value) === 0);
  if (sure) return sure;
  const weights = values.map((value) => 1 / uncertainty(value) ** 2);
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  return add(...values.map((value, index) => scale(value, decimal(weights[index]! / total))));
};
