import { describe, expect, test } from 'vitest';
import { globalTest } from '../../../server/engine/reconcile/gross';
import { type MetalNetwork, type MetalResult, reconcileMetals } from '../../../server/engine/reconcile/metals';
import { type MadeHistory, madeHistory } from '../../support/history';
import { seeded } from '../../support/random';

const near = (found: number | undefined, expected: number, tolerance: number): void => {
  expect(Math.abs(found! - expected), `${found} against ${expected}`).toBeLessThanOrEqual(tolerance);
};

/** What of the balances and bounds is broken, in grams: the largest. */
const worstBreach = ({ streams, nodes, metals }: MetalNetwork, found: MetalResult): number => {
  let worst = 0;
  const closing = (of: (stream: number) => number | undefined): void => {
    const sums: (number | undefined)[] = Array.from({ length: nodes }, () => 0);
    for (const [stream, { from, to }] of streams.entries()) {
      const value = of(stream);
      if (to !== undefined) sums[to] = value === undefined || sums[to] === undefined ? undefined : sums[to] + value;
      if (from !== undefined)
        sums[from] = value === undefined || sums[from] === undefined ? undefined : sums[from] - value;
    }
    for (const sum of sums) worst = Math.max(worst, Math.abs(sum ?? 0));
  };
  closing((stream) => found.mass(stream).value);
  for (let metal = 0; metal < metals; metal++) closing((stream) => found.metal(stream, metal).value);
  for (const stream of streams.keys()) {
    let rest = found.mass(stream).value;
    for (let metal = 0; metal < metals; metal++) {
      const part = found.metal(stream, metal).value;
      worst = Math.max(worst, -(part ?? 0));
      rest = rest === undefined || part === undefined ? undefined : rest - part;
    }
    worst = Math.max(worst, -(rest ?? 0), -(found.mass(stream).value ?? 0));
  }
  return worst;
};

const solve = (made: MadeHistory): MetalResult => reconcileMetals({ ...made, metals: 2 });

describe('mass and fineness', () => {
  test('what came out tells what went in', () => {
    // Lot of 100 g into a bead of 60 g at 990 and a slag of 40 g with 1 % gold: 59.4 + 0.4 of 100.
    const found = reconcileMetals({
      nodes: 1,
      metals: 1,
      streams: [
        { value: 100, u: 0.01, to: 0, composition: 0 },
        { value: 60, u: 0.01, from: 0, composition: 1 },
        { from: 0, composition: 2 },
      ],
      compositions: [[{}], [{ value: 0.99, u: 0.001 }], [{ value: 0.01, u: 0.002 }]],
    });
    near(found.mass(2).value, 40, 1e-9);
    near(found.fineness(0, 0).value, 0.598, 1e-9);
    expect([found.fineness(0, 0).standing, found.mass(0).standing]).toEqual(['inferred', 'unchecked']);
    // By first order: f = (b B + s S)/F with S = F − B, so f = s + B (b − s)/F.
    const parts = [0.6 * 0.001, 0.4 * 0.002, (0.98 / 100) * 0.01, ((60 * 0.98) / 100 ** 2) * 0.01];
    near(found.fineness(0, 0).u, Math.hypot(...parts), 1e-9);
  });

  test('two products and three assays tell both weights', () => {
    // 100 g at 500 into one at 990 and one at 10: the two-product formula, c(f − t)/(f(c − t)) of the gold in the first.
    const found = reconcileMetals({
      nodes: 1,
      metals: 1,
      streams: [
        { value: 100, u: 0.01, to: 0, composition: 0 },
        { from: 0, composition: 1 },
        { from: 0, composition: 2 },
      ],
      compositions: [[{ value: 0.5, u: 0.001 }], [{ value: 0.99, u: 0.001 }], [{ value: 0.01, u: 0.001 }]],
    });
    near(found.mass(1).value, (100 * (0.5 - 0.01)) / (0.99 - 0.01), 1e-7);
    near(found.metal(1, 0).value! / 50, (0.99 * (0.5 - 0.01)) / (0.5 * (0.99 - 0.01)), 1e-8);
    expect(found.freedom).toBe(0);
  });

  test('the pieces of a lot share its one assay', () => {
    const found = reconcileMetals({
      nodes: 2,
      metals: 1,
      streams: [
        { value: 30, u: 0.01, to: 0, composition: 0 },
        { value: 50, u: 0.01, to: 1, composition: 0 },
        { value: 30, u: 0.01, from: 0, composition: 1 },
        { value: 50, u: 0.01, from: 1, composition: 2 },
      ],
      compositions: [[{}], [{ value: 0.8, u: 0.001 }], [{}]],
    });
    near(found.fineness(0, 0).value, 0.8, 1e-9);
    near(found.fineness(2, 0).value, 0.8, 1e-9);
    near(found.fineness(2, 0).u, found.fineness(0, 0).u!, 1e-4);
    expect(found.fineness(2, 0).standing).toBe('inferred');
  });

  test('two assays of one metal that disagree are shared by their uncertainties', () => {
    const found = reconcileMetals({
      nodes: 1,
      metals: 1,
      streams: [
        { value: 10, u: 0, to: 0, composition: 0 },
        { value: 10, u: 0, from: 0, composition: 1 },
      ],
      compositions: [[{ value: 0.9, u: 0.003 }], [{ value: 0.91, u: 0.004 }]],
    });
    // Weights 16 : 9 of 25.
    near(found.fineness(0, 0).value, 0.9036, 1e-9);
    near(found.fineness(0, 0).u, 0.0024, 1e-9);
    near(found.gamma, 4, 1e-7);
  });

  test('no fineness above pure, nothing negative', () => {
    const network: MetalNetwork = {
      nodes: 1,
      metals: 1,
      streams: [
        { value: 50, u: 0.01, to: 0, composition: 0 },
        { value: 49, u: 0.01, from: 0, composition: 1 },
        { value: 0.9, u: 0.5, from: 0, composition: 2 },
      ],
      compositions: [[{ value: 0.9995, u: 0.0002 }], [{ value: 0.9996, u: 0.0002 }], [{}]],
    };
    // As read the slag of 1 g held 49.975 − 48.98 = 0.995 g; make the bead richer than all that came.
    const richer = { ...network, compositions: [[{ value: 0.97, u: 0.0002 }], [{ value: 0.9996, u: 0.0002 }], [{}]] };
    for (const each of [network, richer]) {
      const found = reconcileMetals(each);
      expect(found.converged).toBe(true);
      expect(worstBreach(each, found)).toBeLessThan(1e-8);
    }
    expect(reconcileMetals(richer).held).toEqual([{ stream: 2, metal: 0 }]);
    near(reconcileMetals(richer).fineness(2, 0).value, 0, 1e-9);
    // How far below nothing it might seem to lie is no knowledge: the uncertainty stays what it was.
    expect(reconcileMetals(richer).metal(2, 0).u).toBeGreaterThan(0.01);
  });

  test('where nothing is assayed, nothing is told', () => {
    const made = madeHistory(1, 10);
    const found = solve({ ...made, compositions: made.compositions.map(() => []) });
    for (const composition of made.compositions.keys()) expect(found.fineness(composition, 0).standing).toBe('unknown');
    expect(() => solve({ ...made, compositions: [] })).toThrow(RangeError);
  });

  test('an order of metals or streams changes nothing', () => {
    const made = madeHistory(3, 12);
    const found = solve(made);
    const back = [...made.streams.keys()].reverse();
    const other = solve({
      ...made,
      streams: back.map((stream) => made.streams[stream]!),
      compositions: made.compositions.map((fractions) => [fractions[1] ?? {}, fractions[0] ?? {}]),
    });
    near(other.gamma, found.gamma, 1e-6 * found.gamma);
    for (const [place, stream] of back.entries()) {
      const [one, same] = [found.mass(stream), other.mass(place)];
      expect(same.standing).toBe(one.standing);
      if (one.value !== undefined) near(same.value, one.value, 1e-6);
      const [gold, alsoGold] = [found.metal(stream, 0), other.metal(place, 1)];
      expect(alsoGold.standing).toBe(gold.standing);
      if (gold.value !== undefined) near(alsoGold.value, gold.value, 1e-6);
    }
  });
});

test('simulated histories, with seeded noise: balances, bounds, uncertainties and gamma', () => {
  const sums = { scores: 0, within: 0, count: 0, gamma: 0, freedom: 0, alarms: 0, runs: 0, unsettled: 0 };
  for (let run = 0; run < 120; run++) {
    const made = madeHistory(1000 + run, 12, { assayed: 0.5 });
    const found = solve(made);
    sums.runs++;
    if (!found.converged) sums.unsettled++;
    expect(worstBreach({ ...made, metals: 2 }, found)).toBeLessThan(1e-6);
    sums.gamma += found.gamma;
    sums.freedom += found.freedom;
    if (!globalTest(found).passes) sums.alarms++;
    for (const [composition, fineness] of made.trueFineness.entries()) {
      for (const metal of [0, 1]) {
        const { value, u } = found.fineness(composition, metal);
        if (value === undefined || !(u! > 1e-12)) continue;
        const score = (value - fineness[metal]!) / u!;
        sums.scores += score * score;
        sums.within += Math.abs(score) <= 1.96 ? 1 : 0;
        sums.count++;
      }
    }
  }
  expect(sums.unsettled).toBe(0);
  expect(sums.count).toBeGreaterThan(3000);
  // Bounds make some errors smaller than their stated uncertainty, never larger.
  expect(Math.sqrt(sums.scores / sums.count)).toBeGreaterThan(0.9);
  expect(Math.sqrt(sums.scores / sums.count)).toBeLessThan(1.05);
  expect(sums.within / sums.count).toBeGreaterThan(0.94);
  expect(Math.abs(sums.gamma / sums.freedom - 1)).toBeLessThan(0.06);
  // Of 120 at 5 %: 6, give or take 3 × √(120 × 0.05 × 0.95) = 7.
  expect(sums.alarms).toBeLessThanOrEqual(13);
});

test('what nothing but rounding checks is not checked', () => {
  for (let seed = 0; seed < 60; seed++) {
    const made = madeHistory(seed, 3 + (seed % 40), { assayed: 0.1 + 0.7 * (seed % 2) });
    const random = seeded(seed);
    const streams = made.streams.map((stream, at) =>
      stream.value === undefined || random.next() < 0.3
        ? stream
        : { ...stream, shared: [{ source: at % 2, size: 0.02 * random.next() }] },
    );
    // Lots of nothing but gold and silver, so that many bounds hold.
    const compositions = made.compositions.map(([gold, silver]) =>
      gold?.value && gold.value > 0.2
        ? [gold, { value: 1 - gold.value + 0.001 * (random.next() - 0.3), u: 0.001 }]
        : [gold ?? {}, silver ?? {}],
    );
    const { result } = reconcileMetals({ ...made, streams, compositions, metals: 2, sources: 2 });
    for (const [variable, leverage] of result.evidence.leverage.entries()) {
      const { value, u } = result.system.readings[variable]!;
      if (value === undefined || !u || leverage === 0) continue;
      expect(leverage * u * u, `${variable} in ${seed}`).toBeGreaterThan(1e-12);
    }
  }
});
