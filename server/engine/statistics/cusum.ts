/**
 * The tabular CUSUM: what has added up beyond a slack, upwards and downwards (NIST/SEMATECH e-Handbook 6.3.2.3; Page's test). It finds a
 * small steady loss sooner than any single figure shows it. A bias of scale or assay that persists looks like a loss.
 */
import { normalProbability } from './distributions';

export interface CusumOptions {
  readonly target: number;
  /** k, in the figures' unit: half of the shift that is to be found. */
  readonly slack: number;
  /** h: a sum above it is a signal. */
  readonly limit: number;
}

export interface CusumSignal {
  /** Index of the figure whose sum passed the limit. */
  readonly at: number;
  readonly side: 'high' | 'low';
  /** Index of the figure at which the run of sums above nothing began: about there the change came. */
  readonly began: number;
}

export interface Cusum {
  /** Cₜ⁺ = max(0, Cₜ₋₁⁺ + xₜ − target − slack). */
  readonly high: readonly number[];
  /** Cₜ⁻ = max(0, Cₜ₋₁⁻ + target − slack − xₜ). */
  readonly low: readonly number[];
  /** The first on each side, the earlier one first. */
  readonly signals: readonly CusumSignal[];
}

export const cusum = (values: readonly number[], { target, slack, limit }: CusumOptions): Cusum => {
  const high = sums(values.map((value) => value - target - slack));
  const low = sums(values.map((value) => target - slack - value));
  const signals = [signalOf(high, limit, 'high'), signalOf(low, limit, 'low')].flat();
  return { high, low, signals: signals.sort((one, other) => one.at - other.at) };
};

const sums = (excesses: readonly number[]): number[] => {
  let sum = 0;
  return excesses.map((excess) => {
    sum = Math.max(0, sum + excess);
    return sum;
  });
};

const signalOf = (of: readonly number[], limit: number, side: 'high' | 'low'): CusumSignal[] => {
  const at = of.findIndex((sum) => sum > limit);
  if (at < 0) return [];
  return [{ at, side, began: of.lastIndexOf(0, at) + 1 }];
};

/** Nodes for the integral: more changes nothing in five digits for limits up to 8. */
const NODES = 48;

/**
 * How many figures pass on average until a signal, for normal figures: one side, or both (1/L = 1/L⁺ + 1/L⁻). `slack`, `limit` and `shift`
 * (of the mean from its target, upwards) in standard deviations of one figure. From the integral equation
 * L(z) = 1 + L(0) Φ(k − δ − z) + ∫₀ʰ L(y) φ(y + k − δ − z) dy (Page 1954; citation from memory), solved at Gauss and Legendre's nodes.
 */
export const cusumRunLength = (slack: number, limit: number, shift = 0, sides: 1 | 2 = 2): number => {
  const up = oneSided(slack - shift, limit);
  return sides === 1 ? up : 1 / (1 / up + 1 / oneSided(slack + shift, limit));
};

const oneSided = (slack: number, limit: number): number => {
  const { nodes, weights } = legendre(NODES);
  const points = [0, ...nodes.map((node) => (limit * (node + 1)) / 2)];
  const rows = points.map((z) => [
    ...points.map((y, at) => {
      const jump = at === 0 ? normalProbability(slack - z) : ((limit * weights[at - 1]!) / 2) * density(y + slack - z);
      return (y === z ? 1 : 0) - jump;
    }),
    1,
  ]);
  return solveFirst(rows);
};

const density = (z: number): number => Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI);

/** Nodes and weights on −1 to 1, by Newton's method on Legendre's polynomial. */
const legendre = (count: number): { readonly nodes: number[]; readonly weights: number[] } => {
  const [nodes, weights]: [number[], number[]] = [[], []];
  for (let index = 0; index < count; index++) {
    let x = Math.cos((Math.PI * (index + 0.75)) / (count + 0.5));
    let slope = 1;
    for (let pass = 0; pass < 12; pass++) {
      let [last, now] = [1, x];
      for (let n = 2; n <= count; n++) [last, now] = [now, ((2 * n - 1) * x * now - (n - 1) * last) / n];
      slope = (count * (x * now - last)) / (x * x - 1);
      x -= now / slope;
    }
    nodes.push(x);
    weights.push(2 / ((1 - x * x) * slope * slope));
  }
  return { nodes, weights };
};

/**
 * The first unknown of a square system with its right side as last column; Gauss, from below upwards. Without a search for pivots: the parts
 * beside the diagonal are chances to go on, which add up to less than one in each row, so that the diagonal outweighs them.
 */
const solveFirst = (rows: number[][]): number => {
  while (rows.length > 1) {
    const pivot = rows.pop()!;
    const column = rows.length;
    for (const row of rows) {
      const factor = row[column]! / pivot[column]!;
      for (const [at, value] of pivot.entries()) row[at]! -= factor * value;
    }
  }
  return rows[0]!.at(-1)! / rows[0]![0]!;
};
