/** The lot itself: what they weighed and what they found in it, against our own. */
import { type Decimal, decimal, ONE } from '../../quantity/decimal';
import { type Measured, uncertainty } from '../../quantity/measured';
import type { Amount } from '../entry';
import { lastDigit } from './deal';
import { exchangeOf } from './exchange';
import type { Because, Figures, Judged, Line, SettlementCase, Share } from './stated';
import { swapsOf } from './total-slip';

export const judgedWeights = (of: SettlementCase): readonly Judged[] => [...judgedReceived(of), ...judgedMelted(of)];

const judgedReceived = (of: SettlementCase): readonly Judged[] => {
  const { received, ours, words, coverage } = of;
  if (!received) return [];
  const base = {
    subject: 'received',
    of: undefined,
    theirs: received.value,
    place: words.received?.detail.place,
  } as const;
  const { grams } = ours;
  if (!grams) return [{ ...base, ours: undefined, allowed: undefined, verdict: 'unchecked', because: 'not weighed' }];
  const allowed = coverage * Math.hypot(uncertainty(grams), uncertainty(received));
  const difference = grams.value.minus(received.value);
  return [
    {
      ...base,
      ours: grams.value,
      allowed,
      verdict: difference.abs().toNumber() > allowed ? 'differs' : 'agrees',
      because: 'uncertainty',
      swapped:
        difference.abs().toNumber() > allowed
          ? swappedIn(words.received?.value, (one) => grams.value.minus(one).abs().toNumber() <= allowed)
          : undefined,
      mend: (so) => ({ ...so, received: grams.value, grams: countedOf(of, grams, received) ?? so.grams }),
    },
  ];
};

/**
 * What counts once the weight received is put right: what was lost in the melt stays the same share of it. Where their melt left what ours may
 * leave, or more than they say they received, it is that figure alone which is wrong, and what their melt left counts as it stands.
 */
const countedOf = (of: SettlementCase, ours: Measured, received: Measured): Decimal | undefined => {
  const { melted, coverage } = of;
  if (!melted) return ours.value;
  const allowed = coverage * Math.hypot(uncertainty(ours), uncertainty(melted));
  const least = leastAfter(of, ours.value).toNumber() - allowed;
  const most = Math.max(ours.value.toNumber() + allowed, received.value.toNumber());
  const left = melted.value.toNumber();
  if (received.value.isZero() || left > received.value.toNumber() || (left >= least && left <= most)) return undefined;
  return melted.value.times(ours.value).div(received.value);
};

/** What a melt leaves at least of so many grams, by the loss that was agreed or is usual. */
const leastAfter = ({ terms }: SettlementCase, grams: Decimal): Decimal =>
  grams.times(ONE.minus(terms?.meltLoss ?? USUAL_MELT_LOSS));

/**
 * Held against what they received, or against what was shipped where that is less: a weight received that is too high takes nothing out of a melt.
 * No melt leaves more than the more of the two.
 */
const judgedMelted = (of: SettlementCase): readonly Judged[] => {
  const { received, melted, ours, words, terms, coverage } = of;
  if (!melted || !received) return [];
  const [less, more] = ours.grams?.value.lessThan(received.value)
    ? [ours.grams, received]
    : [received, ours.grams ?? received];
  const base = { subject: 'melted', of: undefined, theirs: melted.value, place: words.melted?.detail.place } as const;
  const least = leastAfter(of, less.value);
  const swapped = swappedIn(
    words.melted?.value,
    (one) => one.greaterThanOrEqualTo(least) && one.lessThanOrEqualTo(more.value),
  );
  const tooMuch = melted.value.minus(more.value).toNumber();
  const allowedMore = coverage * Math.hypot(uncertainty(more), uncertainty(melted));
  if (tooMuch > allowedMore)
    return [
      {
        ...base,
        ours: more.value,
        allowed: allowedMore,
        verdict: 'differs',
        because: 'more than went in',
        swapped,
        mend: (so) => ({ ...so, grams: swapped ?? so.received }),
      },
    ];
  const allowed = coverage * Math.hypot(uncertainty(less), uncertainty(melted));
  const differs = least.minus(melted.value).toNumber() > allowed;
  return [
    {
      ...base,
      ours: least,
      allowed,
      verdict: differs ? 'differs' : 'agrees',
      swapped: differs ? swapped : undefined,
      because: terms?.meltLoss ? undefined : 'not agreed',
      // A weight whose digits were exchanged is known as it was read, and need not be the least that it may be.
      mend: (so) => ({ ...so, grams: swapped ?? leastAfter(of, so.received) }),
    },
  ];
};

/** Grams with two neighbouring digits of the figure exchanged, where just one such exchange agrees. */
const swappedIn = (amount: Amount | undefined, agrees: (grams: Decimal) => boolean): Decimal | undefined => {
  const figure = amount?.figure;
  const unit = figure?.form === 'reading' ? figure.digits.unit : undefined;
  if (figure?.form !== 'reading' || unit?.kind !== 'mass') return undefined;
  const found = swapsOf(figure.digits.text)
    .map((one) => one.times(unit.factor))
    .filter(agrees);
  return found.length === 1 ? found[0] : undefined;
};

/** Metal alone: under half a per cent is "not unusual" for karat scrap (a refiner's answer on a metal-finishing forum). */
export const USUAL_MELT_LOSS = decimal('0.005');

export const judgedAssays = (of: SettlementCase, { deal }: Figures): readonly Judged[] =>
  [...of.words.assay].flatMap(([metal, stated]): Judged[] => {
    if (!deal.pays.has(metal) && !of.terms?.pays.has(metal)) return [];
    const base = { subject: 'assay', of: metal, theirs: stated.share, place: stated.symbol.place } as const;
    const own = of.ours.shares.get(metal);
    if (!own) return [{ ...base, ours: undefined, allowed: undefined, verdict: 'unchecked', because: 'no own assay' }];
    const { settled, ...judged } = judgeAssay(of, metal, own, stated);
    return [
      {
        ...base,
        ours: settled,
        ...judged,
        mend: (so) => ({ ...so, shares: new Map([...so.shares, [metal, settled]]) }),
      },
    ];
  });

interface AssayJudged {
  /** What should settle. */
  readonly settled: Decimal;
  readonly allowed: number;
  readonly verdict: Line['verdict'];
  readonly because: Because;
}

const judgeAssay = (
  of: SettlementCase,
  metal: string,
  own: Share,
  { share: stated, amount }: { readonly share: Decimal; readonly amount: Amount },
): AssayJudged => {
  const { terms, coverage } = of;
  const limit = terms?.splitting.get(metal);
  const theirs = of.exchanged.get(metal);
  const umpire = of.umpire.get(metal);
  const digit = lastDigit(amount);
  if (of.late) {
    // Whoever misses the day is bound by the other's figure (a published clause of determining a final analysis).
    const settled = of.late === 'ours' ? (theirs ?? stated) : own.value;
    const verdict = settled.minus(stated).abs().lessThanOrEqualTo(digit) ? 'agrees' : 'differs';
    const because = of.late === 'ours' ? 'we were late' : 'they were late';
    return { settled, allowed: digit.toNumber(), verdict, because };
  }
  const isExchanged = terms?.assay === 'exchange' && theirs !== undefined;
  if (umpire || isExchanged) {
    const { outcome, settled } = exchangeOf(own.value, theirs ?? stated, limit, umpire, terms?.umpire);
    // Within the limit there is nothing for an umpire to decide: what settles is what settles without one.
    if (settled && (outcome === 'umpire' || isExchanged)) {
      const because = outcome === 'mean' ? 'mean of both' : 'umpire';
      // The figure of our own may have more digits than the sheet that it was exchanged on.
      const verdict = settled.minus(stated).abs().lessThanOrEqualTo(digit) ? 'agrees' : 'differs';
      return { settled, allowed: digit.toNumber(), verdict, because };
    }
  }
  if (terms?.assay === 'exchange' && !theirs) {
    // Who calls an umpire has seen both.
    if (!umpire || (terms.umpire ?? 'result') !== 'result') return notExchanged(of, own, stated, limit);
    const verdict = umpire.minus(stated).abs().lessThanOrEqualTo(digit) ? 'agrees' : 'differs';
    return { settled: umpire, allowed: digit.toNumber(), verdict, because: 'umpire' };
  }
  // How well they assay is what a limit was agreed for; how well we do is not.
  const explained = coverage * (limit ? own.u : Math.hypot(own.u, of.theirU.get(metal) ?? 0));
  const difference = own.value.minus(stated).abs();
  const allowed = limit ? limit.toNumber() : explained;
  if (difference.toNumber() <= allowed)
    return { settled: own.value, allowed, verdict: 'agrees', because: limit ? 'splitting limit' : 'uncertainty' };
  if (difference.toNumber() <= explained)
    return { settled: own.value, allowed: explained, verdict: 'unchecked', because: 'own assay too coarse' };
  return { settled: own.value, allowed, verdict: 'differs', because: limit ? 'umpire wanted' : 'uncertainty' };
};

/**
 * What settles between two assays, of which theirs is not written: their figure is the mean of both, not what they found. Within the limit no mean
 * lies farther off than half of it.
 */
const notExchanged = (
  { coverage }: SettlementCase,
  own: Share,
  stated: Decimal,
  limit: Decimal | undefined,
): AssayJudged => {
  const base = { settled: own.value, allowed: Math.max(limit ? limit.toNumber() / 2 : 0, coverage * own.u) };
  const differs = limit !== undefined && own.value.minus(stated).abs().toNumber() > base.allowed;
  return differs
    ? { ...base, verdict: 'differs', because: 'no mean of both' }
    : { ...base, verdict: 'unchecked', because: 'not exchanged' };
};
