import { describe, expect, test } from 'vitest';
import { balanceScores, findSuspects, globalTest, readingScores } from '../../../server/engine/reconcile/gross';
import { tightenParts } from '../../../server/engine/reconcile/intervals';
import { reconcileMetals } from '../../../server/engine/reconcile/metals';
import { reconcileSuccessively } from '../../../server/engine/reconcile/nonlinear';
import { type Reconciled, reconcile } from '../../../server/engine/reconcile/solve';
import type { Balance, Reading } from '../../../server/engine/reconcile/system';
import fixture from '../../fixtures/measurement/reconciliation.json';

interface Inputs {
  readonly A?: number[][];
  readonly x?: number[];
  readonly variance?: number[];
  readonly unmeasured?: number[];
  readonly same_as?: string;
}

const caseOf = (id: string) => fixture.cases.find((each) => each.id === id)!;

const inputsOf = (id: string): Inputs => {
  const own: Inputs = caseOf(id).inputs as Inputs;
  return own.same_as ? { ...inputsOf(own.same_as), ...own } : own;
};

const solve = (id: string): Reconciled => {
  const { A, x, variance, unmeasured = [] } = inputsOf(id);
  const readings = A![0]!.map((_, at): Reading => {
    if (unmeasured.includes(at + 1)) return {};
    return { value: x?.[at] ?? 1, u: Math.sqrt(variance?.[at] ?? 1) };
  });
  return reconcile({ readings, balances: A!.map(balanceOf) });
};

const balanceOf = (row: number[]): Balance => {
  const variables = [...row.keys()].filter((at) => row[at] !== 0);
  return { variables, coefficients: variables.map((at) => row[at]!), constant: 0 };
};

const near = (found: readonly (number | undefined)[], expected: readonly number[], tolerance: number): void => {
  expect(found.length).toBe(expected.length);
  for (const [at, value] of expected.entries()) {
    expect(Math.abs(found[at]! - value), `${at}: ${found[at]} against ${value}`).toBeLessThanOrEqual(tolerance);
  }
};

const idsEnding = (end: string): string[] => fixture.cases.map(({ id }) => id).filter((id) => id.endsWith(end));

describe('published networks', () => {
  test.each(idsEnding('-values'))('%s', (id) => {
    near(solve(id).values, caseOf(id).expected as number[], caseOf(id).tolerance);
  });

  test.each(idsEnding('-global'))('%s', (id) => {
    const { gamma, df, reject_5pct } = caseOf(id).expected as { gamma: number; df: number; reject_5pct: boolean };
    const found = globalTest(solve(id));
    near([found.gamma], [gamma], caseOf(id).tolerance);
    expect([found.freedom, !found.passes]).toEqual([df, reject_5pct]);
  });

  test.each(idsEnding('-adjtest'))('%s', (id) => {
    near(readingScores(solve(id)), caseOf(id).expected as number[], caseOf(id).tolerance);
  });

  test.each(idsEnding('-nodal'))('%s', (id) => {
    near(balanceScores(solve(id)), caseOf(id).expected as number[], caseOf(id).tolerance);
  });

  test('the exchanger with a gross error: every test, and the suspect', () => {
    const { expected, tolerance } = caseOf('rec-nj-gross-tests') as unknown as {
      expected: { gamma: number; z: number[]; nodal: number[]; suspect: number };
      tolerance: number;
    };
    const result = solve('rec-nj-gross-tests');
    near([result.gamma], [expected.gamma], tolerance);
    near(readingScores(result), expected.z, tolerance);
    near(balanceScores(result), expected.nodal, tolerance);
    expect(findSuspects(result).map(({ variable }) => variable + 1)).toEqual([expected.suspect]);
  });

  test('the exchanger without its suspect', () => {
    const { expected, tolerance } = caseOf('rec-nj-drop2') as unknown as {
      expected: { reconciled: number[]; gamma: number; df: number };
      tolerance: number;
    };
    const without = solve('rec-nj-drop2');
    near(without.values, expected.reconciled, tolerance);
    near([without.gamma], [expected.gamma], tolerance);
    expect(without.freedom).toBe(expected.df);
    const [suspect] = findSuspects(solve('rec-nj-gross-values'));
    near([suspect!.gamma, suspect!.freedom], [expected.gamma, expected.df], tolerance);
  });

  test.each(idsEnding('').filter((id) => id.startsWith('rec-class-')))('%s', (id) => {
    const { standings } = solve(id);
    const those = (standing: string) =>
      [...standings.keys()].filter((at) => standings[at] === standing).map((at) => at + 1);
    expect({
      observable: those('inferred'),
      unobservable: those('unknown'),
      redundant: those('checked'),
      nonredundant: those('unchecked'),
    }).toEqual(caseOf(id).expected);
  });
});

describe('what is not linear', () => {
  test('Pai and Fisher 1988', () => {
    const { expected, tolerance } = caseOf('rec-pai-fisher') as unknown as {
      expected: { x: number[]; u: number[] };
      tolerance: number;
    };
    const readings: Reading[] = [...[4.4, 5.5, 1.7, 1.6, 5].map((value) => ({ value, u: 1 })), {}, {}, {}];
    const found = reconcileSuccessively(readings, tangents(paiFisher), [4.4, 5.5, 1.7, 1.6, 5, 11, 0.6, 2], {
      close: 1e-7,
    });
    expect(found.converged).toBe(true);
    near([...found.values], [...expected.x, ...expected.u], tolerance);
  });

  test('a lot into bead and slag, all weighed and assayed', () => {
    const { expected, tolerance } = caseOf('rec-bilinear') as unknown as {
      expected: Record<string, number>;
      tolerance: number;
    };
    const found = reconcileMetals({
      nodes: 1,
      metals: 1,
      streams: [
        { value: 100, u: 0.05, to: 0, composition: 0 },
        { value: 49.6, u: 0.02, from: 0, composition: 1 },
        { value: 50.1, u: 0.1, from: 0, composition: 2 },
      ],
      compositions: [[{ value: 0.5, u: 0.003 }], [{ value: 0.998, u: 0.0015 }], [{ value: 0.01, u: 0.002 }]],
    });
    const masses = [0, 1, 2].map((stream) => found.mass(stream).value);
    near(masses, [expected.F!, expected.B!, expected.S!], tolerance);
    const fineness = [0, 1, 2].map((composition) => found.fineness(composition, 0).value);
    near(fineness, [expected.f!, expected.b!, expected.s!], tolerance);
    near([found.gamma], [expected.chi2!], tolerance);
    expect([found.freedom, found.converged, found.held]).toEqual([2, true, []]);
    // The note beside the case: the bead stays below pure.
    expect(fineness[1]! <= 1).toBe(caseOf('rec-bilinear-bounds').expected);
  });
});

describe('compositions known as bounds', () => {
  test('tighten each other', () => {
    const { inputs, expected, tolerance } = caseOf('rec-simplex') as unknown as {
      inputs: Record<string, [number, number]>;
      expected: Record<string, [number, number]>;
      tolerance: number;
    };
    const found = tightenParts(Object.values(inputs).map(([low, high]) => ({ low, high })))!;
    near(
      found.flatMap(({ low, high }) => [low, high]),
      Object.values(expected).flat(),
      tolerance,
    );
  });

  test('may not leave any way', () => {
    const { inputs } = caseOf('rec-infeasible') as unknown as { inputs: Record<string, [number, number]> };
    expect(tightenParts(Object.values(inputs).map(([low, high]) => ({ low, high })))).toBeUndefined();
  });
});

function paiFisher(v: readonly number[]): number[] {
  const [x1, x2, x3, x4, x5, u1, u2, u3] = v as [number, number, number, number, number, number, number, number];
  return [
    0.5 * x1 ** 2 - 0.7 * x2 + x3 * u1 + x2 ** 2 * u1 * u2 + 2 * x3 * u3 ** 2 - 255.8,
    x1 - 2 * x2 + 3 * x1 * x3 - 2 * x2 * u1 - x2 * u2 * u3 + 111.2,
    x3 * u1 - x1 + 3 * x2 + x1 * u2 - x3 * Math.sqrt(u3) - 33.57,
    x4 - x1 - x3 ** 2 + u2 + 3 * u3,
    x5 - 2 * x3 * u2 * u3,
    2 * x1 + x2 * x3 * u1 + u2 - u3 - 126.6,
  ];
}

/** Derivatives by central differences. */
function tangents(equations: (values: readonly number[]) => number[]): (at: Float64Array) => Balance[] {
  return (at) => {
    const values = [...at];
    const here = equations(values);
    const slopes = values.map((value, variable) => {
      const step = 1e-6 * Math.max(1, Math.abs(value));
      const [more, less] = [values.with(variable, value + step), values.with(variable, value - step)].map(equations);
      return more!.map((each, row) => (each - less![row]!) / (2 * step));
    });
    return here.map((miss, row) => ({
      variables: [...values.keys()],
      coefficients: slopes.map((slope) => slope[row]!),
      constant: values.reduce((sum, value, variable) => sum + slopes[variable]![row]! * value, -miss),
    }));
  };
}
