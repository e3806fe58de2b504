/** A metal unaccounted for, step by step and in all, with the limit of error of the sum. */
import type { MetalRunning } from '../../engine/longview/running';
import { FEWEST } from '../../engine/statistics/charts';
import { decimal } from '../../quantity/decimal';
import { placesFor, showPlaces } from '../../quantity/show';
import { type Cell, figure, type Table, word } from '../table';
import { listWords, stepWords } from '../words';

export const runningTable = (of: MetalRunning, coverage: number): Table => ({
  key: `running_${of.metal.toLowerCase()}`,
  title: `${of.metal} unaccounted for, beyond what is usually lost`,
  columns: [
    { key: 'date', head: 'day' },
    { key: 'step', head: 'step' },
    { key: 'grams', head: 'missing', right: true },
    { key: 'limit', head: '± of it', right: true },
    { key: 'score', head: 'in its errors', right: true },
    { key: 'sum', head: 'sum', right: true },
    { key: 'sum_limit', head: '± of the sum', right: true },
  ],
  rows: of.steps.map(({ step, date }, at) => {
    const { sum, limitOfError } = of.sums[at]!;
    return [
      word(date),
      word(stepWords(step.entry)),
      ...pair(of.grams[at]!, coverage * of.us[at]!),
      figure(showPlaces(decimal(of.scores[at]!), 1), of.scores[at]!),
      ...pair(sum, limitOfError),
    ];
  }),
  notes: notesOf(of),
});

const pair = (grams: number, limit: number): Cell[] => {
  const places = Math.min(4, placesFor(limit));
  return [grams, limit].map((value) => figure(`${showPlaces(decimal(value), places)} g`, value));
};

const notesOf = ({ steps, same, scores, chart, cusum, ewma, sums, metal }: MetalRunning): string[] => {
  const last = sums.at(-1);
  if (!last) return [`No step has ${metal} known on both sides without a guess.`];
  const nameAt = (at: number): string => stepWords(steps[at]!.step.entry);
  const beyond = scores.flatMap((score, at) => (Math.abs(score) > 3 ? [nameAt(at)] : []));
  const [signal] = cusum.signals;
  return [
    last.beyond
      ? `In all more is ${last.sum > 0 ? 'missing' : 'too much'} than weighing, assays and usual losses explain.`
      : 'In all, weighing, assays and usual losses explain it.',
    ...(last.sharedU ** 2 > 0.5 * last.u ** 2 && steps.length > 1
      ? ['Most of its limit of error is shared between steps, as by one assay: more steps do not sharpen it.']
      : []),
    ...(beyond.length > 0 ? [`Beyond three times its errors: ${listWords(beyond)}.`] : []),
    ...(signal
      ? [
          `The running sum leaves its limit ${signal.side === 'high' ? 'upwards' : 'downwards'} at ${nameAt(signal.at)}; it began about ${nameAt(signal.began)}.`,
        ]
      : []),
    ...(ewma.beyond.length > 0 ? [`The moving average leaves its limits first at ${nameAt(ewma.beyond[0]!)}.`] : []),
    ...(same > 0
      ? [
          `${same} more ${same === 1 ? 'step lies' : 'steps lie'} between the same assays as one of these: each gap is counted once, where it comes to light.`,
        ]
      : []),
    ...(steps.length < FEWEST
      ? [`${steps.length} ${steps.length === 1 ? 'step is' : 'steps are'} few: this says little.`]
      : []),
    ...(steps.length >= FEWEST && chart.sigma > 1.5
      ? ['They scatter more than their errors say: an error is stated too small, or a usual loss too narrow.']
      : []),
  ];
};
