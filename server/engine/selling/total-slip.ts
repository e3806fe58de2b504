/** The one slip in a sum that makes their total out of their own lines: a line left out, taken twice, or on the wrong side; two digits exchanged. */
import { type Decimal, decimal, isNumberText } from '../../quantity/decimal';
import type { Place } from '../../text/place';
import type { DealWords } from './deal';
import type { Payout } from './payout';

export interface TotalSlip {
  readonly kind: 'left out' | 'taken twice' | 'on the wrong side' | 'digits exchanged';
  /** A metal's symbol, or `charge` or `credit` and its word; none where two digits of the total itself are exchanged. */
  readonly line: string | undefined;
  readonly place: Place | undefined;
}

interface Part {
  readonly line: string;
  readonly place: Place | undefined;
  /** What it adds to the sum. */
  readonly value: Decimal;
}

/** None where no slip makes the total to within `allowed`, or where more than one does. */
export const totalSlipOf = (words: DealWords, payout: Payout, allowed: Decimal): TotalSlip | undefined => {
  const { total } = words;
  if (!total) return undefined;
  const difference = total.value.amount.minus(payout.total.amount);
  const makes = (change: Decimal): boolean => difference.minus(change).abs().lessThanOrEqualTo(allowed);
  const slips = partsOf(words, payout).flatMap(({ line, place, value }): TotalSlip[] => [
    ...(makes(value.negated()) ? [{ kind: 'left out', line, place } as const] : []),
    ...(makes(value) ? [{ kind: 'taken twice', line, place } as const] : []),
    ...(makes(value.times(-2)) ? [{ kind: 'on the wrong side', line, place } as const] : []),
  ]);
  const exchanged = swapsOf(total.detail.money?.digits.text ?? '').some((one) =>
    one.minus(payout.total.amount.abs()).abs().lessThanOrEqualTo(allowed),
  );
  const all: readonly TotalSlip[] = exchanged
    ? [...slips, { kind: 'digits exchanged', line: undefined, place: undefined }]
    : slips;
  return all.length === 1 ? all[0] : undefined;
};

const partsOf = (words: DealWords, { metals, charges, credits }: Payout): readonly Part[] => [
  ...metals.map(({ metal, value }): Part => {
    const spoken = words.pays.get(metal) ?? words.prices.get(metal);
    return { line: metal, place: spoken?.detail.place, value: value.amount };
  }),
  ...charges.map(
    ({ word, cost }): Part => ({
      line: `charge ${word}`,
      place: words.charges.get(word)?.detail.place,
      value: cost.amount.negated(),
    }),
  ),
  // Where one of several credits has no rate the others cannot be told apart.
  ...(credits.length === words.credits.length
    ? credits.map(
        ({ amount }, at): Part => ({
          line: `credit ${words.credits[at]!.value.word}`.trim(),
          place: words.credits[at]!.detail.place,
          value: amount,
        }),
      )
    : []),
];

/** The figure with each two neighbouring digits exchanged, where they differ. */
export const swapsOf = (text: string): readonly Decimal[] => {
  const places = [...text].flatMap((digit, at) => (/\d/.test(digit) ? [at] : []));
  return places.slice(1).flatMap((right, at) => {
    const left = places[at]!;
    const digits = [...text];
    [digits[left], digits[right]] = [digits[right]!, digits[left]!];
    const swapped = digits.join('');
    return swapped !== text && isNumberText(swapped) ? [decimal(swapped)] : [];
  });
};
