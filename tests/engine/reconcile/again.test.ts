import fc from 'fast-check';
import { Matrix, pseudoInverse } from 'ml-matrix';
import { describe, expect, test } from 'vitest';
import { findSuspects, globalTest, readingScores, solutionWithout } from '../../../server/engine/reconcile/gross';
import { reconcileMetals } from '../../../server/engine/reconcile/metals';
import { networkSystem } from '../../../server/engine/reconcile/network';
import { type Reconciled, reconcile, reconcileAgain } from '../../../server/engine/reconcile/solve';
import type { Reading } from '../../../server/engine/reconcile/system';
import { madeHistory } from '../../support/history';
import { denseBalances, randomNetwork } from '../../support/networks';
import { seeded } from '../../support/random';

const near = (found: number | undefined, expected: number | undefined, tolerance: number, about = ''): void => {
  if (found === undefined || expected === undefined) expect([about, found]).toEqual([about, expected]);
  else expect(Math.abs(found - expected), `${about}: ${found} against ${expected}`).toBeLessThanOrEqual(tolerance);
};

const seeds = fc.integer({ min: 0, max: 2 ** 31 });

describe('again with other readings', () => {
  const same = (one: Reconciled, other: Reconciled): void => {
    near(one.gamma, other.gamma, 1e-7 * (1 + other.gamma), 'gamma');
    expect(one.freedom).toBe(other.freedom);
    for (const at of one.values.keys()) {
      near(one.values[at], other.values[at], 1e-7, `value ${at}`);
      near(one.u[at], other.u[at], 1e-6, `u ${at}`);
      expect(one.standings[at]).toBe(other.standings[at]);
    }
    const scores = readingScores(other);
    for (const [at, score] of readingScores(one).entries()) near(score, scores[at], 1e-5, `score ${at}`);
  };

  test('is as anew', () => {
    fc.assert(
      fc.property(seeds, fc.constantFrom('value', 'u', 'gone'), (seed, what) => {
        const system = networkSystem(randomNetwork(seed));
        const random = seeded(seed + 1);
        const at = random.whole(0, system.readings.length - 1);
        const old = system.readings[at]!;
        const other: Reading = {
          value: { ...old, value: old.value === undefined ? undefined : old.value + random.next() },
          u: { ...old, u: old.u === undefined ? undefined : old.u * (0.1 + random.next()) },
          gone: {},
        }[what];
        const readings = system.readings.with(at, other);
        same(reconcileAgain(reconcile(system), readings), reconcile({ ...system, readings }));
      }),
    );
  });

  test('with metals', () => {
    for (let seed = 0; seed < 20; seed++) {
      const made = { ...madeHistory(seed, 15, { assayed: 0.5 }), metals: 2 };
      const before = reconcileMetals(made);
      const at = made.streams.findIndex(({ value }) => value !== undefined);
      const stream = made.streams[at]!;
      const streams = made.streams.with(at, { ...stream, value: stream.value! + 0.05 });
      const [again, anew] = [reconcileMetals({ ...made, streams }, before), reconcileMetals({ ...made, streams })];
      expect([again.converged, anew.converged]).toEqual([true, true]);
      expect(again.passes).toBeLessThanOrEqual(anew.passes);
      expect(again.held).toEqual(anew.held);
      near(again.gamma, anew.gamma, 1e-5 * (1 + anew.gamma));
      for (const each of streams.keys()) {
        near(again.mass(each).value, anew.mass(each).value, 1e-5);
        near(again.metal(each, 0).value, anew.metal(each, 0).value, 1e-5);
      }
    }
  });
});

test('without its suspects a history is as if they had not been read', () => {
  fc.assert(
    fc.property(seeds, (seed) => {
      const network = randomNetwork(seed, { nodes: 8, unmeasured: 0.1, noise: 5 });
      const suspects = findSuspects(reconcile(networkSystem(network)), { most: 3 });
      const without = solutionWithout(
        reconcile(networkSystem(network)),
        suspects.map(({ variable }) => variable),
      );
      const last = suspects.at(-1);
      if (!last) return;
      near(without.gamma, last.gamma, 1e-5 * (1 + last.gamma));
      expect(without.freedom).toBe(last.freedom);
    }),
  );
});

describe('errors that readings share', () => {
  test('one scale for all that went in and came out, by hand', () => {
    // 100.3 in, 60 and 40 out, each 0.1 of its own and all with the 0.5 of one scale: V = D + s sᵀ, a = (1, −1, −1).
    const own = { u: 0.1, shared: [{ source: 0, size: 0.5 }] };
    const result = reconcile(
      networkSystem({
        nodes: 1,
        sources: 1,
        streams: [
          { value: 100.3, ...own, to: 0 },
          { value: 60, ...own, from: 0 },
          { value: 40, ...own, from: 0 },
        ],
      }),
    );
    // aᵀ V a = 3 × 0.01 + (0.5 − 0.5 − 0.5)² = 0.28; V a = 0.01 a − 0.25 (1, 1, 1).
    near(result.gamma, 0.3 ** 2 / 0.28, 1e-9);
    near(result.values[0], 100.3 - ((0.01 - 0.25) * 0.3) / 0.28, 1e-9);
    near(result.values[1], 60 - ((-0.01 - 0.25) * 0.3) / 0.28, 1e-9);
    near(result.u[0], Math.sqrt(0.26 - 0.24 ** 2 / 0.28), 1e-9);
    near(result.covarianceOf(0, 1), 0.25 - (-0.24 * -0.26) / 0.28, 1e-9);
    // The scale itself is the likeliest to be off.
    expect(globalTest(result).freedom).toBe(1);
  });

  test('in any network, against the full covariance', () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const random = seeded(seed);
        const network = randomNetwork(seed, { unmeasured: 0 });
        const streams = network.streams.map((stream) => ({
          ...stream,
          shared: [0, 1].filter(() => random.next() < 0.5).map((source) => ({ source, size: 2 * random.next() - 0.5 })),
        }));
        const result = reconcile(networkSystem({ ...network, streams, sources: 2 }));
        const a = denseBalances(networkSystem(network));
        const x = Matrix.columnVector(streams.map(({ value }) => value!));
        const v = Matrix.diag(streams.map(({ u }) => u! ** 2));
        for (const [i, one] of streams.entries()) {
          for (const [j, other] of streams.entries()) {
            for (const { source, size } of one.shared) {
              const same = other.shared.find((each) => each.source === source);
              if (same) v.set(i, j, v.get(i, j) + size * same.size);
            }
          }
        }
        const s = pseudoInverse(a.mmul(v).mmul(a.transpose()));
        const gain = v.mmul(a.transpose()).mmul(s);
        const values = Matrix.sub(x, gain.mmul(a.mmul(x)));
        const covariance = Matrix.sub(v, gain.mmul(a).mmul(v));
        for (const at of streams.keys()) {
          near(result.values[at], values.get(at, 0), 1e-6, `value ${at}`);
          near(result.u[at]! ** 2, covariance.get(at, at), 1e-7, `u ${at}`);
          near(result.varianceOf([{ variable: at, coefficient: 1 }]), covariance.get(at, at), 1e-7);
        }
        const miss = a.mmul(x);
        near(result.gamma, miss.transpose().mmul(s).mmul(miss).get(0, 0), 1e-6 * (1 + result.gamma), 'gamma');
      }),
    );
  });

  test('a scale that is off is a suspect like a reading', () => {
    const random = seeded(4);
    // Ten buttons weighed on one scale and again on another, of which the second reads 0.5 high.
    const streams = Array.from({ length: 10 }, (_, node) => {
      const mass = 50 + 10 * random.next();
      return [
        { value: mass + 0.01 * random.next(), u: 0.01, shared: [{ source: 0, size: 0.02 }], to: node },
        { value: mass + 0.5 + 0.01 * random.next(), u: 0.01, shared: [{ source: 1, size: 0.02 }], from: node },
      ];
    }).flat();
    const result = reconcile(networkSystem({ nodes: 10, sources: 2, streams }));
    const [first] = findSuspects(result);
    // Which of the two scales it is, two scales cannot tell.
    expect([first!.variable, ...first!.alike].sort()).toEqual([20, 21]);
    expect(globalTest(first!).passes).toBe(true);
    const without = solutionWithout(result, [first!.variable]);
    near(without.gamma, first!.gamma, 1e-6);
    expect(without.freedom).toBe(first!.freedom);
    // The other scale is believed, and all weights with it, but for its own bias of 0.02.
    const off = first!.variable === 20 ? 1 : 0;
    near(without.values[0]!, streams[off]!.value, 0.05);
  });

  test('and assays share one laboratory', () => {
    const shared = [{ source: 0, size: 0.002 }];
    const found = reconcileMetals({
      nodes: 1,
      metals: 1,
      sources: 1,
      streams: [
        { value: 10, u: 0, to: 0, composition: 0 },
        { value: 10, u: 0, from: 0, composition: 1 },
      ],
      compositions: [[{ value: 0.9, u: 0.003, shared }], [{ value: 0.91, u: 0.004, shared }]],
    });
    // The difference of 0.01 is of their own errors alone; what they share stays in the mean.
    near(found.gamma, 4, 1e-6);
    near(found.fineness(0, 0).value, 0.9036, 1e-7);
    near(found.fineness(0, 0).u, Math.hypot(0.0024, 0.002), 1e-7);
  });
});
