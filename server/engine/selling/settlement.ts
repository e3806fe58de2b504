/**
 * A settlement held against the journal, line by line. Each line that does not agree is put right alone, and what that makes to the sum is what
 * the line is disputed for: so every amount is a payout less a payout, and none is estimated.
 */
import { addMoney, type Money, money, negateMoney } from '../../quantity/money';
import { judgedAssays, judgedWeights } from './judged-lot';
import { judgedOffer } from './judged-offer';
import { judgedCharges, judgedPrices, judgedReturns, judgedShares, judgedTotal, judgedUnpaid } from './judged-terms';
import { isComplete, type Payout } from './payout';
import { asPrinted, judgedPrinted, roundedBy } from './printed';
import {
  type Because,
  type Figures,
  type Judged,
  type Line,
  reckon,
  type SettlementCase,
  statedFigures,
} from './stated';

export interface Checked {
  /** Their own figures, worked through again. */
  readonly payout: Payout;
  /** The same with every line put right. */
  readonly right: Payout;
  readonly lines: readonly Line[];
  /** What they say they pay; else, and where that is in a money that no rate joins with its lines, what their figures come to. */
  readonly stated: Money;
  /** By how much they pay too little; below nought too much. */
  readonly owed: Money;
}

/** None where there is no weight, or neither a deal to reckon with nor a total. */
export const checkSettlement = (asked: SettlementCase): Checked | undefined => {
  const stated = statedFigures(asked);
  if (!stated) return checkSum(asked);
  const of = withSide(asked, stated);
  const judged = judgedBy(of, stated);
  const paidBy = reckonedBy(of, stated, judged);
  const figures = paidBy.reduce((so, { mend }) => mend!(so), stated);
  const payout = reckon(of, figures);
  const all = judged.map((line) => (paidBy.includes(line) ? paidAsOurs(line) : line));
  const differing = all.flatMap(({ verdict, mend }) => (verdict === 'differs' && mend ? [mend] : []));
  const printed = judgedPrinted(of, payout);
  const mended = reckon(
    of,
    differing.reduce((so, mend) => mend(so), figures),
  );
  const right = { ...mended, total: addMoney(mended.total, roundedBy(of, payout, printed)) };
  const lines = all.map(({ mend, ...line }): Line => {
    const owed = line.verdict === 'differs' && mend ? less(reckon(of, mend(figures)).total, payout.total) : undefined;
    return { ...line, owed };
  });
  const total = judgedTotal(of, asPrinted(of, payout));
  // A sum that nothing is held against, that rests on their own weight and assay, or that cannot be reckoned whole, leaves what the lines are disputed for.
  const named = of.words.total?.value;
  const paid = named?.currency === of.currency ? named : payout.total;
  const isLoose = total.because === 'price not said' || total.because === 'uncertainty';
  const held = isLoose || !isComplete(payout) ? payout.total : paid;
  const ours = total.ours && isComplete(right) ? right.total.amount : undefined;
  const owed = less(right.total, held);
  const isKnown = (named?.currency ?? of.currency) === of.currency && isComplete(payout);
  const offer = isKnown ? judgedOffer(of, { paid, right: addMoney(paid, owed), figures: stated }) : undefined;
  return {
    payout,
    right,
    lines: [
      ...lines,
      ...judgedReturns(of, figures),
      ...printed,
      ...(offer ? [offer] : []),
      { ...total, ours, sum: total.ours },
    ],
    stated: paid,
    owed: offer?.owed ? addMoney(owed, offer.owed) : owed,
  };
};

const SUMS: ReadonlySet<Line['subject']> = new Set(['payable', 'worth', 'total']);

/** What their own sums are off from their own lines: above nought they pay less for it. It is no metal that they keep or do not find. */
export const slipOfSums = ({ lines, stated: { currency } }: Pick<Checked, 'lines' | 'stated'>): Money =>
  addMoney(
    money(0, currency),
    ...lines.flatMap(({ subject, verdict, because, owed }) =>
      SUMS.has(subject) && verdict === 'differs' && because !== 'no lines' && owed ? [owed] : [],
    ),
  );

/** A sum of which nothing was agreed: its weights, and what was offered, are all that it can be held against. */
const checkSum = (of: SettlementCase): Checked | undefined => {
  const { words, currency, ours, received, melted } = of;
  const { total } = words;
  if (total?.value.currency !== currency || !(melted ?? received ?? ours.grams)) return undefined;
  const paid = total.value;
  const payout: Payout = {
    currency,
    metals: [],
    charges: [],
    credits: [],
    total: paid,
    unpriced: [],
    unconverted: [],
    unpaid: [],
  };
  const offer = judgedOffer(of, { paid, right: paid, figures: undefined });
  const nothing = money(0, currency);
  const line: Line = {
    subject: 'total',
    of: undefined,
    ours: undefined,
    theirs: paid.amount,
    allowed: undefined,
    verdict: 'unchecked',
    because: 'nothing agreed',
    owed: undefined,
    place: total.detail.place,
  };
  return {
    payout,
    right: payout,
    lines: [
      ...judgedWeights(of).map(({ mend: _, ...one }): Line => ({ ...one, owed: undefined })),
      ...(offer ? [offer] : []),
      line,
    ],
    stated: paid,
    owed: offer?.owed ?? nothing,
  };
};

/** A total is written above nought whoever pays it: where charges come to more than what is paid, as where metal comes back, it is ours to pay. */
const withSide = (of: SettlementCase, stated: Figures): SettlementCase => {
  const { total } = of.words;
  if (!total || total.value.amount.isNegative() || !reckon(of, stated).total.amount.isNegative()) return of;
  return { ...of, words: { ...of.words, total: { ...total, value: negateMoney(total.value) } } };
};

const judgedBy = (of: SettlementCase, figures: Figures): readonly Judged[] => [
  ...judgedWeights(of),
  ...judgedAssays(of, figures),
  ...judgedShares(of, figures),
  ...judgedCharges(of, figures, reckon(of, figures)),
  ...judgedPrices(of, figures),
  ...judgedUnpaid(of, figures),
];

const BY_BOTH: ReadonlySet<Because | undefined> = new Set<Because>([
  'mean of both',
  'umpire',
  'we were late',
  'they were late',
]);

/**
 * The lines that were not reckoned as they stand: their total is what comes of our figure in place of one of them, or of what settles in place of all
 * assays of theirs. Then nothing is owed for these: the sheet prints what they found, or a figure is a slip of the pen.
 */
const reckonedBy = (of: SettlementCase, stated: Figures, judged: readonly Judged[]): readonly Judged[] => {
  const holds = (lines: readonly Judged[]): boolean => {
    const payout = reckon(
      of,
      lines.reduce((so, { mend }) => mend!(so), stated),
    );
    return judgedTotal(of, asPrinted(of, payout)).verdict === 'agrees';
  };
  if (!of.words.total || holds([])) return [];
  const differing = judged.filter(({ verdict, mend }) => verdict === 'differs' && mend);
  const settling = differing.filter(({ because }) => BY_BOTH.has(because));
  const ways = [...(settling.length > 1 ? [settling] : []), ...differing.map((line) => [line])].filter(holds);
  return ways.length === 1 ? ways[0]! : [];
};

/** A figure that settles between two assays agrees; any other is told as what it is. */
const paidAsOurs = (line: Judged): Judged =>
  BY_BOTH.has(line.because)
    ? { ...line, verdict: 'agrees' }
    : { ...line, because: 'reckoned with ours', mend: undefined };

const less = (a: Money, b: Money): Money => addMoney(a, negateMoney(b));
