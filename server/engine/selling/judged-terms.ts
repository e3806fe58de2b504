/** What they reckon it with: payable shares, charges, prices and their sum, against the terms and the quotes. */
import { type Decimal, decimal, decimalsOf } from '../../quantity/decimal';
import { uncertainty } from '../../quantity/measured';
import { addMoney, minorUnit, money, negateMoney, roundMoney } from '../../quantity/money';
import type { OtherDetail } from '../entry';
import type { Bands, ChargeTerm } from '../workshop';
import type { Rate } from './deal';
import { isComplete, type Payout, shareAt } from './payout';
import { FAR_PRICE, type Price } from './prices';
import {
  type Because,
  type Figures,
  type Judged,
  type Line,
  type Mend,
  type PriceDay,
  payableIn,
  perGram,
  reckon,
  type SettlementCase,
} from './stated';
import { totalSlipOf } from './total-slip';

export const judgedShares = (of: SettlementCase, figures: Figures): readonly Judged[] => {
  const { terms, words } = of;
  const fineness = (metal: string): Decimal => figures.shares.get(metal) ?? decimal(0);
  const lines: Judged[] = [];
  for (const [metal, { value, detail }] of words.pays) {
    const theirs = shareAt(value, fineness(metal));
    const base = { subject: 'pays', of: metal, theirs, allowed: undefined, place: detail.place } as const;
    const agreed = terms?.pays.get(metal);
    if (!terms || !agreed) {
      lines.push({ ...base, ours: undefined, verdict: 'unchecked', because: 'no terms' });
      continue;
    }
    const ours = shareAt(agreed, fineness(metal));
    const mend: Mend = (so) => ({
      ...so,
      deal: { ...so.deal, pays: new Map([...so.deal.pays, [metal, bandOf(ours)]]) },
    });
    lines.push({ ...base, ours, verdict: ours.equals(theirs) ? 'agrees' : 'differs', because: undefined, mend });
  }
  for (const subject of ['less', 'keeps'] as const) {
    for (const [metal, { value, detail }] of words[subject]) {
      const agreed = terms?.[subject].get(metal);
      const theirs = value.share ?? value.grams;
      const cuts = { ours: agreed, theirs: value };
      const base = { subject, of: metal, theirs, cuts, allowed: undefined, place: detail.place } as const;
      if (!terms) {
        lines.push({ ...base, ours: undefined, verdict: 'unchecked', because: 'no terms' });
        continue;
      }
      const ours = agreed?.share ?? agreed?.grams;
      const same =
        agreed !== undefined && (agreed.share === undefined) === (value.share === undefined) && ours!.equals(theirs);
      const mend: Mend = (so) => {
        const cuts = new Map(so.deal[subject]);
        if (agreed) cuts.set(metal, agreed);
        else cuts.delete(metal);
        return { ...so, deal: { ...so.deal, [subject]: cuts } };
      };
      lines.push({
        ...base,
        ours,
        verdict: same ? 'agrees' : 'differs',
        because: agreed ? undefined : 'not agreed',
        mend,
      });
    }
  }
  return lines;
};

const bandOf = (share: Decimal): Bands => [{ from: decimal(0), share }];

export const judgedCharges = (of: SettlementCase, figures: Figures, payout: Payout): readonly Judged[] => {
  const { terms, words } = of;
  return [...words.charges].map(([word, { detail }]): Judged => {
    const theirs = payout.charges.find((line) => line.word === word)?.cost.amount;
    const base = { subject: 'charge', of: word, theirs, allowed: undefined, place: detail.place } as const;
    if (!terms) return { ...base, ours: undefined, verdict: 'unchecked', because: 'no terms' };
    // In a currency of which no rate is written it costs nobody knows what.
    if (theirs === undefined) return { ...base, ours: undefined, verdict: 'unchecked', because: 'no rate' };
    const agreed = terms.charges.get(word);
    const mend: Mend = (so) => ({ ...so, deal: { ...so.deal, charges: withCharge(so.deal.charges, word, agreed) } });
    const ours = agreed && reckon(of, mend(figures)).charges.find((line) => line.word === word)?.cost.amount;
    const same = ours?.equals(theirs) ?? false;
    return { ...base, ours, verdict: same ? 'agrees' : 'differs', because: agreed ? undefined : 'not agreed', mend };
  });
};

const withCharge = (
  charges: ReadonlyMap<string, ChargeTerm>,
  word: string,
  agreed: ChargeTerm | undefined,
): ReadonlyMap<string, ChargeTerm> => {
  const all = new Map(charges);
  if (agreed) all.set(word, agreed);
  else all.delete(word);
  return all;
};

const perOf = ({ money: written }: OtherDetail): Line['per'] =>
  written?.per && { unit: written.per.symbol, digits: decimalsOf(written.digits.text) };

const NOT_OF_THE_DAY: Readonly<Record<Exclude<PriceDay, 'agreed'>, Because>> = {
  'no quote': 'no price of that day',
  'no rate': 'no rate of that day',
  'no fixing': 'no price of that fixing',
  'none agreed': 'no day agreed',
};

/** Of several prices of a day, as of a morning and an afternoon, the one that they may have meant: where their sheet names a fixing that alone. */
const nearestTo = (theirs: Decimal, price: Price, fixings: readonly Price[], named: string | undefined): Price => {
  const apart = (one: Price): Decimal => perGram(one).minus(theirs).abs();
  const ofIt = fixings.filter(({ quote }) => named !== undefined && quote.fixing === named);
  const among = ofIt.length > 0 ? ofIt : [price, ...fixings];
  return among.reduce((so, one) => (apart(one).lessThan(apart(so)) ? one : so));
};

/** Money for a gram: each of the two prices may be rounded to a coin of its own money for its own unit. */
const roundingOf = ({ convert }: SettlementCase, { quote }: Price, theirs: Rate): number =>
  [theirs, quote].reduce((so, { currency, perGrams }) => {
    const coin = convert(money(minorUnit(currency), currency))?.amount;
    return coin && perGrams ? so + coin.div(perGrams).toNumber() / 2 : so;
  }, 0);

/**
 * Money for a gram: a price that moves the sum by no more than what the total is allowed for rounding its lines cannot be told from that. So a price
 * that was put into another unit with few digits is no dispute.
 */
const coinsFor = (of: SettlementCase, figures: Figures, metal: string): number => {
  const payout = reckon(of, figures);
  const payable = payout.metals.find((line) => line.metal === metal)?.payableGrams;
  return payable?.greaterThan(0) ? linesAllowed(of, payout).div(payable).toNumber() : 0;
};

export const judgedPrices = (of: SettlementCase, figures: Figures): readonly Judged[] =>
  [...of.words.prices].flatMap(([metal, { value, detail }]): Judged[] => {
    if (!figures.shares.has(metal)) return [];
    // Held against the quote in the money of the settlement, whatever money it is stated in.
    const stated = of.convert(value);
    const theirs = stated && perGram({ amount: stated.amount, perGrams: value.perGrams });
    const base = { subject: 'price', of: metal, theirs, per: perOf(detail), place: detail.place } as const;
    const found = of.prices.get(metal);
    const unknown = { ...base, ours: undefined, allowed: undefined, verdict: 'unchecked' } as const;
    if (!theirs) return [{ ...unknown, because: 'no rate' }];
    if (!found || 'missing' in found.price || found.price.currency !== of.currency)
      return [{ ...unknown, because: 'no price of that day' }];
    const { day } = found;
    const agreed = day === 'agreed';
    const { fixing, fixings = [] } = found;
    const isAny = agreed && fixing === undefined;
    const price = isAny ? nearestTo(theirs, found.price, fixings, detail.said.fixing?.name) : found.price;
    const ours = perGram(price);
    const rounding = roundingOf(of, price, value);
    const allowed = agreed ? Math.max(rounding, coinsFor(of, figures, metal)) : FAR_PRICE * ours.toNumber();
    const apart = theirs.minus(ours).abs().toNumber();
    const differs = apart > allowed;
    const isThis = (one: Price): boolean => perGram(one).minus(theirs).abs().toNumber() <= roundingOf(of, one, value);
    const instead = differs && agreed ? fixings.find(isThis) : undefined;
    const mend: Mend = (so) => ({ ...so, prices: new Map([...so.prices, [metal, price]]) });
    if (!agreed && !differs) return [{ ...unknown, ours, allowed, because: NOT_OF_THE_DAY[day] }];
    return [
      {
        ...base,
        ours,
        allowed,
        by: price,
        instead,
        verdict: differs ? 'differs' : 'agrees',
        because: agreed ? (!differs && apart > rounding ? 'rounding' : undefined) : 'far from the price in force',
        mend,
      },
    ];
  });

/** Metal that comes back, held against what is payable of it by their own figures, to one in its last place. */
export const judgedReturns = ({ words }: SettlementCase, figures: Figures): readonly Line[] => {
  const payable = payableIn(figures, (metal) => words.returns.has(metal));
  return [...words.returns].map(([metal, { value: theirs, step, detail }]): Line => {
    const ours = payable.get(metal);
    const base = { subject: 'returns', of: metal, ours, theirs, owed: undefined, place: detail.place } as const;
    if (!ours) return { ...base, allowed: undefined, verdict: 'unchecked', because: 'no terms' };
    const apart = ours.minus(theirs).abs();
    const verdict = apart.greaterThan(step) ? 'differs' : 'agrees';
    const isRounded = verdict === 'agrees' && apart.greaterThan(step.div(2));
    return { ...base, allowed: step.toNumber(), verdict, because: isRounded ? 'rounding' : undefined };
  });
};

/** Metals that the terms pay and the settlement does not speak of. */
export const judgedUnpaid = (of: SettlementCase, figures: Figures): readonly Judged[] => {
  const { terms, words } = of;
  if (!terms || words.pays.size === 0) return [];
  return [...terms.pays].flatMap(([metal, bands]): Judged[] => {
    const own = of.ours.shares.get(metal);
    const share = figures.shares.get(metal) ?? own?.value;
    if (words.pays.has(metal) || words.returns.has(metal) || !share?.greaterThan(0) || !figures.prices.has(metal))
      return [];
    const paid = shareAt(bands, share);
    if (paid.isZero()) return [];
    return [
      {
        subject: 'unpaid',
        of: metal,
        ours: paid,
        theirs: undefined,
        allowed: undefined,
        verdict: 'differs',
        because: undefined,
        place: undefined,
        mend: (so) => ({
          ...so,
          shares: new Map([...so.shares, [metal, share]]),
          deal: { ...so.deal, pays: new Map([...so.deal.pays, [metal, bands]]) },
        }),
      },
    ];
  });
};

/** A coin for each line: it may be rounded another way. */
const linesAllowed = ({ currency }: SettlementCase, { metals, charges, credits }: Payout): Decimal =>
  minorUnit(currency).times(metals.length + charges.length + credits.length);

/** Standard uncertainty, in money, of lines that are reckoned with our own weight or assay for want of theirs. */
const oursSpread = ({ words, ours, received, melted }: SettlementCase, { metals }: Payout): number => {
  const weight = received || melted || !ours.grams ? 0 : uncertainty(ours.grams) / ours.grams.value.toNumber();
  const byWeight = weight * metals.reduce((so, { value }) => so + value.amount.toNumber(), 0);
  const byAssay =
    words.assay.size > 0
      ? []
      : metals.map(({ metal, fineGrams, perFineGram }) => {
          const share = ours.shares.get(metal);
          return share ? (perFineGram * fineGrams.toNumber() * share.u) / share.value.toNumber() : 0;
        });
  return Math.hypot(byWeight, ...byAssay);
};

/** Their bottom line against their own lines: each of these may be rounded another way, by a coin. */
export const judgedTotal = (of: SettlementCase, payout: Payout): Line => {
  const { words } = of;
  const { total } = words;
  const base = { subject: 'total', of: undefined, ours: payout.total.amount, theirs: total?.value.amount } as const;
  if (!total)
    return {
      ...base,
      allowed: undefined,
      verdict: 'unchecked',
      because: 'no total',
      owed: undefined,
      place: undefined,
    };
  if (total.value.currency !== of.currency)
    return {
      ...base,
      theirs: undefined,
      allowed: undefined,
      verdict: 'differs',
      because: 'another currency',
      owed: undefined,
      place: total.detail.place,
    };
  if (!isComplete(payout))
    return {
      ...base,
      ours: undefined,
      allowed: undefined,
      verdict: 'unchecked',
      because: 'left out',
      owed: undefined,
      place: total.detail.place,
    };
  // They did not say by what price: their sum may rest on another than that of the journal.
  const isPriceUnsaid = payout.metals.some(
    ({ metal }) => !of.words.prices.has(metal) && of.prices.get(metal)?.day !== 'agreed',
  );
  if (isPriceUnsaid)
    return {
      ...base,
      allowed: undefined,
      verdict: 'unchecked',
      because: 'price not said',
      owed: undefined,
      place: total.detail.place,
    };
  // Where the sheet states no weight or no assay the lines are ours, and no better known than these.
  const coins = linesAllowed(of, payout);
  const allowed = coins.plus(decimal(of.coverage * oursSpread(of, payout)));
  const difference = addMoney(payout.total, negateMoney(total.value));
  const size = difference.amount.abs();
  const differs = size.greaterThan(allowed);
  const hasLines = words.pays.size + words.charges.size + words.prices.size + words.assay.size > 0 || words.received;
  const near = size.isZero() ? undefined : size.greaterThan(coins) ? 'uncertainty' : 'rounding';
  const because = !hasLines ? 'no lines' : differs ? undefined : near;
  return {
    ...base,
    allowed: allowed.toNumber(),
    verdict: differs ? 'differs' : 'agrees',
    because,
    owed: differs ? roundMoney(difference) : undefined,
    place: total.detail.place,
    slip: differs ? totalSlipOf(of.words, payout, allowed) : undefined,
  };
};
