/**
 * A number with the sources of its error, in binary fractions: for shares of metal, which are never better known than a few digits. A source
 * that two figures share adds up in their sum and falls out of their difference, as in `quantity/measured` (GUM 5.2.2).
 */
import type { ErrorSource, ErrorTerm, Measured } from '../../quantity/measured';

export interface Inexact {
  readonly value: number;
  readonly errors: readonly ErrorTerm[];
}

const NO_ERRORS: readonly ErrorTerm[] = [];

export const certain = (value: number): Inexact => ({ value, errors: NO_ERRORS });

export const NOTHING: Inexact = certain(0);

/** With one error of its own, as a standard uncertainty. */
export const inexact = (value: number, u: number, source: ErrorSource): Inexact => ({
  value,
  errors: u > 0 ? [{ source, size: u }] : NO_ERRORS,
});

export const fromMeasured = ({ value, errors }: Measured): Inexact => ({ value: value.toNumber(), errors });

/** Standard uncertainty. */
export const spread = ({ errors }: Inexact): number => Math.hypot(...errors.map(({ size }) => size));

/** a·x + b·y, errors in common counted once. */
export const combine = (x: Inexact, a: number, y: Inexact, b: number): Inexact => ({
  value: a * x.value + b * y.value,
  errors: joined(x.errors, a, y.errors, b),
});

export const plus = (x: Inexact, y: Inexact): Inexact => combine(x, 1, y, 1);
export const minus = (x: Inexact, y: Inexact): Inexact => combine(x, 1, y, -1);
export const scaled = (x: Inexact, by: number): Inexact => combine(x, by, NOTHING, 0);
export const sum = (all: readonly Inexact[]): Inexact => all.reduce(plus, NOTHING);

/** First order (GUM 5.1.2). */
export const times = (x: Inexact, y: Inexact): Inexact => ({
  value: x.value * y.value,
  errors: joined(x.errors, y.value, y.errors, x.value),
});

/** First order (GUM 5.1.2). `y` is not 0. */
export const over = (x: Inexact, y: Inexact): Inexact => {
  const value = x.value / y.value;
  return { value, errors: joined(x.errors, 1 / y.value, y.errors, -value / y.value) };
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
const MOST_SOURCES = 16;

const joined = (x: readonly ErrorTerm[], a: number, y: readonly ErrorTerm[], b: number): readonly ErrorTerm[] => {
  const sizes = new Map<ErrorSource, number>();
  if (a !== 0) for (const { source, size } of x) sizes.set(source, a * size);
  if (b !== 0) for (const { source, size } of y) sizes.set(source, (sizes.get(source) ?? 0) + b * size);
  if (sizes.size === 0) return NO_ERRORS;
  const terms = [...sizes].map(([source, size]) => ({ source, size }));
  return terms.length > MOST_SOURCES ? gathered(terms) : terms;
};

const gathered = (terms: ErrorTerm[]): readonly ErrorTerm[] => {
  terms.sort((a, b) => Math.abs(b.size) - Math.abs(a.size));
  const small = terms.slice(MOST_SOURCES - 1);
  const size = Math.hypot(...small.map((term) => term.size));
  return [...terms.slice(0, MOST_SOURCES - 1), { source: { label: 'what came before' }, size }];
};
