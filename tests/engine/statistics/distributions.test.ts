/** Distributions at their edges and far out. Figures by mpmath at 40 digits if nothing else is said. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  chiSquaredProbability,
  chiSquaredQuantile,
  chiSquaredUpperTail,
  normalProbability,
  normalQuantile,
  normalUpperQuantile,
  normalUpperTail,
  studentProbability,
  studentQuantile,
  studentUpperTail,
} from '../../../server/engine/statistics/distributions';
import { lowerBeta } from '../../../server/engine/statistics/special';
import { near } from '../../support/cases';

describe('the normal', () => {
  test('what is not above is below, on either side of the middle', () => {
    near(normalUpperTail(1), 0.15865525393145705, 1e-15);
    near(normalUpperTail(-1), 0.8413447460685429, 1e-15);
    near(normalUpperTail(0), 0.5, 1e-16);
  });

  test('far out nothing is left, and no figure becomes none', () => {
    expect([normalProbability(100), normalProbability(Infinity), normalUpperTail(-100)]).toEqual([1, 1, 1]);
    expect([normalProbability(-Infinity), normalUpperTail(Infinity)]).toEqual([0, 0]);
  });

  test.each([
    [0.3, 0.5244005127080408],
    [0.01, 2.326347874040841],
    [1e-20, 9.262340089798407],
    [1e-100, 21.273453560965326],
  ])('a tail of %d begins at %d', (tail, z) => {
    near(normalUpperQuantile(tail) / z, 1, 1e-14);
    if (tail > 1e-12) near(normalUpperQuantile(1 - tail) / z, -1, 1e-14);
  });

  test('its edges and its middle', () => {
    expect([normalUpperQuantile(0), normalUpperQuantile(1), normalQuantile(0)]).toEqual([
      Infinity,
      -Infinity,
      -Infinity,
    ]);
    near(normalUpperQuantile(0.5), 0, 1e-15);
    for (const p of [-0.1, 1.1, Number.NaN]) {
      expect(() => normalUpperQuantile(p)).toThrow(`not at ${p}`);
      expect(() => normalQuantile(p)).toThrow(`not at ${p}`);
    }
  });
});

describe('chi-squared', () => {
  test('is never below nothing', () => {
    for (const x of [-1, 0]) expect([chiSquaredProbability(x, 3), chiSquaredUpperTail(x, 3)]).toEqual([0, 1]);
    expect([chiSquaredProbability(Infinity, 3), chiSquaredUpperTail(Infinity, 3)]).toEqual([1, 0]);
    expect([chiSquaredQuantile(0, 3), chiSquaredQuantile(1, 3)]).toEqual([0, Infinity]);
    for (const p of [-0.1, 1.1]) expect(() => chiSquaredQuantile(p, 3)).toThrow(`not at ${p}`);
  });

  test.each([
    [60, 60, 0.4757169861063199],
    [72, 72, 0.477833332653075],
    [10233, 10000, 0.050540135781027964],
    [1e8, 1e8, 0.49998119368054633],
  ])('what is left above %d of %d degrees', (x, freedom, expected) => {
    near(chiSquaredUpperTail(x, freedom), expected, freedom < 100 ? 5e-15 : 2e-12);
  });

  test('of either tail the smallness is kept', () => {
    near(chiSquaredQuantile(1e-12, 4) / 2.8284284580803877e-6, 1, 1e-12);
    near(chiSquaredQuantile(1 - 1e-12, 4) / 62.19979205810759, 1, 1e-12);
  });
});

describe("Student's t", () => {
  test('lies as often above as below', () => {
    near(studentUpperTail(2, 5), 0.05096973941492918, 1e-15);
    near(studentUpperTail(-2, 5), 0.9490302605850708, 1e-15);
    near(studentProbability(-2, 5), 0.05096973941492918, 1e-15);
    near(studentUpperTail(0.001, 3), 0.49963244748473046, 1e-12);
    expect([studentUpperTail(0, 5), studentProbability(0, 5)]).toEqual([0.5, 0.5]);
  });

  test('of one degree is an angle, of two a root', () => {
    fc.assert(
      fc.property(fc.double({ min: -50, max: 50, noNaN: true }), (t) => {
        near(studentProbability(t, 1), 0.5 + Math.atan(t) / Math.PI, 1e-13);
        near(studentProbability(t, 2), 0.5 + t / (2 * Math.sqrt(2 + t * t)), 1e-13);
      }),
    );
    near((0.5 - studentUpperTail(1e-8, 1)) / (1e-8 / Math.PI), 1, 1e-7);
    near(studentQuantile(0.975, 2), 4.302652729749464, 1e-13);
  });

  test('its edges and its middle', () => {
    expect([0, 0.5, 1].map((p) => studentQuantile(p, 4))).toEqual([-Infinity, 0, Infinity]);
    for (const p of [-0.1, 1.1]) expect(() => studentQuantile(p, 4)).toThrow(`not at ${p}`);
  });
});

describe('the incomplete beta function', () => {
  test('of one and many, with a closed form', () => {
    // I_x(1, b) = 1 − (1 − x)ᵇ and I_x(a, 1) = xᵃ.
    near(lowerBeta(1, 1e6, 1e-6), 0.6321207427683548, 1e-14);
    near(lowerBeta(1e6, 1, 1 - 1e-6), 0.36787925722106646, 1e-14);
    near(lowerBeta(0.5, 500, 0.001), 0.6826895526902826, 1e-13);
  });

  test('of whole numbers, as tosses of a coin', () => {
    // Four or more heads of ten: 848 of 1024.
    near(lowerBeta(4, 7, 0.5), 848 / 1024, 1e-14);
    near(lowerBeta(7, 4, 0.5), 176 / 1024, 1e-14);
    expect([lowerBeta(4, 7, 0), lowerBeta(4, 7, 1)]).toEqual([0, 1]);
  });
});
