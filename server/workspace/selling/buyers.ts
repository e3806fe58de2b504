/** Who may buy a lot, and by what deal: an offer for it, the terms on file, or what buyers commonly pay where there is neither. */
import { type Assumption, assume, COMMON_PRACTICE } from '../../engine/bench/result';
import { COMMON_SHARE, commonDeal, type Deal, dealOf, speaksOfPay, termsOn, wordsOf } from '../../engine/selling/deal';
import { quotesBy } from '../../engine/selling/prices';
import { type Buyer, evenly, type Piece, type Route } from '../../engine/selling/route';
import { decimal } from '../../quantity/decimal';
import type { Measured } from '../../quantity/measured';
import { roundMoney } from '../../quantity/money';
import type { Workspace } from '../workspace';
import { headOf } from './consigned';
import type { LotKnown } from './known';
import { currencyOf, marketOn, pricesBy } from './money';
import { salesOf } from './sales';
import { lotAt } from './shipments';

/** An offer that cannot be reckoned with, and why. */
export interface LeftOut {
  readonly party: string;
  readonly date: string;
  readonly because:
    | 'no share'
    | { readonly noRateFor: string; readonly wanted: string }
    | { readonly offeredFor: Measured };
}

export interface Buyers {
  readonly buyers: readonly Buyer[];
  readonly leftOut: readonly LeftOut[];
}

/** All in one currency: that of the shop, or of the first of them. */
export const buyersOf = (workspace: Workspace, of: LotKnown, date: string): Buyers => {
  const { workshop } = workspace;
  const sales = salesOf(workspace);
  const currency = currencyOf(undefined, undefined, workshop, sales, date);
  const offers = sales.offers.filter(({ entry }) => entry.name?.name === of.lot && (entry.date ?? '') <= date);
  const offered = [...new Set(offers.flatMap(({ entry }) => entry.party?.name ?? []))];
  const parties = new Set([
    ...[...workshop.parties.values()]
      .filter(({ role, ...party }) => (role === 'refiner' || role === undefined) && termsOn({ role, ...party }, date))
      .map(({ name }) => name),
    ...offered,
  ]);
  const leftOut: LeftOut[] = [];
  const found = [...parties].flatMap((name): readonly Buyer[] => {
    const terms = termsOn(workshop.parties.get(name), date);
    const offer = offers.findLast((one) => headOf(one).party?.name === name);
    const words = offer && wordsOf(offer.parts);
    const wanted = currency ?? currencyOf(words, terms, workshop, sales, date);
    if (wanted === undefined) return [];
    const market = marketOn({ quotes: quotesBy(sales.quotes, date, terms?.fixing) }, date, wanted);
    const base = {
      party: name,
      currency: wanted,
      convert: market.convert,
      minimumGrams: terms?.minimumGrams?.toNumber(),
      days: terms?.days,
    };
    const byTerms = (): readonly Buyer[] => {
      const deal = dealOf(undefined, terms);
      return deal ? [{ ...base, by: 'terms', deal, priceFor: market.priceFor }] : [];
    };
    if (!offer || !words || !speaksOfPay(words)) return byTerms();
    const leave = (because: LeftOut['because']): readonly Buyer[] => {
      leftOut.push({ party: name, date: headOf(offer).date ?? date, because });
      return byTerms();
    };
    const deal = dealOf(words, terms);
    const byOffer = { ...base, by: 'offer', deal: deal ?? NO_DEAL, priceFor: pricesBy(market, words) } as const;
    if (!words.total) return deal ? [byOffer] : leave('no share');
    const lump = market.convert(words.total.value);
    if (!lump) return leave({ noRateFor: words.total.value.currency, wanted });
    const then = lotAt(workspace, of.lot, headOf(offer))?.grams;
    if (then && of.grams && !then.value.equals(of.grams.value)) return leave({ offeredFor: then });
    const rest = terms ? byTerms() : words.pays.size > 0 ? [byOffer] : [];
    return [{ ...byOffer, lump: roundMoney(lump) }, ...rest];
  });
  if (found.length > 0 || currency === undefined) return { buyers: found, leftOut };
  const market = marketOn(sales, date, currency);
  const anybody: Buyer = {
    party: undefined,
    by: 'common practice',
    deal: commonDeal(),
    currency,
    priceFor: market.priceFor,
    convert: market.convert,
    minimumGrams: undefined,
    days: undefined,
  };
  return { buyers: [anybody], leftOut };
};

/** Of a sum for the whole: nothing is said of its metals. */
const NO_DEAL: Deal = { ...commonDeal(), pays: new Map() };

const SHARE = 'share that is paid of the gold';

/**
 * Where no terms are known: buttons at 90 to 95 %; metal that was refined at 98 to 99.5 %, as refiners commonly pay (a buyer's published
 * explanation, name withheld).
 */
const REFINED_SHARE = { low: 0.98, high: 0.995 };

export const byPractice = (route: Route): Route => {
  const refined = route.key !== 'sell';
  const { low, high } = refined
    ? REFINED_SHARE
    : { low: COMMON_SHARE.low.toNumber(), high: COMMON_SHARE.high.toNumber() };
  const share = evenly(`${SHARE}${refined ? ', refined' : ''}`, low, high);
  const assumed: Assumption[] = [
    ...route.assumed,
    refined
      ? assume('refined metal is paid at 98 to 99.5 % of its gold', "a buyer's published explanation, name withheld")
      : assume('such a button is paid at 90 to 95 % of its gold, and nothing of its silver', COMMON_PRACTICE),
  ];
  return {
    ...route,
    buyer: { ...route.buyer, deal: commonDeal(decimal(Number(share.best.toPrecision(12)))) },
    factors: [...route.factors, share],
    work: (given) => {
      const worked = route.work(given);
      // The deal pays the best share: another is so much less or more of the same metal.
      return { ...worked, part: worked.part * ((given.get(share.name) ?? share.best) / share.best) };
    },
    assumed,
  };
};

/** Gold and silver of a piece at their full price, in money. */
export const fullValue = ({ priceFor }: Pick<Buyer, 'priceFor'>, { grams, gold, silver }: Piece): number => {
  const worth = (metal: string, share: number): number => {
    const price = priceFor(metal);
    return price ? (grams * share * price.amount.toNumber()) / price.perGrams.toNumber() : 0;
  };
  return worth('Au', gold) + worth('Ag', silver);
};
