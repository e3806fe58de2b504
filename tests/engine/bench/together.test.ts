/** Constituents within their bounds, all together no more than the whole. */
import { describe, expect, it } from 'vitest';
import { heldTogether } from '../../../server/engine/bench/together';

describe('what a material holds', () => {
  const concentrate = [
    { what: 'FeS2', fraction: 0.6, low: 0.2, high: 0.9 },
    { what: 'SiO2', fraction: 0.2, low: 0.05, high: 0.5 },
    { what: 'FeAsS', fraction: 0.05, low: 0, high: 0.3 },
    { what: 'CuFeS2', fraction: 0.05, low: 0, high: 0.3 },
  ];
  const sulphide = (what: string): number => (what === 'SiO2' ? 0 : 1);

  it('is never more than the least of the others leaves', () => {
    expect(heldTogether(concentrate, sulphide)).toEqual({
      low: 0.2,
      best: expect.closeTo(0.7),
      high: expect.closeTo(0.95),
    });
  });

  it('takes what is worth most first', () => {
    // 0.9 pyrite at 2.5, then 0.05 chalcopyrite at 1.9.
    const niter = (what: string): number => ({ FeS2: 2.5, CuFeS2: 1.9, FeAsS: 1.7 })[what] ?? 0;
    expect(heldTogether(concentrate, niter).high).toBeCloseTo(0.9 * 2.5 + 0.05 * 1.9);
  });

  it('counts the rest, whose make is not known, at the most', () => {
    expect(heldTogether([{ what: 'SiO2', fraction: 0.5 }], () => 1, 1)).toEqual({ low: 0.5, best: 0.5, high: 1 });
  });
});
