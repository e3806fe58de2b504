/** A metal that is unaccounted for, step by step: each in units of its own uncertainty, and all up to it as a sum. */
import { decimal } from '../../quantity/decimal';
import type { Measured } from '../../quantity/measured';
import { eachGapOnce } from '../accounts/balance';
import { type Inexact, spread } from '../accounts/inexact';
import { type EwmaChart, ewmaChart, type IndividualsChart, individualsChart } from '../statistics/charts';
import { type Cusum, cusum } from '../statistics/cusum';
import { type RunningSum, runningSum } from '../statistics/unaccounted';
import type { Done } from './done';
import type { ChartSettings } from './series';

export interface MetalRunning {
  readonly metal: string;
  readonly steps: readonly Done[];
  /** So many more steps lie between the same assays as a later one, and say what it says. */
  readonly same: number;
  /** Grams missing in each, and their standard uncertainties. */
  readonly grams: readonly number[];
  readonly us: readonly number[];
  /** grams / u: nought give or take one, where nothing but the stated errors and usual losses is at work. */
  readonly scores: readonly number[];
  readonly chart: IndividualsChart;
  /** Of the scores, whose centre and deviation are known beforehand: 0 and 1. */
  readonly cusum: Cusum;
  /** Of the scores too, from nought, with the limits of figures that share no error. */
  readonly ewma: EwmaChart;
  readonly sums: readonly RunningSum[];
}

/** Of the steps whose metal is known on both sides without a guess, and not beyond doubt exact. */
export const metalRunning = (
  metal: string,
  done: readonly Done[],
  { cusum: settings, ewmaWeight }: ChartSettings,
  coverage: number,
): MetalRunning => {
  const all = done.flatMap((step) => {
    const { unaccounted, cameBy } = step.metal(metal) ?? {};
    return unaccounted && cameBy && spread(unaccounted) > 0 ? [{ step, unaccounted, cameBy }] : [];
  });
  const known = eachGapOnce(
    all,
    ({ step }) => step.step,
    ({ cameBy }) => cameBy,
  );
  const grams = known.map(({ unaccounted }) => unaccounted.value);
  const us = known.map(({ unaccounted }) => spread(unaccounted));
  const scores = grams.map((value, at) => value / us[at]!);
  return {
    metal,
    same: all.length - known.length,
    steps: known.map(({ step }) => step),
    grams,
    us,
    scores,
    chart: individualsChart(scores),
    cusum: cusum(scores, { target: 0, ...settings }),
    ewma: ewmaChart(scores, { weight: ewmaWeight, centre: 0, sigma: 1 }),
    sums: runningSum(
      known.map(({ unaccounted }) => measuredOf(unaccounted)),
      coverage,
    ),
  };
};

const measuredOf = ({ value, sources, sizes }: Inexact): Measured => ({
  value: decimal(value),
  errors: sources.map((source, at) => ({ source, size: sizes[at]! })),
  guessed: false,
});
