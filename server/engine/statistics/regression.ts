/** Straight lines, and what share of the metal comes back. */
import { mean } from './robust';

export interface Line {
  readonly slope: number;
  readonly intercept: number;
  readonly slopeSd: number;
  readonly interceptSd: number;
  readonly residualSquares: number;
  readonly residualSd: number;
}

/** Least squares y = intercept + slope x. Needs three points or more for the deviations. */
export const fitLine = (x: readonly number[], y: readonly number[]): Line => {
  const [centreX, centreY, count] = [mean(x), mean(y), x.length];
  const squares = x.reduce((sum, each) => sum + (each - centreX) ** 2, 0);
  const slope = x.reduce((sum, each, at) => sum + (each - centreX) * (y[at]! - centreY), 0) / squares;
  const residualSquares = x.reduce((sum, each, at) => sum + (y[at]! - centreY - slope * (each - centreX)) ** 2, 0);
  const residualSd = Math.sqrt(residualSquares / (count - 2));
  return {
    slope,
    intercept: centreY - slope * centreX,
    slopeSd: residualSd / Math.sqrt(squares),
    interceptSd: residualSd * Math.sqrt(1 / count + centreX ** 2 / squares),
    residualSquares,
    residualSd,
  };
};

/** Least squares y = slope x. */
export const fitThroughOrigin = (
  x: readonly number[],
  y: readonly number[],
): { readonly slope: number; readonly slopeSd: number; readonly residualSquares: number } => {
  const squares = x.reduce((sum, each) => sum + each * each, 0);
  const slope = x.reduce((sum, each, at) => sum + each * y[at]!, 0) / squares;
  const residualSquares = x.reduce((sum, each, at) => sum + (y[at]! - slope * each) ** 2, 0);
  return { slope, slopeSd: Math.sqrt(residualSquares / (x.length - 1) / squares), residualSquares };
};

/** Three answers to three questions: the shop's money (by size), the usual melt (each alike), a constant error in grams. */
export const recoveries = (
  out: readonly number[],
  into: readonly number[],
): { readonly overall: number; readonly meanOfEach: number; readonly throughOrigin: number } => ({
  overall: out.reduce((sum, each) => sum + each, 0) / into.reduce((sum, each) => sum + each, 0),
  meanOfEach: mean(out.map((each, at) => each / into[at]!)),
  throughOrigin: fitThroughOrigin(into, out).slope,
});
