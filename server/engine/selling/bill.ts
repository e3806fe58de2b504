/**
 * What the shop told a customer of a lot on toll, held against the journal as it now stands: the weights and the assay that were told, the share that
 * goes back, charges, total. A figure that was put right after the bill went out shows here.
 */
import { type Decimal, sum, ZERO } from '../../quantity/decimal';
import { addMoney, type Money, money, negateMoney } from '../../quantity/money';
import type { Terms } from '../workshop';
import { dealOf, lastDigit } from './deal';
import { judgedPrices, judgedShares, judgedTotal } from './judged-terms';
import type { ChargeLine, Payout } from './payout';
import { type Figures, type Judged, type Line, type Mend, payableIn, reckon, type SettlementCase } from './stated';

export interface BillCase extends SettlementCase {
  /** By the journal: what came in, what is left of it as metal, and the mass fractions of that; none of what is not known. */
  readonly journal: {
    readonly receivedGrams: Decimal | undefined;
    readonly meltedGrams: Decimal | undefined;
    readonly shares: ReadonlyMap<string, Decimal>;
    /** What came in for metal of theirs that was sold; none where none was. */
    readonly proceeds: Decimal | undefined;
  };
  /** What charges come to, whatever of it is bought: on the weights and the fine metal that the bill tells, else on those of the journal. */
  readonly costs: (charges: Terms['charges'], told: Told) => readonly ChargeLine[];
}

/** Grams. */
export interface Told {
  readonly received: Decimal;
  readonly melted: Decimal | undefined;
  readonly fine: ReadonlyMap<string, Decimal>;
}

export interface Bill {
  /**
   * `theirs` is what the bill says, `ours` what the journal has. Money of the total is above nought whoever pays it. What a line is `owed` is the
   * customer's where it is above nought, and the shop's below.
   */
  readonly lines: readonly BillLine[];
  /** Values less charges: metal that is bought from them has a price on the bill. Below nought they pay. */
  readonly payout: Payout;
  /** The same with every line put right. */
  readonly right: Payout;
  /** What the bill says is to be paid; else what its lines come to. Above nought whoever pays it. */
  readonly total: Money;
  readonly payer: 'customer' | 'shop';
  /** By how much the bill gives them too little in money; below nought too much. */
  readonly owed: Money;
  /** The same in metal, grams by metal; what comes to nothing is left out. */
  readonly owedMetal: ReadonlyMap<string, Decimal>;
}

export interface BillLine extends Line {
  /** What putting it right adds to the metal that goes back, grams by metal; what comes to nothing is left out. */
  readonly metal: ReadonlyMap<string, Decimal>;
}

/** None where nothing can be reckoned: no weight on the bill or in the journal. */
export const checkBill = (of: BillCase): Bill | undefined => {
  const { words, journal } = of;
  const grams = of.melted?.value ?? of.received?.value ?? journal.meltedGrams ?? journal.receivedGrams;
  if (!grams) return undefined;
  const agreed = dealOf(words, of.terms);
  const told = new Map([...words.assay].map(([metal, { share }]) => [metal, share]));
  const figures: Figures = {
    received: of.received?.value ?? journal.receivedGrams ?? grams,
    grams,
    shares: told.size > 0 ? told : journal.shares,
    deal: {
      pays: agreed?.pays ?? new Map(),
      less: agreed?.less ?? new Map(),
      keeps: agreed?.keeps ?? new Map(),
      charges: new Map(),
      rounding: agreed?.rounding ?? 'half-even',
      fineStepGrams: agreed?.fineStepGrams,
    },
    prices: new Map([...words.prices].map(([metal, { value }]) => [metal, value])),
  };
  const said = new Map([...words.charges].map(([word, { value }]) => [word, value]));
  const billed = said.size > 0 ? said : (of.terms?.charges ?? said);
  const charges = of.costs(billed, toldIn(of, figures));
  const bought = inMoney(of, figures);
  const payout = withCharges(bought, charges);
  const gives = bought.metals.length > 0 || payout.credits.length > 0;
  const payer = gives && !payout.total.amount.isNegative() ? 'shop' : 'customer';
  const sign = payer === 'shop' ? 1 : -1;
  const lots: readonly Judged[] = [
    ...toldWeights(of),
    ...toldAssays(of),
    ...judgedShares(of, figures),
    ...judgedPrices(of, figures),
  ];
  const byRule = billedCharges(of, figures, charges);
  const sums: readonly Summed[] = [...byRule, ...judgedCredits(of, payout)];
  const mends = lots.flatMap(({ verdict, mend }) => (verdict === 'differs' && mend ? [mend] : []));
  const mended = mends.reduce((so, mend) => mend(so), figures);
  const agreeing = byTerms(of, byRule, billed, AGREEING);
  const credited = sums.filter(({ subject }) => subject === 'credit');
  const gained = sum(credited.flatMap(({ verdict, gain }) => (verdict === 'differs' ? [gain] : [])));
  const rightCharges = of.costs(byTerms(of, byRule, billed, ALL_JUDGED), toldIn(of, mended));
  const inAll = addMoney(withCharges(inMoney(of, mended), rightCharges).total, money(gained, of.currency));
  const right: Payout = { ...payout, total: inAll };
  // A bill that comes to less than nothing is paid to them, written either way.
  const named = words.total && {
    ...words.total.value,
    amount: payer === 'shop' ? words.total.value.amount.abs() : words.total.value.amount,
  };
  const stated = named ? money(named.amount.times(sign), named.currency) : payout.total;
  const total = judgedTotal(withTotal(of, stated), payout);
  return {
    lines: [
      ...[...lots, ...sums].sort(asListed).map((line): BillLine => lineOf(of, figures, agreeing, line)),
      {
        ...total,
        ours: total.ours && inAll.amount.times(sign),
        sum: total.ours?.times(sign),
        theirs: total.theirs?.times(sign),
        metal: new Map(),
      },
    ],
    payout,
    right,
    payer,
    total: named ?? (sign > 0 ? payout.total : negateMoney(payout.total)),
    owed: addMoney(inAll, negateMoney(stated.currency === of.currency ? stated : payout.total)),
    owedMetal: gainedMetal(of, figures, mended),
  };
};

const AGREEING: ReadonlySet<Line['verdict']> = new Set(['agrees']);
const ALL_JUDGED: ReadonlySet<Line['verdict']> = new Set(['agrees', 'differs']);

/** A line that stands in the sum by itself, and what putting it right adds to the customer's side of that. */
type Summed = Judged & { readonly gain: Decimal };

const LISTED = ['received', 'melted', 'assay', 'pays', 'less', 'keeps', 'charge', 'price', 'credit'];
const asListed = (a: Judged, b: Judged): number => LISTED.indexOf(a.subject) - LISTED.indexOf(b.subject);

const toldIn = ({ words, melted }: BillCase, { received, grams, shares }: Figures): Told => ({
  received,
  melted: melted && grams,
  fine: words.assay.size > 0 ? new Map([...shares].map(([metal, share]) => [metal, share.times(grams)])) : new Map(),
});

/** The charges with some put to the terms: with another weight even one that agrees may come to another sum than by these. */
const byTerms = (
  { terms }: BillCase,
  lines: readonly Summed[],
  billed: Terms['charges'],
  verdicts: ReadonlySet<Line['verdict']>,
): Terms['charges'] => {
  const all = new Map(billed);
  for (const { of: word, verdict } of lines) {
    if (!verdicts.has(verdict) || word === undefined) continue;
    const agreed = terms?.charges.get(word);
    if (agreed) all.set(word, agreed);
    else all.delete(word);
  }
  return all;
};

const gainedMetal = (of: BillCase, before: Figures, after: Figures): ReadonlyMap<string, Decimal> => {
  const [had, has] = [inMetal(of, before), inMetal(of, after)];
  return new Map(
    [...new Set([...had.keys(), ...has.keys()])].flatMap((symbol) => {
      const more = (has.get(symbol) ?? ZERO).minus(had.get(symbol) ?? ZERO);
      return more.isZero() ? [] : [[symbol, more] as const];
    }),
  );
};

const lineOf = (of: BillCase, figures: Figures, billed: Terms['charges'], judged: Judged | Summed): BillLine => {
  const { mend, ...line } = judged;
  if (line.verdict !== 'differs') return { ...line, owed: undefined, metal: new Map() };
  if ('gain' in judged) return { ...line, owed: money(judged.gain, of.currency), metal: new Map() };
  if (!mend) return { ...line, owed: undefined, metal: new Map() };
  const [before, after] = [figures, mend(figures)];
  const sumOf = (so: Figures): Money => withCharges(inMoney(of, so), of.costs(billed, toldIn(of, so))).total;
  const owed = addMoney(sumOf(after), negateMoney(sumOf(before)));
  const metal = gainedMetal(of, before, after);
  return { ...line, owed: owed.amount.isZero() && metal.size > 0 ? undefined : owed, metal };
};

const only = ({ deal, ...figures }: Figures, test: (metal: string) => boolean): Figures => ({
  ...figures,
  deal: { ...deal, pays: new Map([...deal.pays].filter(([metal]) => test(metal))) },
});

/** The metals that have a price, in money. */
const inMoney = (of: BillCase, figures: Figures): Payout =>
  reckon(
    of,
    only(figures, (metal) => of.words.prices.has(metal)),
  );

/** The grams of the others that go back. */
const inMetal = ({ words }: BillCase, figures: Figures): ReadonlyMap<string, Decimal> =>
  payableIn(figures, (metal) => !words.prices.has(metal));

const withCharges = (payout: Payout, charges: readonly ChargeLine[]): Payout => ({
  ...payout,
  charges,
  total: addMoney(payout.total, ...charges.map(({ cost }) => negateMoney(cost))),
});

const billedCharges = (of: BillCase, figures: Figures, billed: readonly ChargeLine[]): readonly Summed[] => {
  const { words, terms, costs } = of;
  const byAgreed = terms ? costs(terms.charges, toldIn(of, figures)) : [];
  const costIn = (lines: readonly ChargeLine[], word: string): Decimal | undefined =>
    lines.find((line) => line.word === word)?.cost.amount;
  return [...words.charges].map(([word, { detail }]): Summed => {
    const [theirs, ours] = [costIn(billed, word), costIn(byAgreed, word)];
    const gain = (theirs ?? ZERO).minus(ours ?? ZERO);
    const base = { subject: 'charge', of: word, theirs, ours, allowed: undefined, gain, place: detail.place } as const;
    if (!terms) return { ...base, verdict: 'unchecked', because: 'no terms' };
    if (!theirs || (!ours && terms.charges.has(word))) return { ...base, verdict: 'unchecked', because: 'left out' };
    const verdict = ours?.equals(theirs) ? 'agrees' : 'differs';
    return { ...base, verdict, because: ours ? undefined : 'not agreed' };
  });
};

/** What is credited to them is what came in for their metal. */
const judgedCredits = ({ words, journal: { proceeds } }: BillCase, { credits }: Payout): readonly Summed[] => {
  const [first, ...others] = credits;
  if (!first || !proceeds) return [];
  const theirs = addMoney(first, ...others).amount;
  const gain = proceeds.minus(theirs);
  const base = { subject: 'credit', of: undefined, theirs, ours: proceeds, allowed: undefined, gain } as const;
  const verdict = theirs.equals(proceeds) ? 'agrees' : 'differs';
  return [{ ...base, verdict, because: undefined, place: words.credits[0]?.detail.place }];
};

/** What they are to pay counts as less than nothing, as charges do. */
const withTotal = (of: BillCase, value: Money): SettlementCase => {
  const { total } = of.words;
  return total ? { ...of, words: { ...of.words, total: { ...total, value } } } : of;
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
    const mend: Mend = (so) =>
      subject === 'received' ? { ...so, received: ours, grams: melted ? so.grams : ours } : { ...so, grams: ours };
    return [
      { ...base, allowed: allowed.toNumber(), verdict: differs ? 'differs' : 'agrees', because: undefined, mend },
    ];
  });

const toldAssays = ({ words, journal }: BillCase): readonly Judged[] =>
  [...words.assay].map(([metal, { share, amount, symbol }]): Judged => {
    const ours = journal.shares.get(metal);
    const base = { subject: 'assay', of: metal, theirs: share, ours, place: symbol.place } as const;
    if (!ours) return { ...base, allowed: undefined, verdict: 'unchecked', because: 'no own assay' };
    const allowed = lastDigit(amount);
    const differs = ours.minus(share).abs().greaterThan(allowed);
    const mend: Mend = (so) => ({ ...so, shares: new Map([...so.shares, [metal, ours]]) });
    return { ...base, allowed: allowed.toNumber(), verdict: differs ? 'differs' : 'agrees', because: undefined, mend };
  });
