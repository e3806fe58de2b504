/**
 * Errors that several readings share, such as the bias of one scale: each source is one more variable, read as 0 with uncertainty 1, and
 * stands in every balance with the readings that it touches. So correlation takes care of itself.
 */
import type { Balance, Reading, System } from './system';

/** A system whose shared errors are variables: those from `firstSource` on. A variable before it is a reading less its own error alone. */
export interface Expanded extends System {
  readonly firstSource: number;
}

export const withSources = (system: System): Expanded => {
  const { readings, balances, sources = 0 } = system;
  if (sources === 0) return { readings, balances, firstSource: readings.length };
  const none: Reading = { value: 0, u: 1 };
  return {
    readings: [...readings, ...Array.from({ length: sources }, () => none)],
    balances: balances.map((balance) => withErrors(balance, readings)),
    firstSource: readings.length,
  };
};

/** x = reading − Σ size × source, put in for x. */
const withErrors = ({ variables, coefficients, constant }: Balance, readings: readonly Reading[]): Balance => {
  const more = { variables: [...variables], coefficients: [...coefficients], constant };
  for (let at = 0; at < variables.length; at++) {
    const { value, shared } = readings[variables[at]!]!;
    if (value === undefined || !shared) continue;
    for (const { source, size } of shared) {
      more.variables.push(readings.length + source);
      more.coefficients.push(-size * coefficients[at]!);
    }
  }
  return more;
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
