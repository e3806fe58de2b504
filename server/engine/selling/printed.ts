/** What a sheet prints of its own sums: the payable metal, and the money for it. Each is worked through again from what stands before it. */
import { type Decimal, decimal } from '../../quantity/decimal';
import { addMoney, type Money, minorUnit, money, negateMoney, roundMoney } from '../../quantity/money';
import type { MetalLine, Payout } from './payout';
import type { Line, SettlementCase } from './stated';

/** The payout as the sheet has it: the sums that it prints in place of those that its figures come to. */
export const asPrinted = (of: SettlementCase, payout: Payout): Payout => {
  const { printed } = of.words;
  if (printed.size === 0) return payout;
  const metals = payout.metals.map((line): MetalLine => {
    const { payable, worth } = printedOf(of, line);
    return { ...line, payableGrams: payable, value: worth };
  });
  const gained = metals.map(({ value }, at) => addMoney(value, negateMoney(payout.metals[at]!.value)));
  return { ...payout, metals, total: addMoney(payout.total, ...gained) };
};

/** What printed sums that agree make to the total by their rounding: nothing is owed for it. */
export const roundedBy = (of: SettlementCase, payout: Payout, lines: readonly Line[]): Money => {
  const agrees = (subject: Line['subject'], metal: string): boolean =>
    lines.some((line) => line.subject === subject && line.of === metal && line.verdict === 'agrees');
  const printed = new Map(
    [...of.words.printed].map(([metal, { payable, worth }]) => [
      metal,
      // Money for a payable metal that is wrong is wrong with it.
      payable && !agrees('payable', metal)
        ? NOTHING_PRINTED
        : { payable, worth: agrees('worth', metal) ? worth : undefined },
    ]),
  );
  const rounded = asPrinted({ ...of, words: { ...of.words, printed } }, payout);
  return addMoney(rounded.total, negateMoney(payout.total));
};

const NOTHING_PRINTED = { payable: undefined, worth: undefined };

const printedOf = (of: SettlementCase, line: MetalLine): { readonly payable: Decimal; readonly worth: Money } => {
  const { payable, worth } = of.words.printed.get(line.metal) ?? {};
  const grams = payable?.value ?? line.payableGrams;
  const own = worth && of.convert(worth.value);
  return { payable: grams, worth: own ?? (payable ? worthOf(of, line, grams) : line.value) };
};

const worthOf = (of: SettlementCase, { price }: MetalLine, grams: Decimal): Money =>
  roundMoney({ amount: grams.times(price.amount).div(price.perGrams), currency: price.currency }, of.terms?.rounding);

/**
 * A printed sum agrees to one in its last place (rounding or cutting; 14 736.18 × 0.98 = 14 441.46, printed 14 441.45, in a refiner's published
 * returnable sheet). What it is off by more is disputed; the money is held against the payable metal as they print it, so that a slip is told once.
 */
export const judgedPrinted = (of: SettlementCase, payout: Payout): readonly Line[] =>
  [...of.words.printed].flatMap(([metal, { payable, worth }]): readonly Line[] => {
    const line = payout.metals.find((one) => one.metal === metal);
    const lines: Line[] = [];
    const base = { of: metal, owed: undefined, because: undefined } as const;
    if (payable) {
      const [theirs, ours] = [payable.value, line?.payableGrams];
      const place = payable.detail.place;
      if (!line || !ours) lines.push({ ...base, subject: 'payable', theirs, ours, place, ...UNCHECKED });
      else {
        const differs = ours.minus(theirs).abs().greaterThan(payable.step);
        const owed = addMoney(worthOf(of, line, ours), negateMoney(worthOf(of, line, theirs)));
        lines.push({
          ...base,
          subject: 'payable',
          theirs,
          ours,
          place,
          ...judged(ours, theirs, payable.step, differs),
          ...(differs ? { owed } : {}),
        });
      }
    }
    if (worth) {
      const place = worth.detail.place;
      const theirs = of.convert(worth.value)?.amount;
      const ours = line && worthOf(of, line, payable?.value ?? line.payableGrams).amount;
      if (!theirs || !ours) lines.push({ ...base, subject: 'worth', theirs, ours, place, ...UNCHECKED });
      else {
        const coin = minorUnit(of.currency);
        const differs = ours.minus(theirs).abs().greaterThan(coin);
        const owed = money(ours.minus(theirs), of.currency);
        lines.push({
          ...base,
          subject: 'worth',
          theirs,
          ours,
          place,
          ...judged(ours, theirs, coin, differs),
          ...(differs ? { owed } : {}),
        });
      }
    }
    return lines;
  });

const UNCHECKED = { allowed: undefined, verdict: 'unchecked', because: 'left out' } as const;

const judged = (
  ours: Decimal,
  theirs: Decimal,
  step: Decimal,
  differs: boolean,
): Pick<Line, 'allowed' | 'verdict' | 'because'> => ({
  allowed: step.toNumber(),
  verdict: differs ? 'differs' : 'agrees',
  because:
    differs ||
    ours
      .minus(theirs)
      .abs()
      .lessThanOrEqualTo(step.times(decimal('0.5')))
      ? undefined
      : 'rounding',
});
