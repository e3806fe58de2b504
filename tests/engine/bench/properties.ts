/** Ranges of figures that the bench may meet, and what every answer of it must keep to. */
import fc from 'fast-check';
import { expect } from 'vitest';
import type { Estimate, Result } from '../../../server/engine/bench/result';

export const grams = fc.double({ min: 0.1, max: 5000, noNaN: true });
export const fraction = fc.double({ min: 0, max: 1, noNaN: true });
export const within = (min: number, max: number) => fc.double({ min, max, noNaN: true });

/** Best between its bounds, and all of them numbers. */
export function ordered({ low, best, high }: Estimate): void {
  expect(low).toBeLessThanOrEqual(best + 1e-9 * Math.abs(best));
  expect(best).toBeLessThanOrEqual(high + 1e-9 * Math.abs(high));
  expect(Number.isNaN(low + best + high)).toBe(false);
}

export function close(found: number, expected: number, relative = 1e-9): void {
  expect(Math.abs(found - expected), `${found} is ${expected}`).toBeLessThanOrEqual(
    relative * Math.max(1, Math.abs(expected)),
  );
}

/** An answer's value; the test fails with the reason where there is none. */
export function given<T>(result: Result<T>): T {
  if (!('assumed' in result)) throw new Error(result.reason);
  expect(result.assumed.every(({ says, source }) => says !== '' && source !== '')).toBe(true);
  return result.value;
}

/** No answer, and a reason without a full stop. */
export function refused<T>(result: Result<T>): void {
  expect(result.value).toBeUndefined();
  expect(result.reason).toMatch(/[^.]$/);
}
