/** What can be done with a lot on hand to sell it, what each way brings, and how sure the better one is. */
import { spread } from '../../engine/accounts/inexact';
import { standingOf } from '../../engine/accounts/stock';
import { isMetalKind } from '../../engine/charge';
import {
  type BreakEven,
  bestFor,
  breakEvenFineness,
  breakEvenShare,
  type Comparison,
  compare,
  netSpread,
} from '../../engine/selling/compare';
import { HOLD_DAYS, holdRoute, moveOf } from '../../engine/selling/hold';
import { isPriced, type Price, type Quote } from '../../engine/selling/prices';
import { type Factor, isTaken, type Outcome, outcomeOf, type Route } from '../../engine/selling/route';
import type { ChargeTerm } from '../../engine/workshop';
import { type Measured, uncertainty } from '../../quantity/measured';
import { dayNumber } from '../../text/calendar';
import { accountsOf } from '../accounts';
import type { Workspace } from '../workspace';
import { buyersOf, fullValue, type LeftOut } from './buyers';
import { type HoursKnown, hoursOf } from './hours';
import { bestOf, type LotKnown, type ShareKnown, sharesOf } from './known';
import { marketOn } from './money';
import { salesOf } from './sales';
import { routesTo } from './ways';

/** A route with what it brings. */
export interface Ranked {
  readonly route: Route;
  readonly outcome: Outcome;
  /** Standard uncertainty of the net, in money; worked out when it is asked for. */
  readonly u: number;
  /** The buyer takes it: not below its least lot, nor its lowest band. */
  readonly taken: boolean;
  /** Charges without a rate: what is paid is less by these. */
  readonly unconverted: readonly ChargeTerm[];
  /** Metals that the buyer pays and that have no price: what is paid is more by these. */
  readonly unpriced: readonly string[];
}

/** The best way with work against the best without. */
export interface Refining {
  readonly direct: Ranked;
  readonly further: Ranked;
  /** What refining brings more. */
  readonly comparison: Comparison;
  /** Where both pay the same; worked out when it is asked for. */
  readonly fineness: () => BreakEven | undefined;
  readonly share: () => BreakEven | undefined;
}

export interface Routes {
  readonly lot: LotKnown;
  readonly kind: string | undefined;
  readonly grams: Measured;
  readonly shares: ReadonlyMap<string, ShareKnown>;
  readonly guessed: boolean;
  readonly date: string;
  readonly currency: string;
  /** What the gold and silver are worth at their full price, in money; holding the lot is holding that. */
  readonly full: number;
  readonly hours: HoursKnown;
  /** Prices of its metals that are older than the workshop lets a price be, the oldest first. */
  readonly old: readonly Price[];
  /** Later quotes that no rate turns into the currency of the routes. */
  readonly passed: readonly Quote[];
  /** Offers that are not among the routes. */
  readonly leftOut: readonly LeftOut[];
  /** The best first; then those with a charge that cannot be reckoned, and those that nobody takes last. */
  readonly ranked: readonly Ranked[];
  readonly refining: Refining | undefined;
}

export type NoRoutes =
  | 'no such lot'
  | 'not on hand'
  | 'not weighed'
  | 'no metal'
  | 'gold not known'
  | 'no price'
  | 'not ours';

/** Of a lot as it lies there at the end of the record; else why there is no way to tell. */
export const routesOf = (workspace: Workspace, name: string): Routes | NoRoutes => {
  const accounts = accountsOf(workspace);
  const story = workspace.book.lot(name);
  if (!story || story.births.length === 0) return 'no such lot';
  const standing = standingOf(story, story.events, accounts.metals.lineage);
  if (!standing) return 'not on hand';
  if (!isMetalKind(story.make?.kind)) return 'no metal';
  const grams = standing.last.after;
  if (!grams?.value.greaterThan(0)) return 'not weighed';
  const owners = accounts.namesOf(accounts.ownedOn(standing.segment));
  if (owners.some((owner) => owner !== accounts.shop)) return 'not ours';
  return routesFor(workspace, { lot: name, segment: standing.segment, grams }, grams, story.make?.kind);
};

const routesFor = (
  workspace: Workspace,
  lot: LotKnown,
  grams: Measured,
  kind: string | undefined,
): Routes | NoRoutes => {
  const { lastDate: date, metals } = accountsOf(workspace);
  const shares = sharesOf([lot], bestOf(metals));
  const [gold, silver] = [shares.get('Au'), shares.get('Ag')];
  if (!gold || !(gold.share.value > 0)) return 'gold not known';
  const { buyers, leftOut } = buyersOf(workspace, lot, date);
  const priced = buyers.filter(({ priceFor }) => priceFor('Au'));
  if (priced.length === 0) return 'no price';
  const hours = hoursOf(workspace);
  const factors: readonly Factor[] = [
    factorOf('grams', grams.value.toNumber(), uncertainty(grams)),
    factorOf('gold', gold.share.value, spread(gold.share)),
    ...(silver ? [factorOf('silver', silver.share.value, spread(silver.share))] : []),
  ];
  const all = priced.flatMap((buyer) => routesTo(workspace, buyer, factors, { lot, hours }));
  const now = all.map(rankedOf).sort(byNet);
  // A sum that is offered today is not offered in a month.
  const direct = now.find(({ route, taken }) => taken && route.key === 'sell' && !route.buyer.lump)?.route;
  const until = { metal: 'Au', currency: priced[0]!.currency, until: date };
  const move = direct && moveOf(salesOf(workspace).quotes, until, HOLD_DAYS, daysBetween);
  const ranked = direct ? [...now, rankedOf(holdRoute(direct, move))].sort(byNet) : now;
  const { currency } = priced[0]!;
  const prices = pricesOf(workspace, date, currency, shares);
  return {
    lot,
    kind,
    grams,
    shares,
    guessed: grams.guessed || gold.ground === 'guessed' || silver?.ground === 'guessed',
    date,
    currency,
    full: fullValue(priced[0]!, {
      grams: grams.value.toNumber(),
      gold: gold.share.value,
      silver: silver?.share.value ?? 0,
    }),
    hours,
    ranked,
    refining: refiningOf(ranked),
    old: prices.filter(({ ageDays }) => ageDays > workspace.workshop.limits.priceDays).sort(byAge),
    passed: prices.flatMap(({ passed }) => passed ?? []),
    leftOut,
  };
};

const pricesOf = (
  workspace: Workspace,
  date: string,
  currency: string,
  shares: ReadonlyMap<string, ShareKnown>,
): readonly Price[] =>
  [...shares.keys()].map((metal) => marketOn(salesOf(workspace), date, currency).find(metal)).filter(isPriced);

const byAge = (a: Price, b: Price): number => b.ageDays - a.ageDays;

const rankedOf = (route: Route): Ranked => {
  const outcome = outcomeOf(route, bestFor(route));
  return {
    route,
    outcome,
    get u() {
      return netSpread(route);
    },
    taken: isTaken(route, outcome),
    unconverted: unconvertedIn(route, outcome),
    unpriced: route.buyer.lump ? [] : [...new Set(outcome.payouts.flatMap(({ unpriced }) => unpriced))],
  };
};

const unconvertedIn = ({ buyer }: Route, { payouts }: Outcome): readonly ChargeTerm[] => {
  const words = new Set(payouts.flatMap(({ unconverted }) => unconverted));
  return buyer.lump ? [] : [...buyer.deal.charges].flatMap(([word, term]) => (words.has(word) ? [term] : []));
};

const isReckoned = ({ unconverted }: Ranked): boolean => unconverted.length === 0;

const byNet = (a: Ranked, b: Ranked): number =>
  Number(b.taken) - Number(a.taken) ||
  Number(isReckoned(b)) - Number(isReckoned(a)) ||
  b.outcome.net.amount.comparedTo(a.outcome.net.amount);

const daysBetween = (from: string, to: string): number => dayNumber(to) - dayNumber(from);

const factorOf = (name: string, best: number, u: number): Factor => ({ name, best, u, shape: 'normal' });

const WITH_WORK: readonly Route['key'][] = ['cupel', 'part', 'cupel and part'];

/** The best way that has one of these works in it, against the best as it is. Routes that nobody takes, and those with a charge that has no rate, compare with nothing. */
export const refiningOf = (
  ranked: readonly Ranked[],
  keys: readonly Route['key'][] = WITH_WORK,
): Refining | undefined => {
  const taken = ranked.filter((one) => one.taken && isReckoned(one));
  const direct = taken.find(({ route }) => route.key === 'sell');
  const further = taken.find(({ route }) => keys.includes(route.key));
  if (!direct || !further) return undefined;
  return {
    direct,
    further,
    comparison: compare(further.route, direct.route),
    fineness: () => breakEvenFineness(further.route, direct.route),
    share: () => breakEvenShare(direct.route, further.route),
  };
};
