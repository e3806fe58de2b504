/** Without the unmeasured that stand alone in a balance: what is told is the same, and only the uncertainty of what nobody read needs them. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readingScores } from '../../../server/engine/reconcile/gross';
import { layOut } from '../../../server/engine/reconcile/layout';
import { type MetalNetwork, reconcileMetals } from '../../../server/engine/reconcile/metals';
import { networkSystem } from '../../../server/engine/reconcile/network';
import { withSources } from '../../../server/engine/reconcile/shared';
import { completeLean, type Reconciled, reconcile } from '../../../server/engine/reconcile/solve';
import type { System } from '../../../server/engine/reconcile/system';
import { randomNetwork } from '../../support/networks';
import { seeded } from '../../support/random';

const near = (found: number | undefined, expected: number | undefined, tolerance: number, about: string): void => {
  if (found === undefined || expected === undefined) expect([about, found]).toEqual([about, expected]);
  else expect(Math.abs(found - expected), `${about}: ${found} against ${expected}`).toBeLessThanOrEqual(tolerance);
};

const squared = (u: number | undefined): number | undefined => u && u ** 2;

const leanly = (system: System, full: () => void = () => {}): Reconciled => {
  const expanded = withSources(system);
  const lean = layOut(expanded, true);
  return completeLean(system, expanded, lean, () => {
    full();
    return layOut(expanded, false, lean.structure);
  });
};

describe('leanly', () => {
  test('any network is told as in full', () => {
    const seeds = fc.integer({ min: 0, max: 2 ** 31 });
    fc.assert(
      fc.property(seeds, fc.constantFrom(0, 2), (seed, sources) => {
        const random = seeded(seed);
        const network = randomNetwork(seed, { unmeasured: 0.4 });
        const streams = network.streams.map((stream) =>
          stream.value === undefined || sources === 0
            ? stream
            : { ...stream, shared: [{ source: random.whole(0, 1), size: 0.3 * random.next() }] },
        );
        const system = networkSystem({ ...network, streams, sources });
        const [lean, full] = [leanly(system), reconcile(system)];
        near(lean.gamma, full.gamma, 1e-9 * (1 + full.gamma), 'gamma');
        expect(lean.freedom).toBe(full.freedom);
        expect(lean.standings).toEqual(full.standings);
        const [scores, others] = [readingScores(lean), readingScores(full)];
        for (const at of streams.keys()) {
          near(lean.values[at], full.values[at], 1e-9, `value ${at}`);
          // Of variances, as the root of what rounding leaves of one that is nothing is large beside it.
          near(squared(lean.uOf(at)), squared(full.u[at]), 1e-12, `variance ${at}`);
          near(scores[at], others[at], 1e-6, `score ${at}`);
          near(lean.covarianceOf(0, at), full.covarianceOf(0, at), 1e-8, `covariance of 0 and ${at}`);
        }
      }),
    );
  });

  test('what nobody read is told one after the other, by hand', () => {
    // 10 in; 4 out at the first step, the rest on to the second, where 1 goes out and the rest on to the third, which gives 5.2.
    const system = networkSystem({
      nodes: 3,
      streams: [
        { value: 10, u: 0.1, to: 0 },
        { value: 4, u: 0.1, from: 0 },
        { from: 0, to: 1 },
        { value: 1, u: 0.1, from: 1 },
        { from: 1, to: 2 },
        { value: 5.2, u: 0.1, from: 2 },
      ],
    });
    let asked = 0;
    const lean = leanly(system, () => asked++);
    // Out by 0.2, shared by four readings alike: 10.05, 3.95, 0.95 and 5.15, so 6.1 and 5.15 between the steps.
    for (const [at, value] of [10.05, 3.95, 6.1, 0.95, 5.15, 5.15].entries())
      near(lean.values[at], value, 1e-12, `${at}`);
    near(lean.uOf(0), 0.1 * Math.sqrt(3 / 4), 1e-12, 'u of a reading');
    expect(asked).toBe(0);
    // Of the first from its own side u² = 0.02 and from the other the same: half of it.
    near(lean.uOf(2), 0.1, 1e-12, 'u of what nobody read');
    near(lean.uOf(4), Math.sqrt(0.0075), 1e-12, 'u of the last');
    expect(asked).toBe(1);
  });
});

test('a fineness that is held at nothing does not tell how much there is of what has it', () => {
  // Slag that nobody weighed, read as −0.4 % gold: it holds none, so the gold says nothing of its mass, and nothing checks the flux.
  const network: MetalNetwork = {
    nodes: 1,
    metals: 1,
    streams: [
      { value: 100, u: 0.01, to: 0, composition: 0 },
      { value: 50, u: 0.3, to: 0, composition: 1 },
      { value: 99.9, u: 0.01, from: 0, composition: 2 },
      { from: 0, composition: 3 },
    ],
    compositions: [
      [{ value: 0.5, u: 0.001 }],
      [{ value: 0 }],
      [{ value: 0.501, u: 0.001 }],
      [{ value: -0.004, u: 0.001 }],
    ],
  };
  const result = reconcileMetals(network);
  expect(result.held).toEqual([{ stream: 3, metal: 0 }]);
  expect(result.mass(1).standing).toBe('unchecked');
  expect(result.mass(0).standing).toBe('checked');
  near(result.mass(3).value, 50.1, 0.05, 'slag');
  expect(result.converged).toBe(true);
});
