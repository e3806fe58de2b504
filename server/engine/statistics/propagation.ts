/** Uncertainty from inputs to result, after the Guide to the Expression of Uncertainty in Measurement (GUM). */
import { chiSquaredUpperTail, studentQuantile } from './distributions';

export interface Input {
  /** Standard uncertainty. */
  readonly u: number;
  /** ∂result/∂input, 1 if not given. */
  readonly sensitivity?: number;
  /** Degrees of freedom, infinite if not given. */
  readonly freedom?: number;
}

/** √(Σ cᵢcⱼ uᵢuⱼ rᵢⱼ) (GUM 5.1.2 and 5.2.2). `correlation` is asked for i < j; without it inputs are independent. */
export const combinedUncertainty = (
  inputs: readonly Input[],
  correlation: (i: number, j: number) => number = () => 0,
): number => {
  const parts = inputs.map(({ u, sensitivity = 1 }) => u * sensitivity);
  let variance = 0;
  for (const [i, part] of parts.entries()) {
    variance += part * part;
    for (let j = i + 1; j < parts.length; j++) variance += 2 * part * parts[j]! * correlation(i, j);
  }
  return Math.sqrt(Math.max(0, variance));
};

/** u⁴ / Σ (cᵢuᵢ)⁴/νᵢ (Welch and Satterthwaite; GUM G.4.1); for independent inputs only. Infinite if every input is known so well. */
export const effectiveFreedom = (inputs: readonly Input[]): number => {
  const below = inputs.reduce(
    (sum, { u, sensitivity = 1, freedom = Number.POSITIVE_INFINITY }) => sum + (u * sensitivity) ** 4 / freedom,
    0,
  );
  return below === 0 ? Number.POSITIVE_INFINITY : combinedUncertainty(inputs) ** 4 / below;
};

/** Half-width that holds `level` of the cases: Student's t times u (GUM G.3). */
export const expandedUncertainty = (u: number, freedom: number, level = 0.95): number =>
  u * studentQuantile((1 + level) / 2, freedom);

/**
 * The next term of the series for a product of independent inputs, where first order sees little or nothing:
 * Σᵢⱼ (½ fᵢⱼ² + fᵢ fᵢⱼⱼ) uᵢ²uⱼ² (GUM 5.1.2, note), with the third derivatives taken as zero. `second(i, j)` is ∂²f/∂xᵢ∂xⱼ.
 */
export const secondOrderVariance = (u: readonly number[], second: (i: number, j: number) => number): number => {
  let sum = 0;
  for (const [i, first] of u.entries())
    for (const [j, other] of u.entries()) sum += 0.5 * (second(i, j) * first * other) ** 2;
  return sum;
};

export interface WeightedMean {
  readonly value: number;
  /** From the inputs' own uncertainties; not widened where they disagree. */
  readonly u: number;
  /** Σ ((x − mean)/u)², chi-squared of `freedom` if the inputs agree. */
  readonly chiSquared: number;
  readonly freedom: number;
  /** Chance of as much disagreement when all are as good as they say. */
  readonly p: number;
}

/** Independent values of one thing, each with the weight 1/u². Throws a RangeError of nothing, or where a u is not positive. */
export const weightedMeanOf = (values: readonly { readonly value: number; readonly u: number }[]): WeightedMean => {
  if (values.length === 0) throw new RangeError('mean of nothing');
  if (values.some(({ u }) => !(u > 0))) throw new RangeError('a weight needs an uncertainty above zero');
  const total = values.reduce((sum, { u }) => sum + 1 / u ** 2, 0);
  const value = values.reduce((sum, each) => sum + each.value / each.u ** 2, 0) / total;
  const chiSquared = values.reduce((sum, each) => sum + ((each.value - value) / each.u) ** 2, 0);
  const freedom = values.length - 1;
  return {
    value,
    u: 1 / Math.sqrt(total),
    chiSquared,
    freedom,
    p: freedom === 0 ? 1 : chiSquaredUpperTail(chiSquared, freedom),
  };
};

/** Scatter against the stated uncertainties, √(χ²/ν) (Birge): about 1 when all agree, well above when some u is too small. NaN of one value. */
export const birgeRatio = ({ chiSquared, freedom }: WeightedMean): number => Math.sqrt(chiSquared / freedom);

/** Means of readings taken together, their standard uncertainties and correlation (GUM 5.2.3, type A). Needs two pairs or more. */
export const meansTogether = (
  first: readonly number[],
  second: readonly number[],
): { readonly u: readonly [number, number]; readonly correlation: number } => {
  const count = first.length;
  const centre = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / count;
  const [a, b] = [centre(first), centre(second)];
  let [aa, bb, ab] = [0, 0, 0];
  for (let at = 0; at < count; at++) {
    aa += (first[at]! - a) ** 2;
    bb += (second[at]! - b) ** 2;
    ab += (first[at]! - a) * (second[at]! - b);
  }
  const degrees = count * (count - 1);
  return { u: [Math.sqrt(aa / degrees), Math.sqrt(bb / degrees)], correlation: ab / Math.sqrt(aa * bb) };
};
