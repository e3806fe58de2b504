/** Random small networks that truly balance, and the dense way to solve them. */
import { Matrix, SingularValueDecomposition } from 'ml-matrix';
import { type Network, networkSystem, type Stream } from '../../server/engine/reconcile/network';
import { type System, sparseRow } from '../../server/engine/reconcile/system';
import { normal } from './history';
import { type Random, seeded } from './random';

/**
 * A tree of nodes with chords and ends to the outside, flows from a random potential so that it balances by construction; some streams are
 * not measured, some have far larger uncertainties than others.
 */
export const randomNetwork = (seed: number, { nodes = 0, unmeasured = 0.25, noise = 1, spread = 2 } = {}): Network => {
  const random = seeded(seed);
  const count = nodes || random.whole(1, 9);
  const ends: { from?: number; to?: number }[] = [];
  for (let node = 1; node < count; node++) ends.push({ from: random.whole(0, node - 1), to: node });
  for (let extra = random.whole(0, count); extra > 0; extra--) {
    const [from, to] = [random.whole(0, count - 1), random.whole(0, count - 1)];
    if (from !== to) ends.push({ from, to });
  }
  for (let end = random.whole(1, count + 2); end > 0; end--) {
    const node = random.whole(0, count - 1);
    ends.push(random.next() < 0.5 ? { to: node } : { from: node });
  }
  const flows = balancedFlows(random, ends, count);
  const streams = ends.map((each, at): Stream => {
    if (random.next() < unmeasured) return each;
    const u = 10 ** (-spread * random.next()) * 0.5;
    return { ...each, value: flows[at]! + noise * u * normal(random), u };
  });
  return { streams, nodes: count };
};

/** Circulations around random closed walks through the outside: sums of paths from outside to outside and of cycles. */
const balancedFlows = (random: Random, ends: readonly { from?: number; to?: number }[], nodes: number): number[] => {
  const system = networkSystem({ streams: ends, nodes });
  const dense = denseBalances(system);
  const start = ends.map(() => 5 + 100 * random.next());
  // The nearest balanced flows to random ones.
  const x = Matrix.columnVector(start);
  const step = dense
    .transpose()
    .mmul(pseudo(dense.mmul(dense.transpose())))
    .mmul(dense.mmul(x));
  return Matrix.sub(x, step).to1DArray();
};

export const denseBalances = (system: System): Matrix => {
  const dense = Matrix.zeros(system.balances.length, system.readings.length);
  for (const [row, balance] of system.balances.entries()) {
    for (const [variable, coefficient] of sparseRow(balance)) dense.set(row, variable, coefficient);
  }
  return dense;
};

export interface DenseAnswer {
  readonly values: (number | undefined)[];
  readonly u: (number | undefined)[];
  readonly gamma: number;
  readonly freedom: number;
  readonly checked: boolean[];
}

/**
 * Crowe's projection on the null space by singular values, S by its pseudo-inverse: nothing in common with the sparse way but the
 * definition. All readings measured or unmeasured, none exact.
 */
export const solveDense = (system: System): DenseAnswer => {
  const all = denseBalances(system);
  const pick = (known: boolean) =>
    [...system.readings.keys()].filter((at) => (system.readings[at]!.value !== undefined) === known);
  const [measured, open] = [pick(true), pick(false)];
  const columns = (of: readonly number[]) => (of.length > 0 ? all.subMatrixColumn([...of]) : Matrix.zeros(all.rows, 0));
  const [a, b] = [columns(measured), columns(open)];
  const projection = open.length > 0 ? Matrix.sub(Matrix.eye(all.rows), b.mmul(pseudo(b))) : Matrix.eye(all.rows);
  const reduced = cleaned(projection.mmul(a));
  const x = Matrix.columnVector(measured.map((at) => system.readings[at]!.value!));
  const v = Matrix.diag(measured.map((at) => system.readings[at]!.u! ** 2));
  const z = measured.length > 0 ? pseudo(reduced.mmul(v).mmul(reduced.transpose())) : Matrix.zeros(all.rows, all.rows);
  const miss = reduced.mmul(x);
  const gain = v.mmul(reduced.transpose()).mmul(z);
  const adjusted = Matrix.sub(x, gain.mmul(miss));
  const covariance = Matrix.sub(v, gain.mmul(reduced).mmul(v));
  const answer: DenseAnswer = {
    values: system.readings.map(() => undefined),
    u: system.readings.map(() => undefined),
    gamma: miss.transpose().mmul(z).mmul(miss).get(0, 0) || 0,
    freedom: measured.length > 0 ? rankOf(reduced) : 0,
    checked: system.readings.map(() => false),
  };
  for (const [place, at] of measured.entries()) {
    answer.values[at] = adjusted.get(place, 0);
    answer.u[at] = Math.sqrt(Math.max(0, covariance.get(place, place)));
    answer.checked[at] = reduced.getColumn(place).some((entry) => Math.abs(entry) > 1e-9);
  }
  if (open.length === 0) return answer;
  const back = pseudo(b).mul(-1).mmul(a);
  const solved = back.mmul(adjusted);
  const spread = back.mmul(covariance).mmul(back.transpose());
  // Observable: the unit vector lies in the row space of the unmeasured columns.
  const resolution = pseudo(b).mmul(b);
  for (const [place, at] of open.entries()) {
    if (Math.abs(resolution.get(place, place) - 1) > 1e-9) continue;
    answer.values[at] = solved.get(place, 0);
    answer.u[at] = Math.sqrt(Math.max(0, spread.get(place, place)));
  }
  return answer;
};

/** Coefficients are ones and their simple fractions: what is far smaller is rounding. */
const cleaned = (matrix: Matrix): Matrix => {
  for (let row = 0; row < matrix.rows; row++) {
    for (let column = 0; column < matrix.columns; column++) {
      if (Math.abs(matrix.get(row, column)) < 1e-9) matrix.set(row, column, 0);
    }
  }
  return matrix;
};

const rankOf = (matrix: Matrix): number =>
  new SingularValueDecomposition(matrix, { autoTranspose: true }).diagonal.filter((value) => value > 1e-9).length;

/** Moore and Penrose's, small singular values as zero. */
const pseudo = (matrix: Matrix): Matrix => {
  const found = new SingularValueDecomposition(matrix, { autoTranspose: true });
  const largest = Math.max(...found.diagonal);
  const scale = found.diagonal.map((value) => (value > 1e-11 * largest ? 1 / value : 0));
  return found.rightSingularVectors.mmul(Matrix.diag(scale)).mmul(found.leftSingularVectors.transpose());
};
