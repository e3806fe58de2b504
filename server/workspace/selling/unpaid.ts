/** Silver that a settlement does not pay for, by their assay, or by our own where theirs does not speak of it. */
import { type Decimal, decimal } from '../../quantity/decimal';
import type { Money } from '../../quantity/money';
import { asDecimal } from './known';
import { unpaidIn } from './offers';
import type { Settlement } from './settlements';

export interface UnpaidSilver {
  readonly fineGrams: Decimal;
  /** At its full price. */
  readonly value: Money;
}

/** Silver worth less than this share of what is paid is no matter to speak of (common practice, no source). */
export const LEAST_UNPAID = 0.01;

/** None where a share of it is named, be it nought; where the terms pay it, which is another finding; where it is too little, or has no price. */
export const unpaidSilverOf = ({
  checked,
  words,
  terms,
  own,
  market,
  melted,
  received,
  grams,
}: Settlement): UnpaidSilver | undefined => {
  if (words.pays.has('Ag') || terms?.pays.has('Ag')) return undefined;
  const { payout } = checked;
  const share = own.get('Ag')?.share.value;
  const weight = (melted ?? received ?? grams)?.value;
  const isNamed = words.assay.has('Ag') || share === undefined || !weight;
  const unpaid = isNamed ? payout.unpaid : [{ metal: 'Ag', fineGrams: weight.times(asDecimal(share)) }];
  const silver = unpaidIn({ unpaid }, market).find(({ metal }) => metal === 'Ag');
  return silver?.value.amount.greaterThanOrEqualTo(payout.total.amount.times(decimal(LEAST_UNPAID)))
    ? { fineGrams: silver.fineGrams, value: silver.value }
    : undefined;
};
