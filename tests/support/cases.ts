/** Published cases from a fixture: taken by name, so that a case which no test takes is noticed. */
import { expect } from 'vitest';
import { type Decimal, decimal } from '../../server/quantity/decimal';

export interface Case<Inputs, Expected> {
  readonly id: string;
  readonly inputs: Inputs;
  readonly expected: Expected;
  /** Absolute; 0 for exact. */
  readonly tolerance: number;
}

export interface Cases {
  readonly take: <Inputs, Expected>(id: string) => Case<Inputs, Expected>;
  /** Names of those that were not taken. */
  readonly left: () => readonly string[];
}

export const openCases = (file: { readonly cases: readonly { readonly id: string }[] }): Cases => {
  const left = new Set(file.cases.map(({ id }) => id));
  const take = <Inputs, Expected>(id: string): Case<Inputs, Expected> => {
    const found = file.cases.find((one) => one.id === id);
    if (!found) throw new Error(`no case ${id}`);
    left.delete(id);
    return found as unknown as Case<Inputs, Expected>;
  };
  return { take, left: () => [...left] };
};

export const near = (actual: number, expected: number, tolerance: number): void => {
  expect(Math.abs(actual - expected), `${actual} is ${expected} ± ${tolerance}`).toBeLessThanOrEqual(tolerance);
};

/** Equal as an exact number: `12.50` is `12.5`, `192/175` the fraction. */
export const same = (actual: Decimal, expected: string): void => {
  const [over, under = '1'] = expected.split('/');
  expect(actual.minus(decimal(over!).div(under)).abs().lt('1e-50'), `${actual} is ${expected}`).toBe(true);
};
