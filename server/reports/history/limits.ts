/** What each kind of step lost, against limits of its own: what lies beyond, what runs, what creeps. */

import type { Done } from '../../engine/longview/done';
import { type ChartSettings, DEFAULT_EWMA, type LossSeries, lossSeries, RECENT } from '../../engine/longview/series';
import { ROUGH_BELOW, smallNumbers } from '../../engine/statistics/charts';
import { cusumRunLength } from '../../engine/statistics/cusum';
import { decimal } from '../../quantity/decimal';
import { showDigits } from '../../quantity/show';
import { type Cell, count, figure, NOTHING, type Table, word } from '../table';
import { listWords, stepWords } from '../words';

/** Kinds with fewer losses than two have nothing to show. */
export const limitsTable = (done: readonly Done[], settings: ChartSettings): Table => {
  const all = lossSeries(done, settings).filter(({ steps }) => steps.length > 1);
  const few = all.filter(({ limits }) => !limits).length;
  const rough = all.some(({ limits, steps }) => limits && steps.length < ROUGH_BELOW);
  return {
    key: 'limits',
    title: 'loss of weight against its own limits',
    columns: [
      { key: 'kind', head: 'kind of step' },
      { key: 'steps', head: 'steps', right: true },
      { key: 'centre', head: 'centre', right: true },
      { key: 'low', head: 'limits from', right: true },
      { key: 'high', head: 'to', right: true },
      { key: 'remarks', head: '' },
    ],
    rows: all.map(rowOf),
    notes: [
      ...(all.length === 0 ? ['No kind of step has two losses yet that are known without a guess.'] : []),
      ...(few > 0
        ? [
            `${few === all.length ? 'All' : few} of these ${few === 1 ? 'has' : 'have'} too few steps for limits, which want 8.`,
          ]
        : []),
      ...(rough ? [`Limits are rough until there are ${ROUGH_BELOW} steps.`] : []),
      'Limits are three deviations about the mean, by the ranges of neighbours (NIST/SEMATECH e-Handbook 6.3.2.2).',
      `Runs and moving averages are looked for in the last ${RECENT} steps: chance alone shows a run in one kind of nine${settings.ewmaWeight === DEFAULT_EWMA ? ', a moving average in one of twenty' : ''}.`,
      `A creeping rise is told by the ranks of the losses, slack ${settings.cusum.slack} and limit ${settings.cusum.limit} deviations: ${falselyTold(settings)}. The moving average counts the newest loss ${Math.round(100 * settings.ewmaWeight)} %.`,
    ],
  };
};

/** So many steps are told of by chance so seldom that it says nothing to count them. */
const HARDLY_EVER = 1e6;

const falselyTold = ({ cusum: { slack, limit } }: ChartSettings): string => {
  const steps = cusumRunLength(slack, limit, 0, 1);
  return steps < HARDLY_EVER
    ? `by chance alone once in some ${showDigits(decimal(steps), 2)} steps of a kind`
    : 'by chance alone hardly ever, and of a small rise neither';
};

const rowOf = (series: LossSeries): readonly Cell[] => {
  const { name, steps, limits, centre } = series;
  return [
    word(name),
    count(steps.length),
    share(centre),
    limits ? share(limits.low) : NOTHING,
    limits ? share(limits.high) : NOTHING,
    word(remarksOf(series).join('; ')),
  ];
};

const share = (value: number): Cell => figure(`${showDigits(decimal(100 * value), 2)} %`, value);

/** `B beyond the limits: melt M57`, `nine in a row on one side, to melt M60`, `creeps up since melt M50`. */
export const remarksOf = ({ steps, chart, runs, ewmaBeyond, rises, byLogarithms }: LossSeries): string[] => {
  const nameAt = (at: number): string => stepWords(steps[at]!.step.entry);
  return [
    ...(chart.smallNumbers !== undefined && !chart.limits ? [smallNumbers(steps.length)!] : []),
    ...(chart.beyond.length > 0 ? [`beyond: ${listWords(chart.beyond.map(nameAt))}`] : []),
    ...runs.map(({ test, at }) => `${test.says}, to ${nameAt(at)}`),
    ...(ewmaBeyond.length > 0 ? [`moving average beyond its limits at ${nameAt(ewmaBeyond[0]!)}`] : []),
    ...rises.map(({ began, told }) => `creeps up from ${nameAt(began)}, told at ${nameAt(told)}`),
    ...(byLogarithms ? ['by logarithms'] : []),
  ];
};
