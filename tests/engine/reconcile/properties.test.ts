import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  biasOf,
  errorFound,
  errorLeft,
  findSuspects,
  globalTest,
  leakScores,
  readingScores,
  smallestBiasSeen,
} from '../../../server/engine/reconcile/gross';
import { type Network, networkSystem, type Stream } from '../../../server/engine/reconcile/network';
import { type Reconciled, reconcile } from '../../../server/engine/reconcile/solve';
import { madeHistory, normal } from '../../support/history';
import { randomNetwork, solveDense } from '../../support/networks';
import { seeded } from '../../support/random';

const seeds = fc.integer({ min: 0, max: 2 ** 31 });
const balancesOf = ({ system: { rows } }: Reconciled): { variables: number[]; coefficients: number[] }[] =>
  Array.from(rows.constant, (_, index) => ({
    variables: [...rows.variable.subarray(rows.start[index], rows.start[index + 1])],
    coefficients: [...rows.coefficient.subarray(rows.start[index], rows.start[index + 1])],
  }));

const solve = (network: Network): Reconciled => reconcile(networkSystem(network));

const near = (found: number | undefined, expected: number | undefined, tolerance: number, about = ''): void => {
  if (found === undefined || expected === undefined) expect([about, found]).toEqual([about, expected]);
  else expect(Math.abs(found - expected), `${about}: ${found} against ${expected}`).toBeLessThanOrEqual(tolerance);
};

describe('any network', () => {
  test('is solved as the dense way solves it', () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const system = networkSystem(randomNetwork(seed));
        const [sparse, dense] = [reconcile(system), solveDense(system)];
        expect(sparse.freedom).toBe(dense.freedom);
        near(sparse.gamma, dense.gamma, 1e-6 * (1 + dense.gamma), 'gamma');
        for (const at of system.readings.keys()) {
          near(sparse.values[at], dense.values[at], 1e-6, `value ${at}`);
          near(sparse.u[at], dense.u[at], 1e-6, `u ${at}`);
          expect(sparse.standings[at] === 'checked').toBe(dense.checked[at]);
        }
      }),
      // The example: free values whose places in the list cancel (7 + 11 - 6 - 12).
      { numRuns: 400, examples: [[1626712061]] },
    );
  });

  test('or any balances with one reading in many of them', () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const random = seeded(seed);
        const count = random.whole(7, 12);
        // One assay f shared by many: mₖ − f·cₖ − uₖ = 0, some uₖ not measured.
        const readings = [
          { value: 0.8 + 0.01 * random.next(), u: 0.004 },
          ...Array.from({ length: 2 * count }, (_, at) => {
            if (at >= count && random.next() < 0.5) return {};
            return { value: random.next(), u: 0.001 + 0.1 * random.next() };
          }),
        ];
        const balances = Array.from({ length: count }, (_, at) => ({
          variables: [0, 1 + at, 1 + count + at],
          coefficients: [-random.next() - 0.1, 1, -1],
          constant: 0,
        }));
        const [sparse, dense] = [reconcile({ readings, balances }), solveDense({ readings, balances })];
        expect(sparse.freedom).toBe(dense.freedom);
        near(sparse.gamma, dense.gamma, 1e-6 * (1 + dense.gamma), 'gamma');
        for (const at of readings.keys()) {
          near(sparse.values[at], dense.values[at], 1e-8, `value ${at}`);
          near(sparse.u[at], dense.u[at], 1e-7, `u ${at}`);
        }
        const score = readingScores(sparse)[0];
        if (score === undefined) return;
        const without = reconcile({ readings: readings.with(0, {}), balances });
        near(without.gamma, sparse.gamma - score ** 2, 1e-6 * (1 + sparse.gamma), 'without');
      }),
    );
  });

  test('balances when it is adjusted', () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const result = solve(randomNetwork(seed, { spread: 5 }));
        for (const { variables, coefficients } of balancesOf(result)) {
          if (variables.some((variable) => result.values[variable] === undefined)) continue;
          const sum = variables.reduce(
            (total, variable, at) => total + coefficients[at]! * result.values[variable]!,
            0,
          );
          expect(Math.abs(sum)).toBeLessThan(1e-9);
        }
      }),
    );
  });

  test('is the same in another order', () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const network = randomNetwork(seed);
        const random = seeded(seed + 1);
        const shuffled = <T>(list: readonly T[]): T[] =>
          list
            .map((each) => [random.next(), each] as const)
            .sort(([a], [b]) => a - b)
            .map(([, each]) => each);
        const order = shuffled([...network.streams.keys()]);
        const names = shuffled([...Array(network.nodes).keys()]);
        const rename = ({ from, to, ...reading }: Stream): Stream => ({
          ...reading,
          ...(from === undefined ? {} : { from: names[from]! }),
          ...(to === undefined ? {} : { to: names[to]! }),
        });
        const [one, other] = [
          solve(network),
          solve({ ...network, streams: order.map((at) => rename(network.streams[at]!)) }),
        ];
        near(other.gamma, one.gamma, 1e-8 * (1 + one.gamma), 'gamma');
        for (const [place, at] of order.entries()) {
          expect(other.standings[place]).toBe(one.standings[at]);
          near(other.values[place], one.values[at], 1e-9 * (1 + Math.abs(one.values[at] ?? 0)));
          // A variance that vanishes leaves the root of its rounding.
          near(other.u[place], one.u[at], 1e-6);
        }
      }),
    );
  });

  test('scales with its unit', () => {
    fc.assert(
      fc.property(seeds, fc.constantFrom(1e-3, 31.1034768, 1e6), (seed, factor) => {
        const network = randomNetwork(seed);
        const scaled = network.streams.map((stream): Stream => {
          if (stream.value === undefined) return stream;
          return { ...stream, value: stream.value * factor, u: stream.u! * factor };
        });
        const [one, other] = [solve(network), solve({ ...network, streams: scaled })];
        near(other.gamma, one.gamma, 1e-7 * (1 + one.gamma));
        for (const [at, value] of one.values.entries()) {
          expect(other.standings[at]).toBe(one.standings[at]);
          if (value !== undefined) near(other.values[at]! / factor, value, 1e-8 * (1 + Math.abs(value)));
        }
      }),
    );
  });

  test('without a reading drops by its likelihood ratio, and finds its bias', () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const network = randomNetwork(seed);
        const result = solve(network);
        const scores = readingScores(result);
        for (const [at, score] of scores.entries()) {
          if (score === undefined) continue;
          const without = solve(withoutReading(network, at));
          near(without.gamma, result.gamma - score ** 2, 1e-7 * (1 + result.gamma), 'gamma');
          expect(without.freedom).toBe(result.freedom - 1);
          near(network.streams[at]!.value! - without.values[at]!, biasOf(result, at), 1e-6, 'bias');
          // What the others say and what was read differ by the bias, with the variance of both.
          near(
            smallestBiasSeen(result, at)! / 3.2897072539,
            Math.hypot(without.u[at]!, network.streams[at]!.u!),
            1e-6,
            'spread',
          );
        }
      }),
    );
  });

  test('set aside one by one is as solved without them', () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const network = randomNetwork(seed, { nodes: 8, unmeasured: 0.1, noise: 5 });
        let left = network;
        for (const suspect of findSuspects(solve(network), { most: 6 })) {
          const before = solve(left);
          near(readingScores(before)[suspect.variable], suspect.score, 1e-5 * suspect.score, 'score');
          const worst = Math.max(...readingScores(before).map((score) => score ?? 0));
          near(suspect.score, worst, 1e-5 * worst, 'worst');
          left = withoutReading(left, suspect.variable);
          const after = solve(left);
          near(suspect.gamma, after.gamma, 1e-5 * (1 + before.gamma), 'gamma');
          expect(suspect.freedom).toBe(after.freedom);
        }
      }),
    );
  });

  test('tells the variance of sums', () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const result = solve(randomNetwork(seed, { nodes: 5 }));
        const known = [...result.values.keys()].filter((at) => result.values[at] !== undefined);
        // Two ways to one variance, each a difference of the readings' variances: of the largest of these a share of 3e-12 was the most in 340 thousand values.
        const largest = Math.max(0, ...result.system.readings.map(({ u = 0 }) => u ** 2));
        for (const variable of known) {
          const twice = result.varianceOf([{ variable, coefficient: 2 }])!;
          near(twice, 4 * result.u[variable]! ** 2, 4e-11 * largest);
        }
        // All that touches a node sums to nothing, without any doubt.
        for (const { variables, coefficients } of balancesOf(result)) {
          const terms = variables.map((variable, at) => ({ variable, coefficient: coefficients[at]! }));
          const variance = result.varianceOf(terms);
          if (variance !== undefined) expect(Math.sqrt(variance)).toBeLessThan(1e-6);
        }
      }),
    );
  });
});

describe('hard cases', () => {
  test('a value that the balances alone fix has no uncertainty, and none that rounding makes', () => {
    // Of 190 thousand values of random networks the worst: nothing can flow there, and rounding left 3e-12 of its variance.
    const result = solve(randomNetwork(729548092, { nodes: 5 }));
    expect(result.u[2]).toBe(0);
    expect(result.varianceOf([{ variable: 2, coefficient: 2 }])).toBe(0);
  });

  test('a lot of 0.05 g beside 500 g of flux', () => {
    // Flux 500 ± 1 and a bead of 0.05 ± 0.00001 go in; slag 500 ± 1 and the bead, weighed again, come out.
    const result = solve({
      nodes: 2,
      streams: [
        { value: 500, u: 1, to: 0 },
        { value: 0.05, u: 1e-5, to: 0 },
        { value: 500.4, u: 1, from: 0 },
        { value: 0.05003, u: 1e-5, from: 0, to: 1 },
        { value: 0.05001, u: 1e-5, from: 1 },
      ],
    });
    // By hand: the second node averages its two; the first shares its miss of 0.4 g by the squares of u, so half of it to flux and slag.
    near(result.values[3], 0.05002, 1e-9);
    near(result.values[4], 0.05002, 1e-9);
    near(result.values[0], 500.2, 1e-4);
    near(result.values[2], 500.2, 1e-4);
    near(result.u[3], 1e-5 / Math.SQRT2, 1e-12);
    expect(result.freedom).toBe(2);
    // The node of the flux hardly checks the bead: only an error of grams would be seen.
    expect(smallestBiasSeen(result, 1)).toBeGreaterThan(3);
    expect(smallestBiasSeen(result, 4)).toBeLessThan(1e-4);
  });

  test('exact readings stay, and are tested all the same', () => {
    const result = solve({
      nodes: 1,
      streams: [
        { value: 100, u: 0, to: 0 },
        { value: 60.3, u: 0.1, from: 0 },
        { value: 40.1, u: 0.1, from: 0 },
      ],
    });
    near(result.values[0], 100, 0);
    near(result.values[1], 60.1, 1e-12);
    near(result.values[2], 39.9, 1e-12);
    near(result.u[0], 0, 0);
    // (60.3 + 40.1 − 100)² / (0.1² + 0.1²) = 8
    near(result.gamma, 8, 1e-9);
    near(readingScores(result)[0], Math.sqrt(8), 1e-9);
    expect(findSuspects(result).map(({ variable }) => variable)).not.toContain(0);
  });

  test('exact readings may contradict each other', () => {
    const streams = [
      { value: 10, to: 0 },
      { value: 9, from: 0, to: 1 },
      { value: 9, u: 0.1, from: 1 },
    ];
    expect(solve({ nodes: 2, streams }).contradictions).toEqual([0]);
    expect(solve({ nodes: 2, streams: streams.with(0, { value: 9, to: 0 }) }).contradictions).toEqual([]);
  });

  test('tenths that do not add up in binary are no contradiction', () => {
    const streams = [
      { value: 0.1, to: 0 },
      { value: 0.2, to: 0 },
      { value: 0.3, from: 0 },
    ];
    expect(solve({ nodes: 1, streams }).contradictions).toEqual([]);
  });

  test('a bias and a leak are the same where a stream touches one step only', () => {
    const result = solve(randomNetwork(12, { nodes: 6, unmeasured: 0, noise: 3 }));
    for (const [at, { from, to }] of (result.system.readings as Stream[]).entries()) {
      if (from !== undefined && to !== undefined) continue;
      near(leakScores(result)[(from ?? to)!], readingScores(result)[at], 1e-7);
    }
  });

  test('nothing at all', () => {
    const result = solve({ nodes: 0, streams: [] });
    expect([result.gamma, result.freedom, globalTest(result).passes]).toEqual([0, 0, true]);
    expect(solve({ nodes: 3, streams: [{ value: 1, u: 1 }, {}] }).standings).toEqual(['unchecked', 'unknown']);
  });

  test('a stream to a step that is not there', () => {
    expect(() => solve({ nodes: 1, streams: [{ value: 1, to: 1 }] })).toThrow(RangeError);
    expect(() => solve({ nodes: 1, streams: [{ value: Number.NaN, to: 0 }] })).toThrow(RangeError);
  });
});

describe('simulated, with seeded noise', () => {
  test('values, uncertainties and gamma come out as promised', () => {
    const runs = 400;
    const sums = { scores: 0, count: 0, within: 0, gamma: 0, freedom: 0, alarms: 0, worst: 0 };
    for (let run = 0; run < runs; run++) {
      const made = madeHistory(run, 25);
      const result = solve(made);
      sums.gamma += result.gamma;
      sums.freedom += result.freedom;
      if (!globalTest(result).passes) sums.alarms++;
      if (findSuspects(result, { until: 'reading' }).length > 0) sums.worst++;
      for (const [at, value] of result.values.entries()) {
        if (value === undefined || result.u[at] === 0) continue;
        const score = (value - made.trueMass[at]!) / result.u[at]!;
        sums.scores += score * score;
        sums.within += Math.abs(score) <= 1.96 ? 1 : 0;
        sums.count++;
      }
    }
    expect(Math.sqrt(sums.scores / sums.count)).toBeCloseTo(1, 1);
    expect(Math.abs(sums.within / sums.count - 0.95)).toBeLessThan(0.01);
    expect(Math.abs(sums.gamma / sums.freedom - 1)).toBeLessThan(0.05);
    // Of 400 at 5 %: 20, give or take 3 × √(400 × 0.05 × 0.95) = 13.
    expect(Math.abs(sums.alarms - 20)).toBeLessThanOrEqual(13);
    // Sidak is exact for independent tests and careful for related ones.
    expect(sums.worst).toBeLessThanOrEqual(33);
  });

  test('one reading wrong by 20 of its uncertainties, where that can show, is found first', () => {
    let [tried, found] = [0, 0];
    for (let run = 0; run < 200; run++) {
      const made = madeHistory(run, 15);
      const result = solve(made);
      const random = seeded(run);
      const visible = [...made.streams.keys()].filter(
        (at) => (smallestBiasSeen(result, at) ?? Infinity) < 10 * (made.streams[at]!.u ?? 0),
      );
      if (visible.length === 0) continue;
      const wrong = random.pick(visible);
      const stream = made.streams[wrong]!;
      const streams = made.streams.with(wrong, { ...stream, value: stream.value! + 20 * stream.u! });
      const [first] = findSuspects(solve({ ...made, streams }), { until: 'reading' });
      tried++;
      if (first && (first.variable === wrong || first.alike.includes(wrong))) found++;
    }
    expect(tried).toBeGreaterThan(50);
    expect(found / tried).toBeGreaterThan(0.95);
  });
});

describe('what error would be found', () => {
  const twice = (first: number, second: number): Reconciled =>
    solve({
      nodes: 1,
      streams: [
        { value: first, u: 0.03, to: 0 },
        { value: second, u: 0.04, from: 0 },
      ],
    });

  test('of a lot that was weighed twice, by hand', () => {
    // The two differ by 0.05 of their errors; two-sided 1.96 and 1.2816 for nine of ten.
    near(errorFound(twice(0, 0), 0), (1.959964 + 1.281552) * 0.05, 1e-6);
    near(errorFound(twice(0, 0), 1, { found: 0.5 }), 1.959964 * 0.05, 1e-6);
    // Watching twenty readings: z of 1 − 0.95^(1/20), two-sided.
    near(errorFound(twice(0, 0), 0, { tests: 20 }), (3.015994 + 1.281552) * 0.05, 1e-6);
    near(errorLeft(twice(10.12, 10), 0), 0.12 + 1.644854 * 0.05, 1e-6);
    const lone = solve({ nodes: 1, streams: [{ value: 1, u: 1, to: 0 }, { from: 0 }] });
    expect([errorFound(lone, 0), errorLeft(lone, 0)]).toEqual([undefined, undefined]);
  });

  test('is the same before anything is read', () => {
    const made = madeHistory(5, 20);
    const blank = made.streams.map((stream) => (stream.value === undefined ? stream : { ...stream, value: 0 }));
    const [before, after] = [solve({ ...made, streams: blank }), solve(made)];
    for (const at of made.streams.keys()) {
      near(errorFound(before, at), errorFound(after, at), 1e-9 * (1 + (errorFound(after, at) ?? 0)));
    }
  });

  test('is found nine times of ten', () => {
    const wrong = solve(madeHistory(5, 20)).standings.indexOf('checked');
    let hits = 0;
    for (let run = 0; run < 400; run++) {
      const made = madeHistory(5, 20);
      const random = seeded(run);
      const streams = made.streams.map((stream, at) =>
        stream.value === undefined ? stream : { ...stream, value: made.trueMass[at]! + stream.u! * normal(random) },
      );
      const size = errorFound(solve({ ...made, streams }), wrong)!;
      const off = { ...streams[wrong]!, value: streams[wrong]!.value! + size };
      if (readingScores(solve({ ...made, streams: streams.with(wrong, off) }))[wrong]! > 1.959964) hits++;
    }
    // 360 of 400, give or take three of √(400 × 0.9 × 0.1) = 6.
    expect(Math.abs(hits - 360)).toBeLessThanOrEqual(18);
  });
});

test('a history of 10,000 steps, cold', () => {
  const made = madeHistory(7, 10_000);
  const start = performance.now();
  const result = solve(made);
  const scores = readingScores(result);
  const suspects = findSuspects(result, { until: 'reading' });
  const milliseconds = performance.now() - start;
  expect(scores.filter((score) => score !== undefined).length).toBeGreaterThan(10_000);
  expect(suspects.length).toBeLessThan(3);
  expect(globalTest(result).p).toBeGreaterThan(0.001);
  expect(milliseconds).toBeLessThan(5_000);
});

function withoutReading(network: Network, at: number): Network {
  const { value: _value, u: _u, ...ends } = network.streams[at]!;
  return { ...network, streams: network.streams.with(at, ends) };
}
