/** What is paid against what was offered before the lots went: a sum for the whole, or what the offered shares make of their own figures. */
import type { Decimal } from '../../quantity/decimal';
import { addMoney, type Money, minorUnit, negateMoney, roundMoney } from '../../quantity/money';
import { isComplete, type Payout } from './payout';
import { type Figures, type Line, reckon, type SettlementCase } from './stated';

interface Paid {
  readonly paid: Money;
  /** With every other line put right; what is paid where none differs. */
  readonly right: Money;
  readonly figures: Figures | undefined;
}

/** None where nothing was offered, or where it cannot be reckoned. */
export const judgedOffer = (of: SettlementCase, { paid, right, figures }: Paid): Line | undefined => {
  const offered = sumIn(of, figures);
  if (!offered) return undefined;
  const { sum, allowed } = offered;
  const base = { subject: 'offer', of: undefined, ours: sum.amount, theirs: paid.amount } as const;
  const line = { ...base, allowed: allowed.toNumber(), owed: undefined, place: of.words.total?.detail.place };
  // Offered shares are worked through in the lines themselves: they are a line only where these do not tell it.
  const isQuiet = of.offered !== undefined && 'deal' in of.offered;
  if (sum.amount.minus(paid.amount).lessThanOrEqualTo(allowed) && isQuiet) return undefined;
  if (sum.amount.minus(paid.amount).lessThanOrEqualTo(allowed))
    return { ...line, verdict: 'agrees', because: undefined };
  const rest = addMoney(sum, negateMoney(right.amount.greaterThan(paid.amount) ? right : paid));
  return rest.amount.lessThanOrEqualTo(allowed)
    ? { ...line, verdict: 'agrees', because: 'other lines' }
    : { ...line, verdict: 'differs', because: undefined, owed: roundMoney(rest) };
};

const sumIn = (
  of: SettlementCase,
  figures: Figures | undefined,
): { readonly sum: Money; readonly allowed: Decimal } | undefined => {
  if (!of.offered) return undefined;
  if ('sum' in of.offered) return of.offered;
  const payout = figures && reckon(of, { ...figures, deal: of.offered.deal });
  return payout && isComplete(payout) ? { sum: payout.total, allowed: coins(of, payout) } : undefined;
};

/** A coin for each line: it may be rounded another way. */
const coins = ({ currency }: SettlementCase, { metals, charges, credits }: Payout): Decimal =>
  minorUnit(currency).times(metals.length + charges.length + credits.length);
