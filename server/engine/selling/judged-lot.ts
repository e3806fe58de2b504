/** The lot itself: what they weighed and what they found in it, against our own. */
import { type Decimal, decimal, decimalsOf, ZERO } from '../../quantity/decimal';
import { uncertainty } from '../../quantity/measured';
import type { Amount } from '../entry';
import { exchangeOf } from './exchange';
import type { Because, Figures, Judged, Line, SettlementCase, Share } from './stated';

export const judgedWeights = (of: SettlementCase): readonly Judged[] => {
  const { received, melted, ours, words, terms, coverage } = of;
  const lines: Judged[] = [];
  if (received) {
    const base = {
      subject: 'received',
      of: undefined,
      theirs: received.value,
      place: words.received?.detail.place,
    } as const;
    if (!ours.grams)
      lines.push({ ...base, ours: undefined, allowed: undefined, verdict: 'unchecked', because: 'not weighed' });
    else {
      const allowed = coverage * Math.hypot(uncertainty(ours.grams), uncertainty(received));
      const difference = ours.grams.value.minus(received.value);
      lines.push({
        ...base,
        ours: ours.grams.value,
        allowed,
        verdict: difference.abs().toNumber() > allowed ? 'differs' : 'agrees',
        because: 'uncertainty',
        // What was lost in the melt stays the same share of it.
        mend: (so) => ({
          ...so,
          received: ours.grams!.value,
          grams: received.value.isZero() ? ours.grams!.value : so.grams.times(ours.grams!.value).div(received.value),
        }),
      });
    }
  }
  if (melted && received) {
    const agreed = terms?.meltLoss;
    const most = agreed ?? USUAL_MELT_LOSS;
    const least = received.value.times(decimal(1).minus(most));
    const short = least.minus(melted.value).toNumber();
    const allowed = coverage * Math.hypot(uncertainty(received), uncertainty(melted));
    lines.push({
      subject: 'melted',
      of: undefined,
      ours: least,
      theirs: melted.value,
      allowed,
      verdict: short > allowed ? 'differs' : 'agrees',
      because: agreed ? undefined : 'not agreed',
      place: words.melted?.detail.place,
      mend: (so) => ({ ...so, grams: so.received.times(decimal(1).minus(most)) }),
    });
  }
  return lines;
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
  if (umpire || (terms?.assay === 'exchange' && theirs)) {
    const { outcome, settled } = exchangeOf(own.value, theirs ?? stated, limit, umpire, terms?.umpire);
    if (settled) {
      const because = outcome === 'mean' ? 'mean of both' : 'umpire';
      // The figure of our own may have more digits than the sheet that it was exchanged on.
      const verdict = settled.minus(stated).abs().lessThanOrEqualTo(digit) ? 'agrees' : 'differs';
      return { settled, allowed: digit.toNumber(), verdict, because };
    }
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

/** One step of the last digit as typed: 0.0001 for `91.30 %`. */
const lastDigit = ({ figure }: Amount): Decimal =>
  figure?.form === 'reading' && figure.digits.unit
    ? decimal(10).pow(-decimalsOf(figure.digits.text)).times(figure.digits.unit.factor)
    : ZERO;
