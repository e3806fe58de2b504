/** What a sum, a place and a decision take from what they are made of. */
import { expect, test } from 'vitest';
import { airDensityCipm } from '../../server/quantity/buoyancy';
import { decimal, decimalsOf } from '../../server/quantity/decimal';
import { add, exact, guess, type Measured, measured, uncertainty, withError } from '../../server/quantity/measured';
import { showPercent, showQuantity } from '../../server/quantity/show';
import { differ, weighed } from '../../server/quantity/weighing';

const read = (grams: string, division: number): Measured => weighed(decimal(grams), division, undefined, 'reading');

test('a sum is as fine as its finest part, and of no known place where one part is', () => {
  expect(add(read('58.16', 0.01), read('3.120', 0.001)).places).toBe(3);
  expect(add(read('58.16', 0.01), exact(decimal('0.1234'))).places).toBe(4);
  expect(add(read('58.16', 0.01), exact(decimal('2'))).places).toBe(2);
  expect(add(read('58.16', 0.01), measured(decimal('1.5'), 0.2, 'estimate')).places).toBeUndefined();
});

test.each([
  [0.01, 2],
  [0.02, 2],
  [0.05, 2],
  [0.001, 3],
  [0.5, 1],
  [1, 0],
  [10, 0],
])('a scale of %s g is read to %s places', (division, places) => {
  expect(read('100', division).places).toBe(places);
});

test('a sum is a guess where one part is, and only then', () => {
  const [a, b] = [read('58.16', 0.01), read('3.12', 0.01)];
  expect(add(a, b).guessed).toBe(false);
  expect(add(a, guess(b)).guessed).toBe(true);
});

test('an error that all parts share adds up, few or many of them; their own go by the root', () => {
  const shared = { label: 'adjustment' };
  for (const count of [2, 5, 40]) {
    const parts = Array.from({ length: count }, () => withError(exact(decimal(10)), shared, 0.01));
    expect(uncertainty(add(...parts))).toBeCloseTo(0.01 * count, 12);
    const own = Array.from({ length: count }, (_, at) => measured(decimal(10), 0.01, `reading ${at}`));
    expect(uncertainty(add(...own))).toBeCloseTo(0.01 * Math.sqrt(count), 12);
    const both = own.map((one) => withError(one, shared, 0.02));
    expect(uncertainty(add(...both))).toBeCloseTo(Math.hypot(0.01 * Math.sqrt(count), 0.02 * count), 12);
  }
});

test('a difference just as large as the limit is explained', () => {
  const [before, after] = [measured(decimal(10), 0.03, 'one'), measured(decimal('10.1'), 0.04, 'other')];
  expect(differ(before, after, 2, [0, 0]).explained).toBe(true);
  expect(differ(before, { ...after, value: decimal('10.1001') }, 2, [0, 0]).explained).toBe(false);
});

test('carbon dioxide is heavier than air', () => {
  const weather = { celsius: 20, hectopascal: 1013.25, humidityPercent: 50 };
  expect(airDensityCipm(weather, 0.001)).toBeGreaterThan(airDensityCipm(weather, 0.0004));
});

test('a share without a ± is shown to two places, to one where no more are asked for', () => {
  expect(showPercent(0.12346, 0)).toBe('12.35 %');
  expect(showPercent(0.12346, 0, 1)).toBe('12.3 %');
  expect(showPercent(0.12346, 0, 4)).toBe('12.35 %');
});

test('a ± keeps two digits below 1.95 and one from there on', () => {
  const shown = (half: number): string => showQuantity(measured(decimal('100.0000'), half / 2, 'estimate'), 'g');
  expect(shown(0.194)).toBe('100.00 g ±0.19');
  expect(shown(0.196)).toBe('100.0 g ±0.2');
});

test('digits after a point that nothing stands before', () => {
  expect([decimalsOf('.5'), decimalsOf('58.10'), decimalsOf('7')]).toEqual([1, 2, 0]);
});
