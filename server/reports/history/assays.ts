/** Our own assays against those of others on the same metal. */
import { biasOf, FEWEST_PAIRS } from '../../engine/longview/bias';
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
  const { mean, interval, deviation, expected, shown } = bias;
  const reach = interval ? (interval.high - interval.low) / 2 : expected;
  const places = Math.min(2, placesFor(1000 * reach));
  const cell = (value: number | undefined, sign = ''): Cell =>
    value === undefined
      ? NOTHING
      : figure(`${value > 0 ? sign : ''}${showPlaces(decimal(1000 * value), places)} ‰`, value);
  return [
    [
      word(metal),
      word(own),
      word(other),
      count(bias.count),
      cell(mean, '+'),
      cell(interval?.low, '+'),
      cell(interval?.high, '+'),
      cell(deviation),
      cell(expected),
      word(remark(bias.count, shown, mean)),
    ],
  ];
};

const remark = (pairs: number, shown: boolean, mean: number): string => {
  if (pairs === 1) return 'one pair tells nothing of a bias';
  const few = pairs < FEWEST_PAIRS ? `, from ${pairs} pairs only` : '';
  if (!shown) return `no bias shown${few}`;
  return `we find ${mean > 0 ? 'more' : 'less'}${few}`;
};
