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
  let errors = NO_ERRORS;
  let guessed = false;
  for (const value of values) {
    total = total.plus(value.value);
    errors = join(errors, value.errors);
    guessed ||= value.guessed;
  }
  return { value: total, errors, guessed };
};

export const negate = (of: Measured): Measured => ({
  value: of.value.negated(),
  errors: of.errors.map(({ source, size }) => ({ source, size: -size })),
  guessed: of.guessed,
});

export const subtract = (from: Measured, what: Measured): Measured => add(from, negate(what));

/** Times an exact factor. */
export const scale = (of: Measured, factor: Decimal): Measured => {
  const by = factor.toNumber();
  return {
    value: of.value.times(factor),
    errors: of.errors.map(({ source, size }) => ({ source, size: size * by })),
    guessed: of.guessed,
  };
};

/** First order (GUM 5.1.2). */
export const multiply = (a: Measured, b: Measured): Measured => ({
  value: a.value.times(b.value),
  errors: join(weigh(a.errors, b.value.toNumber()), weigh(b.errors, a.value.toNumber())),
  guessed: a.guessed || b.guessed,
});

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
  if (of.errors.length === 1) return Math.abs(of.errors[0]!.size);
  let squares = 0;
  for (const { size } of of.errors) squares += size * size;
  return Math.sqrt(squares);
};

const weigh = (errors: readonly ErrorTerm[], by: number): readonly ErrorTerm[] =>
  errors.map(({ source, size }) => ({ source, size: size * by }));

/** Both lists, each source once. Lists are short in a balance; long ones go through a map. */
const join = (a: readonly ErrorTerm[], b: readonly ErrorTerm[]): readonly ErrorTerm[] => {
  if (a.length === 0) return b;
  if (b.length === 0) return a;
  if (a.length * b.length > 256) return joinLong(a, b);
  const joined = [...a];
  for (const term of b) {
    const index = a.findIndex(({ source }) => source === term.source);
    if (index < 0) joined.push(term);
    else joined[index] = { source: term.source, size: joined[index]!.size + term.size };
  }
  return joined;
};

const joinLong = (a: readonly ErrorTerm[], b: readonly ErrorTerm[]): readonly ErrorTerm[] => {
  const sizes = new Map(a.map(({ source, size }) => [source, size]));
  for (const { source, size } of b) sizes.set(source, (sizes.get(source) ?? 0) + size);
  return [...sizes].map(([source, size]) => ({ source, size }));
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
