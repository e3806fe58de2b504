import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  chiSquareBelow,
  chiSquarePoint,
  normalBelow,
  normalPoint,
  studentPoint,
} from '../../server/quantity/distributions';
import { near } from '../support/cases';

describe('distributions', () => {
  // Second opinion: scipy 1.17.1, norm.ppf, t.ppf, chi2.ppf.
  test.each([
    [0.001, -3.090232306167813],
    [0.025, -1.9599639845400545],
    [0.5, 0],
    [0.84, 0.994457883209753],
    [0.9999, 3.719016485455709],
  ])('normal, %d', (share, point) => near(normalPoint(share), point, 1e-11));

  test.each([
    [0.975, 1, 12.706204736174694],
    [0.975, 2.5, 3.5746548420036817],
    [0.995, 16, 2.9207816224251],
    [0.95, 4, 2.1318467863266495],
    [0.05, 4, -2.1318467863266495],
    [0.999, 30, 3.3851848668293045],
    [0.975, 1000, 1.9623390808264083],
  ])('Student, %d with %d', (share, freedom, point) =>
    near(studentPoint(share, freedom), point, 1e-11 * (1 + Math.abs(point))),
  );

  test.each([
    [0.95, 1, 3.841458820694124],
    [0.95, 4, 9.487729036781154],
    [0.05, 3, 0.35184631774927144],
    [0.99, 28, 48.27823577031548],
    [0.5, 1000, 999.333412403381],
    [0.999, 2, 13.815510557964274],
  ])('chi-square, %d with %d', (share, freedom, point) =>
    near(chiSquarePoint(share, freedom), point, 1e-11 * (1 + point)),
  );

  test('two squares are an exponential; one square is the normal', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.001, max: 30, noNaN: true }), (x) => {
        near(chiSquareBelow(x, 2), 1 - Math.exp(-x / 2), 1e-13);
        near(chiSquareBelow(x * x, 1), normalBelow(x) - normalBelow(-x), 1e-13);
      }),
    );
  });

  test.each([0, 1, -0.1, Number.NaN])('no point at %d', (share) => {
    for (const point of [normalPoint, (p: number) => studentPoint(p, 4), (p: number) => chiSquarePoint(p, 4)]) {
      expect(() => point(share)).toThrow(RangeError);
    }
  });
});
