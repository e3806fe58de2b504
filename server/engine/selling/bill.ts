/**
 * What the shop told a customer of a lot on toll, held against the journal as it now stands: the weights and the assay that were told, the share that
 * goes back, charges, total. A figure that was put right after the bill went out shows here.
 */
import type { Decimal } from '../../quantity/decimal';
import { addMoney, type Money, money, negateMoney } from '../../quantity/money';
import type { Terms } from '../workshop';
import { dealOf } from './deal';
import { lastDigit } from './judged-lot';
import { judgedPrices, judgedShares, judgedTotal } from './judged-terms';
import type { ChargeLine, Payout } from './payout';
import { type Figures, type Judged, type Line, reckon, type SettlementCase } from './stated';

export interface BillCase extends SettlementCase {
  /** By the journal: what came in, what is left of it as metal, and the mass fractions of that; none of what is not known. */
  readonly journal: {
    readonly receivedGrams: Decimal | undefined;
    readonly meltedGrams: Decimal | undefined;
    readonly shares: ReadonlyMap<string, Decimal>;
  };
  /** What charges come to on that lot, whatever of it is bought. */
  readonly costs: (charges: Terms['charges']) => readonly ChargeLine[];
}

export interface Bill {
  /** `theirs` is what the bill says, `ours` what the journal has. Money of the total is above nought whoever pays it. */
  readonly lines: readonly Line[];
  /** Values less charges: metal that is bought from them has a price on the bill. Below nought they pay. */
  readonly payout: Payout;
  /** What the bill says is to be paid; else what its lines come to. Above nought whoever pays it. */
  readonly total: Money;
  readonly payer: 'customer' | 'shop';
}

/** None where nothing can be reckoned: no weight on the bill or in the journal. */
export const checkBill = (of: BillCase): Bill | undefined => {
  const { words, journal } = of;
  const grams = of.melted?.value ?? of.received?.value ?? journal.meltedGrams ?? journal.receivedGrams;
  if (!grams) return undefined;
  const agreed = dealOf(words, of.terms);
  const isBought = (metal: string): boolean => words.prices.has(metal);
  const told = new Map([...words.assay].map(([metal, { share }]) => [metal, share]));
  const figures: Figures = {
    received: of.received?.value ?? journal.receivedGrams ?? grams,
    grams,
    shares: told.size > 0 ? told : journal.shares,
    deal: {
      pays: new Map([...(agreed?.pays ?? [])].filter(([metal]) => isBought(metal))),
      less: agreed?.less ?? new Map(),
      keeps: agreed?.keeps ?? new Map(),
      charges: new Map(),
      rounding: agreed?.rounding ?? 'half-even',
      fineStepGrams: agreed?.fineStepGrams,
    },
    prices: new Map([...words.prices].map(([metal, { value }]) => [metal, value])),
  };
  const said = new Map([...words.charges].map(([word, { value }]) => [word, value]));
  const charges = of.costs(said.size > 0 ? said : (of.terms?.charges ?? said));
  const payout = withCharges(reckon(of, figures), charges);
  const payer = figures.deal.pays.size > 0 && !payout.total.amount.isNegative() ? 'shop' : 'customer';
  const sign = payer === 'shop' ? 1 : -1;
  const judged: readonly Judged[] = [
    ...toldWeights(of),
    ...toldAssays(of),
    ...judgedShares(of, figures),
    ...billedCharges(of, charges),
    ...judgedPrices(of, figures),
  ];
  const total = judgedTotal(totalSigned(of, sign), payout);
  return {
    lines: [
      ...judged.map(({ mend: _, ...line }): Line => ({ ...line, owed: undefined })),
      { ...total, ours: total.ours?.times(sign), theirs: total.theirs?.times(sign), owed: undefined },
    ],
    payout,
    payer,
    total: words.total?.value ?? (sign > 0 ? payout.total : negateMoney(payout.total)),
  };
};

const withCharges = (payout: Payout, charges: readonly ChargeLine[]): Payout => ({
  ...payout,
  charges,
  total: addMoney(payout.total, ...charges.map(({ cost }) => negateMoney(cost))),
});

const billedCharges = ({ words, terms, costs }: BillCase, billed: readonly ChargeLine[]): readonly Judged[] => {
  const byTerms = terms ? costs(terms.charges) : [];
  const costIn = (lines: readonly ChargeLine[], word: string): Decimal | undefined =>
    lines.find((line) => line.word === word)?.cost.amount;
  return [...words.charges].map(([word, { detail }]): Judged => {
    const [theirs, ours] = [costIn(billed, word), costIn(byTerms, word)];
    const base = { subject: 'charge', of: word, theirs, ours, allowed: undefined, place: detail.place } as const;
    if (!terms) return { ...base, verdict: 'unchecked', because: 'no terms' };
    if (!theirs || (!ours && terms.charges.has(word))) return { ...base, verdict: 'unchecked', because: 'left out' };
    const verdict = ours?.equals(theirs) ? 'agrees' : 'differs';
    return { ...base, verdict, because: ours ? undefined : 'not agreed' };
  });
};

/** What they are to pay counts as less than nothing, as charges do. */
const totalSigned = (of: BillCase, sign: 1 | -1): SettlementCase => {
  const { total } = of.words;
  if (!total) return of;
  const value = money(total.value.amount.times(sign), total.value.currency);
  return { ...of, words: { ...of.words, total: { ...total, value } } };
};

/** A figure is copied onto a bill: it is the journal's to the last digit that was written. */
const toldWeights = ({ words, received, melted, journal }: BillCase): readonly Judged[] =>
  (
    [
      ['received', received, journal.receivedGrams],
      ['melted', melted, journal.meltedGrams],
    ] as const
  ).flatMap(([subject, told, ours]): Judged[] => {
    const spoken = words[subject];
    if (!spoken || !told) return [];
    const base = { subject, of: undefined, theirs: told.value, ours, place: spoken.detail.place } as const;
    if (!ours) return [{ ...base, allowed: undefined, verdict: 'unchecked', because: 'not weighed' }];
    const allowed = lastDigit(spoken.value);
    const differs = ours.minus(told.value).abs().greaterThan(allowed);
    return [{ ...base, allowed: allowed.toNumber(), verdict: differs ? 'differs' : 'agrees', because: undefined }];
  });

const toldAssays = ({ words, journal }: BillCase): readonly Judged[] =>
  [...words.assay].map(([metal, { share, amount, symbol }]): Judged => {
    const ours = journal.shares.get(metal);
    const base = { subject: 'assay', of: metal, theirs: share, ours, place: symbol.place } as const;
    if (!ours) return { ...base, allowed: undefined, verdict: 'unchecked', because: 'no own assay' };
    const allowed = lastDigit(amount);
    const differs = ours.minus(share).abs().greaterThan(allowed);
    return { ...base, allowed: allowed.toNumber(), verdict: differs ? 'differs' : 'agrees', because: undefined };
  });
