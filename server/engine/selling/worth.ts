/** How sure a payout is: what the fine weight of the lot leaves open, and a payable share that is only known as a range. */
import { type Inexact, inexact, NOTHING, plus, scaled } from '../accounts/inexact';
import { COMMON_SHARE } from './deal';
import type { Payout } from './payout';

/**
 * Money as a function of the fine metal that it is paid for, to first order (GUM 5.1.2); a band of fineness or a least deduction that the
 * error reaches past is not seen by it.
 */
export const spreadOf = (payout: Payout, fineGrams: ReadonlyMap<string, Inexact>): Inexact => {
  const slopes = slopesOf(payout);
  let total: Inexact = { ...NOTHING, value: payout.total.amount.toNumber() };
  for (const [metal, fine] of fineGrams) {
    const slope = slopes.get(metal);
    if (slope) total = plus(total, scaled({ ...fine, value: 0 }, slope));
  }
  return total;
};

/** Money that one gram more of fine metal brings, charges reckoned on it taken off. */
const slopesOf = ({ metals, charges }: Payout): ReadonlyMap<string, number> =>
  new Map(
    metals.map(({ metal, perFineGram }) => {
      const shares = charges.reduce((so, { term }) => {
        const isOfIt =
          term.currency === undefined && (term.of === undefined || term.of === 'value' || term.of === metal);
        return isOfIt ? so + term.amount.toNumber() : so;
      }, 0);
      const byWeight = charges.reduce(
        (so, { term }) => (term.per && term.of === metal ? so + term.amount.div(term.per.factor).toNumber() : so),
        0,
      );
      return [metal, perFineGram * (1 - shares) - byWeight];
    }),
  );

const COMMON = { label: 'share that buyers commonly pay' };

/** Of a payout by the common share: the rectangle from its low to its high end. */
export const withCommonShare = (of: Inexact, goldValue: number): Inexact => {
  const width = COMMON_SHARE.high.minus(COMMON_SHARE.low).div(COMMON_SHARE.best).toNumber();
  return plus(of, { ...inexact(0, (goldValue * width) / Math.sqrt(12), COMMON), value: 0 });
};
