/**
 * Errors that several readings share, such as the bias of one scale: each source is one more variable, read as 0 with uncertainty 1, and
 * stands in every balance with the readings that it touches. So correlation takes care of itself.
 */
import { type AnySystem, type Figures, figuresOf, type Reading, type Rows, rowsOf } from './system';

/** A system whose shared errors are variables: those from `firstSource` on. A variable before it is a reading less its own error alone. */
export interface Expanded {
  readonly readings: readonly Reading[];
  readonly figures: Figures;
  readonly rows: Rows;
  readonly firstSource: number;
}

export const withSources = (system: AnySystem, figures?: Figures): Expanded => {
  const { readings, sources = 0 } = system;
  const rows = rowsOf(system);
  const own = figures ?? figuresOf(readings);
  if (sources === 0) return { readings, figures: own, rows, firstSource: readings.length };
  const none: Reading = { value: 0, u: 1 };
  const more: Reading[] = [...readings];
  const value = new Float64Array(readings.length + sources);
  const variance = new Float64Array(readings.length + sources).fill(1);
  value.set(own.value);
  variance.set(own.variance);
  for (let source = 0; source < sources; source++) more.push(none);
  return {
    readings: more,
    figures: { value, variance },
    rows: withErrors(rows, readings),
    firstSource: readings.length,
  };
};

/** x = reading − Σ size × source, put in for x. */
const withErrors = ({ start, variable, coefficient, constant }: Rows, readings: readonly Reading[]): Rows => {
  const starts = new Int32Array(start.length);
  for (let index = 0; index < constant.length; index++) {
    let count = start[index + 1]! - start[index]!;
    for (let at = start[index]!; at < start[index + 1]!; at++) {
      const { value, shared } = readings[variable[at]!]!;
      if (value !== undefined && shared) count += shared.length;
    }
    starts[index + 1] = starts[index]! + count;
  }
  const variables = new Int32Array(starts[constant.length]!);
  const coefficients = new Float64Array(variables.length);
  for (let index = 0; index < constant.length; index++) {
    const from = start[index]!;
    const to = start[index + 1]!;
    let next = starts[index]! + to - from;
    for (let at = from; at < to; at++) {
      const into = starts[index]! + at - from;
      variables[into] = variable[at]!;
      coefficients[into] = coefficient[at]!;
      const { value, shared } = readings[variable[at]!]!;
      if (value === undefined || !shared) continue;
      for (const { source, size } of shared) {
        variables[next] = readings.length + source;
        coefficients[next++] = -size * coefficient[at]!;
      }
    }
  }
  return { start: starts, variable: variables, coefficient: coefficients, constant };
};

export interface Term {
  readonly variable: number;
  readonly coefficient: number;
}

/** What is true of a variable, as terms of the expanded system: itself, less what its sources bring into it. Undefined: itself alone. */
export const trueTerms = ({ readings, firstSource }: Expanded, variable: number): readonly Term[] | undefined => {
  const { value, shared } = readings[variable]!;
  if (value === undefined || !shared || shared.length === 0) return undefined;
  return [
    { variable, coefficient: 1 },
    ...shared.map(({ source, size }) => ({ variable: firstSource + source, coefficient: -size })),
  ];
};
