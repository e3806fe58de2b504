/** The losses of one kind of step in their order, under every chart. */

import { MOST_EARLIER } from '../learnt';
import {
  type Limits as ChartLimits,
  ewmaChart,
  FEWEST,
  type IndividualsChart,
  individualsChart,
} from '../statistics/charts';
import { skewness } from '../statistics/robust';
import { firstRun, RUN_TESTS, type RunTest } from '../statistics/runs';
import type { Limits } from '../workshop';
import { type CusumSettings, DEFAULT_CUSUM, risesIn, type Shift } from './creep';
import type { Done } from './done';

export interface ChartSettings {
  readonly cusum: CusumSettings;
  /** What the newest figure counts in a moving average, 0 to 1. */
  readonly ewmaWeight: number;
}

/** Of an EWMA: finds a shift of about one standard deviation soonest (0.2 to 0.3 is usual: NIST/SEMATECH e-Handbook 6.3.2.4). */
export const DEFAULT_EWMA = 0.2;

export const chartSettings = ({ cusumSlack, cusumLimit, ewmaWeight }: Limits): ChartSettings => ({
  cusum: { slack: cusumSlack ?? DEFAULT_CUSUM.slack, limit: cusumLimit ?? DEFAULT_CUSUM.limit },
  ewmaWeight: ewmaWeight ?? DEFAULT_EWMA,
});

export interface LossSeries {
  readonly name: string;
  readonly steps: readonly Done[];
  /** Loss as a share of what went in. */
  readonly values: readonly number[];
  readonly chart: IndividualsChart;
  /** Drawn up on logarithms, since all losses are above nought, span a decade and lie more evenly so: the limits are in shares again. */
  readonly byLogarithms: boolean;
  readonly limits: ChartLimits | undefined;
  readonly centre: number;
  /** Runs that chance seldom makes, and where each first holds among the last `RECENT`. */
  readonly runs: readonly { readonly test: RunTest; readonly at: number }[];
  /** Indexes among the last `RECENT` at which the moving average is beyond its limits; none of too few. */
  readonly ewmaBeyond: readonly number[];
  readonly rises: readonly Shift[];
}

/** Every series of which a loss is known, the longest first. */
export const lossSeries = (done: readonly Done[], settings: ChartSettings): readonly LossSeries[] => {
  const bySeries = new Map<string, Done[]>();
  for (const one of done) {
    if (!one.loss) continue;
    const all = bySeries.get(one.series);
    if (all) all.push(one);
    else bySeries.set(one.series, [one]);
  }
  return [...bySeries]
    .map(([name, steps]) => seriesOf(name, steps, settings))
    .sort((a, b) => b.steps.length - a.steps.length || (a.name < b.name ? -1 : 1));
};

/** Runs are looked for among so many last figures, as many as the journal learns from: in a long record chance makes every run somewhere. */
export const RECENT = MOST_EARLIER;

const DECADE = 10;

const seriesOf = (name: string, steps: readonly Done[], settings: ChartSettings): LossSeries => {
  const values = steps.map(({ loss }) => loss!.share);
  const least = Math.min(...values);
  const mayBe = least > 0 && Math.max(...values) >= DECADE * least;
  const logarithms = mayBe ? values.map(Math.log10) : values;
  // Where one of them is nearly nought the span alone says nothing: its logarithm would lie far below all others, and the limits far apart.
  const byLogarithms = mayBe && Math.abs(skewness(logarithms)) < Math.abs(skewness(values));
  const drawn = byLogarithms ? logarithms : values;
  const chart = individualsChart(drawn);
  const back = (value: number): number => (byLogarithms ? 10 ** value : value);
  const enough = drawn.length >= FEWEST && chart.sigma > 0;
  const z = drawn.map((value) => (value - chart.centre) / chart.sigma);
  const recent = Math.max(0, drawn.length - RECENT);
  const ewma = enough
    ? ewmaChart(drawn, { weight: settings.ewmaWeight, centre: chart.centre, sigma: chart.sigma })
    : undefined;
  return {
    name,
    steps,
    values,
    chart,
    byLogarithms,
    limits: chart.limits && { low: back(chart.limits.low), high: back(chart.limits.high) },
    centre: back(chart.centre),
    runs: enough ? RUNS_LOOKED_AT.flatMap((test) => runAt(z, recent, test)) : [],
    ewmaBeyond: ewma?.beyond.filter((at) => at >= recent) ?? [],
    rises: risesIn(values, settings.cusum),
  };
};

/** The first four of the eight, which together cry wolf less than once in a hundred figures (a library's note on Nelson's tests). */
const RUNS_LOOKED_AT = RUN_TESTS.slice(1, 4);

const runAt = (z: readonly number[], from: number, test: RunTest): { test: RunTest; at: number }[] => {
  const at = firstRun(z.slice(from), test);
  return at === undefined ? [] : [{ test, at: from + at }];
};
