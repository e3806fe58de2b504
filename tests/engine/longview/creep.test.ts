/** Shifts of a level: what must hold whatever the figures are. How often and how soon one is told is in `tests/rules/looking-back.test.ts`. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { DEFAULT_CUSUM, leaningsIn, risesIn } from '../../../server/engine/longview/creep';

const figures = (least: number): fc.Arbitrary<number[]> =>
  fc.array(fc.integer({ min: -50, max: 50 }), { minLength: least, maxLength: 60 });

const LEAN = [3, 1, 4, 2, 5, 1, 3, 2, 4, 6, 2, 3, 5, 1, 2, 4];
const LEVEL = [5, 3, 6, 4, 5, 2, 6, 5, 4, 3, 6, 5, 4, 6, 3, 5];

describe('a scale that leans to one side', () => {
  const up = leaningsIn(LEAN, DEFAULT_CUSUM);

  test('is told where its sum passes the limit, from where that began', () => {
    expect(up.length).toBeGreaterThan(0);
    const [{ from, began, told, side } = up[0]!] = up;
    expect([from, began, side]).toEqual([0, 0, 'up']);
    expect(leaningsIn(LEAN.slice(0, told + 1), DEFAULT_CUSUM)).toEqual([up[0]]);
    expect(leaningsIn(LEAN.slice(0, told), DEFAULT_CUSUM)).toEqual([]);
  });

  test('the other way leans the other way', () => {
    fc.assert(
      fc.property(figures(1), (all) => {
        const turned = leaningsIn(
          all.map((one) => -one),
          DEFAULT_CUSUM,
        );
        const other = { up: 'down', down: 'up' } as const;
        expect(leaningsIn(all, DEFAULT_CUSUM)).toEqual(turned.map((one) => ({ ...one, side: other[one.side] })));
      }),
    );
  });

  test('is told by the figures that differ: those that are nought stand between and count for nothing', () => {
    const between = LEAN.flatMap((one) => [0, one]);
    const at = (place: number): number => 2 * place + 1;
    expect(leaningsIn(between, DEFAULT_CUSUM)).toEqual(
      up.map((one) => ({ ...one, from: at(one.from), began: at(one.began), told: at(one.told) })),
    );
    expect(leaningsIn([0, 0, 0], DEFAULT_CUSUM)).toEqual([]);
  });

  test('begins anew behind what was told', () => {
    const [{ told } = up[0]!] = up;
    const twice = leaningsIn([...LEAN.slice(0, told + 1), ...LEAN], DEFAULT_CUSUM);
    expect(twice[1]).toEqual({ ...up[0], from: told + 1, began: told + 1, told: 2 * told + 1 });
  });

  test('of two sides the one that passes first is told first', () => {
    const down = LEAN.map((one) => -one);
    expect(leaningsIn([...down, ...LEAN, ...LEAN, ...LEAN], DEFAULT_CUSUM)[0]?.side).toBe('down');
    expect(leaningsIn([...LEAN, ...down, ...down, ...down], DEFAULT_CUSUM)[0]?.side).toBe('up');
  });
});

describe('a level that rises', () => {
  const risen = [...LEVEL, ...LEVEL.map((one) => one + 8)];

  test('is told once, and where it rose', () => {
    const rises = risesIn(risen, DEFAULT_CUSUM);
    expect(rises).toHaveLength(1);
    expect(rises[0]).toMatchObject({ from: 0, began: LEVEL.length, side: 'up' });
    expect(risesIn(LEVEL, DEFAULT_CUSUM)).toEqual([]);
    expect(
      risesIn(
        risen.map((one) => -one),
        DEFAULT_CUSUM,
      ),
    ).toEqual([]);
  });

  test('twice is told twice, the second against what had risen', () => {
    const twice = risesIn([...risen, ...LEVEL.map((one) => one + 16)], DEFAULT_CUSUM);
    expect(twice.map(({ from, began }) => [from, began])).toEqual([
      [0, LEVEL.length],
      [LEVEL.length, 2 * LEVEL.length],
    ]);
  });

  test('is told by ranks: in which unit and from where it is counted makes nothing', () => {
    fc.assert(
      fc.property(figures(2), (all) => {
        const rises = risesIn(all, DEFAULT_CUSUM);
        expect(
          risesIn(
            all.map((one) => 1000 + 7 * one),
            DEFAULT_CUSUM,
          ),
        ).toEqual(rises);
        for (const { from, began, told } of rises) expect(from <= began && began <= told).toBe(true);
      }),
    );
  });

  test('a limit is passed, not met: past the highest sum nothing is told', () => {
    const [{ told } = { told: -1 }] = risesIn(risen, DEFAULT_CUSUM);
    const limit = (of: number) => risesIn(risen.slice(0, told + 1), { ...DEFAULT_CUSUM, limit: of });
    let [low, high] = [DEFAULT_CUSUM.limit, 100];
    for (let round = 0; round < 60; round++) {
      const middle = (low + high) / 2;
      if (limit(middle).length > 0) low = middle;
      else high = middle;
    }
    expect(high).toBeGreaterThan(DEFAULT_CUSUM.limit);
    expect(limit(high)).toEqual([]);
  });
});
