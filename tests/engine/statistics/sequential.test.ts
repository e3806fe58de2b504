/** Scores by rank: that an honest series is told of as seldom as is said, whatever its distribution. */
import { describe, expect, test } from 'vitest';
import { DEFAULT_CUSUM, leaningsIn, risesIn } from '../../../server/engine/longview/creep';
import { cusumRunLength } from '../../../server/engine/statistics/cusum';
import { sequentialScores, signedSequentialScores } from '../../../server/engine/statistics/sequential';
import { near } from '../../support/cases';
import { normal, type Random, seeded } from '../../support/random';

describe('sequential scores', () => {
  test('each by its rank among those up to it', () => {
    // Ranks 1 of 1, 2 of 2, 1 of 3, and the middle of 2 and 3 of 4.
    const [first, second, third, fourth] = sequentialScores([5, 7, 3, 5]);
    expect(first).toBe(0);
    near(second!, 0.6744897502, 1e-9); // Φ⁻¹(3/4)
    near(third!, -0.9674215661, 1e-9); // Φ⁻¹(1/6)
    near(fourth!, 0, 1e-12);
  });

  test('do not change with the unit, nor with any rising function', () => {
    const values = [0.2, 0.5, 0.1, 0.9, 0.4, 0.45];
    expect(sequentialScores(values.map((value) => Math.exp(3 * value)))).toEqual(sequentialScores(values));
  });

  test('signed: the side of nought, and the rank of the size', () => {
    const [first, nought, second] = signedSequentialScores([-0.02, 0, 0.01]);
    expect([first, nought]).toEqual([-1, 0]);
    // Φ⁻¹(1/2 + 1/8) over the root mean square of it and of Φ⁻¹(3/4).
    near(second!, 0.318639364 / Math.sqrt((0.6744897502 ** 2 + 0.318639364 ** 2) / 2), 1e-8);
  });

  test('signed: sizes that are all alike, as of one division, tell by their signs alone', () => {
    expect(signedSequentialScores([0.01, -0.01, 0, 0.01]).map((score) => Math.round(1e9 * score) / 1e9)).toEqual([
      1, -1, 0, 1,
    ]);
  });
});

/** Series that nothing happens to: how many figures pass from one alarm to the next. */
const figuresAnAlarm = (draw: (random: Random) => number, told: (values: number[]) => number): number => {
  const random = seeded(77);
  const [series, length] = [400, 200];
  let alarms = 0;
  for (let one = 0; one < series; one++) alarms += told(Array.from({ length }, () => draw(random)));
  return (series * length) / alarms;
};

describe('an honest series', () => {
  const said = cusumRunLength(DEFAULT_CUSUM.slack, DEFAULT_CUSUM.limit, 0, 1);
  const drawn: readonly [string, (random: Random) => number][] = [
    ['normal', normal],
    ['skewed as losses are', (random) => Math.exp(normal(random))],
    ['rounded to a few steps', (random) => Math.round(1.5 * normal(random))],
  ];

  test('one alarm in 2 500 figures is what is said', () => {
    expect(said).toBeGreaterThan(2500);
  });

  test.each(drawn)('of losses, %s, is told of no oftener', (_, draw) => {
    const found = figuresAnAlarm(draw, (values) => risesIn(values, DEFAULT_CUSUM).length);
    console.log(`a rise is told once in ${Math.round(found)} honest figures; ${Math.round(said)} by theory`);
    expect(found).toBeGreaterThan(0.9 * said);
  });

  test('of differences on a scale is told of no oftener on either side', () => {
    for (const draw of [
      normal,
      (random: Random) => Math.round(normal(random)),
      (random: Random) => normal(random) ** 3,
    ]) {
      const found = figuresAnAlarm(draw, (values) => leaningsIn(values, DEFAULT_CUSUM).length);
      console.log(
        `a leaning is told once in ${Math.round(found)} honest differences; ${Math.round(said / 2)} by theory`,
      );
      expect(found).toBeGreaterThan(0.45 * said);
    }
  });
});
