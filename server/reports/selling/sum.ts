/** The sum of a payout, one step to a line, so that it can be followed by hand. */
import { type ChargeLine, type Consigned, isComplete, type MetalLine, type Payout } from '../../engine/selling/payout';
import { type Decimal, toPlain } from '../../quantity/decimal';
import { negateMoney, showMoney } from '../../quantity/money';
import { assayWords, chargeWords, percent, priceWords } from './terms';

/** Grams to a milligram: finer than anything that is paid for. */
export const gramWords = (of: Decimal): string => `${of.toFixed(3)} g`;

export interface SumRow {
  readonly left: string;
  readonly right: string;
}

/** One row for each metal, charge and credit, then the total. `shares` gives the assay of each metal. */
export const sumRows = (payout: Payout, { grams, shares }: Pick<Consigned, 'grams' | 'shares'>): readonly SumRow[] => [
  ...payout.metals.map((line) => metalRow(line, grams, shares)),
  ...payout.charges.map(chargeRow),
  ...payout.credits.map((credit) => ({ left: 'credit', right: showMoney(credit) })),
  { left: isComplete(payout) ? 'total' : 'total of what has a price and a rate', right: showMoney(payout.total) },
];

const metalRow = (line: MetalLine, grams: Decimal, shares: Consigned['shares']): SumRow => {
  const share = shares.get(line.metal);
  const assay = share ? ` × ${assayWords(share, 4)}` : '';
  const steps = [`${line.metal} ${toPlain(grams)} g${assay} = ${gramWords(line.fineGrams)} fine`];
  if (!line.lessGrams.isZero()) steps.push(`less ${gramWords(line.lessGrams)}`);
  if (line.keptGrams) steps.push(`they keep ${gramWords(line.keptGrams)}`);
  else steps.push(`× ${percent(line.share)}`);
  const words = `${steps.join(', ').replace(', ×', ' ×')} = ${gramWords(line.payableGrams)}`;
  return { left: `${words} at ${priceWords(line.price)}`, right: showMoney(line.value) };
};

const chargeRow = ({ word, term, cost }: ChargeLine): SumRow => ({
  left: `charge ${word} ${chargeWords(term)}`,
  right: showMoney(negateMoney(cost)),
});

/** In two columns. */
export const inColumns = (rows: readonly SumRow[]): readonly string[] => {
  if (rows.length === 0) return [];
  const [left, right] = [
    Math.max(...rows.map((row) => row.left.length)),
    Math.max(...rows.map((row) => row.right.length)),
  ];
  return rows.map((row) => `${row.left.padEnd(left)}  ${row.right.padStart(right)}`);
};

/** Always with figures of money that were not paid. */
export const NO_OFFER = 'These figures are no offer and no advice. Records of purchase and tax follow local law.';
