/** Our own assays against those of others on the same metal. */
import { type Bias, biasOf, FEWEST_PAIRS } from '../../engine/longview/bias';
import type { Comparison } from '../../engine/longview/pairs';
import { decimal } from '../../quantity/decimal';
import { placesFor, showPlaces } from '../../quantity/show';
import { type Cell, count, figure, NOTHING, type Table, word } from '../table';

/** Mean of own less other, in parts per thousand of the mass. */
export const assayTable = (comparisons: readonly Comparison[]): Table => ({
  key: 'assays',
  title: 'our own assays against others on the same metal',
  columns: [
    { key: 'metal', head: 'metal' },
    { key: 'own', head: 'own' },
    { key: 'other', head: 'against' },
    { key: 'pairs', head: 'pairs', right: true },
    { key: 'mean', head: 'own less other', right: true },
    { key: 'low', head: '95 % from', right: true },
    { key: 'high', head: 'to', right: true },
    { key: 'deviation', head: 'scatter', right: true },
    { key: 'expected', head: 'expected', right: true },
    { key: 'remarks', head: '' },
  ],
  rows: comparisons.flatMap(rowOf),
  notes:
    comparisons.length === 0
      ? ['No lot has an assay of our own and one of another.']
      : ['In parts per thousand of the mass. Expected is what the stated errors of both let one pair differ by.'],
});

const rowOf = ({ metal, own, other, pairs }: Comparison): (readonly Cell[])[] => {
  const bias = biasOf(pairs);
  if (!bias) return [];
  const { mean, interval, deviation, expected } = bias;
  const places = placesOf(bias);
  const cell = (value: number | undefined, show = thousandths): Cell =>
    value === undefined ? NOTHING : figure(`${show(value, places)} ‰`, value);
  return [
    [
      word(metal),
      word(own),
      word(other),
      count(bias.count),
      cell(mean, withSign),
      cell(interval?.low, withSign),
      cell(interval?.high, withSign),
      cell(deviation),
      cell(expected),
      word(remark(bias)),
    ],
  ];
};

/** As far as the mean is known; where all pairs agree, as far as one is. */
export const placesOf = ({ interval, expected }: Bias): number =>
  Math.min(2, placesFor(1000 * ((interval && (interval.high - interval.low) / 2) || expected)));

const thousandths = (share: number, places: number): string => showPlaces(decimal(1000 * share), places);

/** `+2.1`, `0.0`, `-0.3`: of ours less theirs. */
export const withSign = (share: number, places: number): string => {
  const shown = thousandths(share, places);
  return Number(shown) > 0 ? `+${shown}` : shown;
};

const remark = (bias: Bias): string =>
  bias.shown ? `we find ${bias.mean > 0 ? 'more' : 'less'}${fewWords(bias)}` : noneShown(bias);

/** Where no bias is shown; of one pair none can be, and none of pairs that are all off by the same. */
export const noneShown = (bias: Bias): string => {
  if (bias.count === 1) return 'one pair tells nothing of a bias';
  if (!bias.interval) return 'all pairs differ by the same, which tells nothing of chance';
  return `no bias shown${fewWords(bias)}`;
};

/** `, from 3 pairs only`. */
export const fewWords = ({ count }: Bias): string => (count < FEWEST_PAIRS ? `, from ${count} pairs only` : '');
