/** Charts of losses: published examples through the whole way, logarithms, and how often chance alone is remarked on. */
import { describe, expect, test } from 'vitest';
import type { Done } from '../../../server/engine/longview/done';
import { chartSettings, lossSeries, RECENT } from '../../../server/engine/longview/series';
import { NO_WORKSHOP } from '../../../server/engine/workshop';
import file from '../../fixtures/measurement/charts.json';
import { near } from '../../support/cases';
import { normal, seeded } from '../../support/random';

const SETTINGS = chartSettings(NO_WORKSHOP.limits);

/** Steps of one kind that lost these shares. */
const done = (shares: readonly number[]): Done[] =>
  shares.map((share) => ({ series: 'cast', loss: { share, u: 0 } }) as unknown as Done);

const seriesOf = (shares: readonly number[]) => lossSeries(done(shares), SETTINGS)[0]!;

describe('limits', () => {
  test('of a published chart of individuals', () => {
    const { inputs, expected } = file.cases.find(({ id }) => id === 'cc-imr-flow')! as unknown as {
      inputs: { x: number[] };
      expected: { LCL: number; UCL: number; mean: number };
    };
    const { limits, centre, byLogarithms } = seriesOf(inputs.x);
    near(centre, expected.mean, 1e-6);
    // The handbook divides by 1.128, here it is 2/√π.
    near(limits!.low, expected.LCL, 0.005);
    near(limits!.high, expected.UCL, 0.005);
    expect(byLogarithms).toBe(false);
  });

  test('of losses that span a decade are made on their logarithms, and stay above nought', () => {
    const { limits, byLogarithms, centre } = seriesOf([0.001, 0.02, 0.004, 0.002, 0.009, 0.001, 0.003, 0.006]);
    expect(byLogarithms).toBe(true);
    expect(limits!.low).toBeGreaterThan(0);
    expect(centre).toBeLessThan(0.005);
  });

  test('of losses that lie evenly, of which one is nearly nought, are made on the losses themselves', () => {
    // On logarithms the limits would go from 0.03 to 131 %: to lose all would be as usual.
    const { limits, byLogarithms } = seriesOf([0.03, 0.052, 0.021, 0.0004, 0.038, 0.024, 0.046, 0.017, 0.033]);
    expect(byLogarithms).toBe(false);
    expect(limits!.high).toBeLessThan(0.1);
  });

  test('are none of fewer than eight', () => {
    expect(seriesOf([0.1, 0.2, 0.1, 0.3, 0.2, 0.1, 0.2]).limits).toBeUndefined();
  });

  test('of losses that are all alike are that loss, and nothing runs', () => {
    expect(seriesOf(Array.from({ length: 12 }, () => 0.01))).toMatchObject({ runs: [], ewmaBeyond: [], rises: [] });
  });
});

describe('which series there are', () => {
  const of = (series: string, share: number | undefined): Done =>
    ({ series, loss: share === undefined ? undefined : { share, u: 0 } }) as unknown as Done;

  test('the longest first, of two as long by name; a step of which no loss is known is in none', () => {
    const all = [of('wash', 0.1), of('melt', 0.1), of('cast', 0.1), of('melt', undefined), of('wash', 0.2)];
    const found = lossSeries([...all, of('burn', 0.3), of('dry', undefined)], SETTINGS);
    expect(found.map(({ name, values }) => [name, values])).toEqual([
      ['wash', [0.1, 0.2]],
      ['burn', [0.3]],
      ['cast', [0.1]],
      ['melt', [0.1]],
    ]);
  });
});

describe('logarithms', () => {
  // Ten times the least is a decade; without the last it is not quite one.
  const skewed = [0.001, 0.0012, 0.0011, 0.0013, 0.0012, 0.0015, 0.002];

  test('are taken from a decade on', () => {
    expect(seriesOf([...skewed, 0.01]).byLogarithms).toBe(true);
    expect(seriesOf([...skewed, 0.0099]).byLogarithms).toBe(false);
  });

  test('of nothing lost there are none, nor of a gain', () => {
    expect(seriesOf([...skewed, 0.01, 0]).byLogarithms).toBe(false);
    expect(seriesOf([...skewed, 0.01, -0.001]).byLogarithms).toBe(false);
  });
});

describe('runs and moving averages', () => {
  const turns = (count: number, at = 0): number[] =>
    Array.from({ length: count }, (_, each) => at + [1, 0, -1][each % 3]!);

  test('nine in a row on one side are told at the ninth', () => {
    // The mean lies between the two halves.
    const { runs } = seriesOf([...turns(12, -2), ...turns(9, 2)]);
    expect(runs.map(({ test: { says }, at }) => [says, at])).toContainEqual(['nine in a row on one side', 8]);
    expect(seriesOf([...turns(8, -2), ...turns(8, 2)]).runs).toEqual([]);
  });

  test('are looked for among the last thirty alone', () => {
    const early = [...turns(12, -4), ...turns(60)];
    expect(RECENT).toBe(30);
    expect(seriesOf(early)).toMatchObject({ runs: [], ewmaBeyond: [] });
    const late = seriesOf([...turns(60), ...turns(12, -4)]);
    // The mean of all is −0.67: the last of the first sixty lies below it too, and 1, 0, −1, −3, −4, −5 fall.
    expect(late.runs.map(({ test: { says }, at }) => [says, at])).toEqual([
      ['nine in a row on one side', 67],
      ['six in a row rising or falling', 62],
    ]);
    // The average of a fifth of each new figure crosses its limit after the change and stays beyond it.
    expect(late.ewmaBeyond.length).toBeGreaterThan(5);
    expect(late.ewmaBeyond.every((at) => at >= 60)).toBe(true);
    expect(late.ewmaBeyond.at(-1)).toBe(71);
    // Beyond since long before, it is told from the first of the last thirty on.
    expect(seriesOf([...turns(30), ...turns(42, -4)]).ewmaBeyond[0]).toBe(42);
  });

  test('of seven figures nothing is told', () => {
    expect(seriesOf([1, 2, 3, 4, 5, 6, 7])).toMatchObject({ runs: [], ewmaBeyond: [] });
    expect(seriesOf([1, 2, 3, 4, 5, 6, 7, 8]).runs.map(({ test: { says }, at }) => [says, at])).toEqual([
      ['six in a row rising or falling', 5],
    ]);
  });
});

describe('honest noise', () => {
  test('shows a run in one kind of nine, a moving average beyond in one of twenty, however long the record is', () => {
    for (const length of [RECENT, 10 * RECENT]) {
      const random = seeded(12);
      const kinds = 500;
      let [runs, averages] = [0, 0];
      for (let kind = 0; kind < kinds; kind++) {
        const found = seriesOf(Array.from({ length }, () => 5 + normal(random)));
        runs += found.runs.length > 0 ? 1 : 0;
        averages += found.ewmaBeyond.length > 0 ? 1 : 0;
      }
      console.log(`${length} losses: ${runs} of ${kinds} kinds show a run, ${averages} a moving average beyond`);
      expect(runs / kinds).toBeLessThan(0.16);
      expect(averages / kinds).toBeLessThan(0.09);
    }
  });
});
