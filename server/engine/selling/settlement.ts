/**
 * A settlement held against the journal, line by line. Each line that does not agree is put right alone, and what that makes to the sum is what
 * the line is disputed for: so every amount is a payout less a payout, and none is estimated.
 */
import { addMoney, type Money, negateMoney } from '../../quantity/money';
import { judgedAssays, judgedWeights } from './judged-lot';
import { judgedCharges, judgedPrices, judgedShares, judgedTotal, judgedUnpaid } from './judged-terms';
import { isComplete, type Payout } from './payout';
import { type Line, reckon, type SettlementCase, statedFigures } from './stated';

export interface Checked {
  /** Their own figures, worked through again. */
  readonly payout: Payout;
  /** The same with every line put right. */
  readonly right: Payout;
  readonly lines: readonly Line[];
  /** What they say they pay; else what their figures come to. */
  readonly stated: Money;
  /** By how much they pay too little; below nought too much. */
  readonly owed: Money;
}

/**
 * None where there is no weight, no assay or no deal to reckon with. Throws a RangeError on a total in another currency than its lines, which is
 * looked at before.
 */
export const checkSettlement = (of: SettlementCase): Checked | undefined => {
  const figures = statedFigures(of);
  if (!figures) return undefined;
  const payout = reckon(of, figures);
  const judged = [
    ...judgedWeights(of),
    ...judgedAssays(of, figures),
    ...judgedShares(of, figures),
    ...judgedCharges(of, figures, payout),
    ...judgedPrices(of, figures),
    ...judgedUnpaid(of, figures),
  ];
  const differing = judged.flatMap(({ verdict, mend }) => (verdict === 'differs' && mend ? [mend] : []));
  const right = reckon(
    of,
    differing.reduce((so, mend) => mend(so), figures),
  );
  const lines = judged.map(({ mend, ...line }): Line => {
    const owed = line.verdict === 'differs' && mend ? less(reckon(of, mend(figures)).total, payout.total) : undefined;
    return { ...line, owed };
  });
  const stated = of.words.total?.value ?? payout.total;
  const total = judgedTotal(of, payout);
  // A sum that nothing is held against, or that cannot be reckoned whole, leaves what the lines themselves are disputed for.
  const held = total.because === 'price not said' || !isComplete(payout) ? payout.total : stated;
  return { payout, right, lines: [...lines, total], stated, owed: less(right.total, held) };
};

const less = (a: Money, b: Money): Money => addMoney(a, negateMoney(b));
