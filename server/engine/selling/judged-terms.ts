/** What they reckon it with: payable shares, charges, prices and their sum, against the terms and the quotes. */
import { type Decimal, decimal, decimalsOf } from '../../quantity/decimal';
import { addMoney, minorUnit, money, negateMoney, roundMoney } from '../../quantity/money';
import type { OtherDetail } from '../entry';
import type { Bands, ChargeTerm } from '../workshop';
import { isComplete, type Payout, shareAt } from './payout';
import {
  type Because,
  type Figures,
  type Judged,
  type Line,
  type Mend,
  type PriceDay,
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

/** A price that differs by more from the price in force is worth asking about: more than a market moves in a day or two. */
export const FAR_PRICE = 0.03;

const perOf = ({ money: written }: OtherDetail): Line['per'] =>
  written?.per && { unit: written.per.symbol, digits: decimalsOf(written.digits.text) };

const NOT_OF_THE_DAY: Readonly<Record<Exclude<PriceDay, 'agreed'>, Because>> = {
  'no quote': 'no price of that day',
  'no rate': 'no rate of that day',
  'none agreed': 'no day agreed',
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
    const { price, day } = found;
    const agreed = day === 'agreed';
    const ours = perGram(price);
    // It may be rounded to a coin of the money that it is stated in.
    const coin = of.convert(money(minorUnit(value.currency), value.currency))!.amount;
    const digit = coin.div(value.perGrams);
    const allowed = agreed ? digit.toNumber() / 2 : FAR_PRICE * ours.toNumber();
    const differs = theirs.minus(ours).abs().toNumber() > allowed;
    const mend: Mend = (so) => ({ ...so, prices: new Map([...so.prices, [metal, price]]) });
    if (!agreed && !differs) return [{ ...unknown, ours, allowed, because: NOT_OF_THE_DAY[day] }];
    return [
      {
        ...base,
        ours,
        allowed,
        verdict: differs ? 'differs' : 'agrees',
        because: agreed ? undefined : 'far from the price in force',
        mend,
      },
    ];
  });

/** Metals that the terms pay and the settlement does not speak of. */
export const judgedUnpaid = (of: SettlementCase, figures: Figures): readonly Judged[] => {
  const { terms, words } = of;
  if (!terms || words.pays.size === 0) return [];
  return [...terms.pays].flatMap(([metal, bands]): Judged[] => {
    const own = of.ours.shares.get(metal);
    const share = figures.shares.get(metal) ?? own?.value;
    if (words.pays.has(metal) || !share?.greaterThan(0) || !figures.prices.has(metal)) return [];
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

/** Their bottom line against their own lines: each of these may be rounded another way, by a coin. */
export const judgedTotal = (of: SettlementCase, payout: Payout): Line => {
  const { total } = of.words;
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
  const lines = payout.metals.length + payout.charges.length + payout.credits.length;
  const allowed = minorUnit(of.currency).times(lines);
  const difference = addMoney(payout.total, negateMoney(total.value));
  const size = difference.amount.abs();
  const differs = size.greaterThan(allowed);
  const because = !differs && !size.isZero() ? 'rounding' : undefined;
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
