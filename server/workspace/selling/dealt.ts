/** What buyers paid, sale by sale, against what our own weights and assays let us expect by the terms and the prices of the agreed day. */

import { fromMeasured, type Inexact, scaled, sum, times } from '../../engine/accounts/inexact';
import type { LotEvent } from '../../engine/book';
import { dealOf } from '../../engine/selling/deal';
import { type Payout, payoutOf } from '../../engine/selling/payout';
import { isPriced } from '../../engine/selling/prices';
import { slipOfSums } from '../../engine/selling/settlement';
import { perGram } from '../../engine/selling/stated';
import { spreadOf } from '../../engine/selling/worth';
import { addMoney, type Money, money } from '../../quantity/money';
import type { Place } from '../../text/place';
import { accountsOf } from '../accounts';
import type { Workspace } from '../workspace';
import { headOf } from './consigned';
import { openOwed } from './differences';
import { asDecimal, type LotKnown, type ShareKnown } from './known';
import type { Market } from './money';
import { type Sale, salesOf } from './sales';
import { type Settlement, settlementOf, settlementsIn } from './settlements';
import { lotAt, othersOf } from './shipments';
import { type Sold, soldOf } from './sold';

export interface Dealt {
  /** The shipment, or the lot that was sold of hand. */
  readonly name: string;
  readonly party: string | undefined;
  /** The day of the settlement or the sale. */
  readonly date: string;
  readonly lots: readonly LotKnown[];
  /** Money of the sale. */
  readonly paid: Money;
  /** The day on which it came; none while no payment is written. */
  readonly paidOn: string | undefined;
  /** Fine grams by our own figures. */
  readonly fineGrams: ReadonlyMap<string, Inexact>;
  /** Our gold and silver at the full price of the agreed day. */
  readonly full: Inexact | undefined;
  /** None where no terms are on file. */
  readonly expected: Inexact | undefined;
  /** What they took for their work; none is written of a sale of hand. */
  readonly charges: Money | undefined;
  /** What slips in their own sums take of it, below nought add to it. */
  readonly slip: Money | undefined;
  /** By how much they pay too little by the journal, where a line of the settlement differs. */
  readonly owed: Money | undefined;
  readonly isSettled: boolean;
  readonly days: number | undefined;
  readonly agreedDays: number | undefined;
  readonly market: Market | undefined;
  readonly place: Place;
}

/** Of our own metal, in order of the journal, settlements first. */
export const dealtIn = (workspace: Workspace): readonly Dealt[] => allDealt(workspace).filter(isOurs(workspace));

/** Of metal that is wholly others': the money is theirs. */
export const dealtForOthers = (
  workspace: Workspace,
): readonly { readonly dealt: Dealt; readonly owners: readonly string[] }[] =>
  allDealt(workspace)
    .filter((one) => !isOurs(workspace)(one))
    .map((dealt) => ({ dealt, owners: [...new Set(dealt.lots.flatMap((lot) => othersOf(workspace, lot)))] }));

const isOurs =
  (workspace: Workspace) =>
  ({ lots }: Dealt): boolean => {
    const accounts = accountsOf(workspace);
    return lots.some(({ segment }) => {
      const owners = accounts.namesOf(accounts.ownedOn(segment));
      return owners.length === 0 || owners.includes(accounts.shop);
    });
  };

const allDealt = (workspace: Workspace): readonly Dealt[] => [
  ...settlementsIn(workspace).map((one) => settled(workspace, one)),
  ...salesOf(workspace).sells.flatMap(({ entry }) => sold(workspace, entry)),
];

/** One settlement or sale, of whomever's metal. */
export const dealtBy = (workspace: Workspace, { entry }: Sale): readonly Dealt[] => {
  if (entry.verb === 'sell') return sold(workspace, entry);
  const settlement = settlementOf(workspace, entry);
  return settlement ? [settled(workspace, settlement)] : [];
};

const settled = (workspace: Workspace, of: Settlement): Dealt => {
  const { name, party, settledOn, paidOn, lots, grams, checked, market, terms, daysTaken, sale, currency } = of;
  const own = soldOnly(of.own, of.words);
  const fineGrams = fineOf(grams, own);
  const deal = dealOf(undefined, terms);
  const byOwn: Payout | undefined =
    deal && grams && own.has('Au')
      ? payoutOf(
          {
            grams: grams.value,
            receivedGrams: grams.value,
            shares: new Map([...own].map(([metal, { share }]) => [metal, asDecimal(share.value)])),
          },
          deal,
          market,
        )
      : undefined;
  return {
    name,
    party,
    date: settledOn,
    lots,
    paid: checked.stated,
    paidOn,
    fineGrams,
    full: fullOf(of),
    expected: byOwn && byOwn.unpriced.length === 0 ? spreadOf(byOwn, fineGrams) : undefined,
    charges: addMoney(money(0, currency), ...checked.payout.charges.map(({ cost }) => cost)),
    slip: slipOfSums(checked),
    owed: openOwed(workspace, of),
    isSettled: true,
    days: paidOn === undefined ? undefined : daysTaken,
    agreedDays: terms?.days,
    market,
    place: headOf(sale).head,
  };
};

const sold = (workspace: Workspace, entry: LotEvent['entry']): readonly Dealt[] => {
  const sale = salesOf(workspace).of(entry);
  const head = sale && headOf(sale);
  const lot = head?.name && lotAt(workspace, head.name.name, entry);
  if (!lot || !head?.money || head.money.per || head.date === undefined) return [];
  const found: Sold | undefined = soldOf(workspace, entry);
  const worth = found?.worth;
  return [
    {
      name: lot.lot,
      party: head.party?.name,
      date: head.date,
      lots: [lot],
      paid: { amount: head.money.digits.value, currency: head.money.currency },
      paidOn: head.date,
      fineGrams: worth?.fineGrams ?? new Map(),
      full: found?.full,
      expected: worth?.by === 'common practice' || worth?.payout.unpriced.length !== 0 ? undefined : worth.total,
      charges: undefined,
      slip: undefined,
      owed: undefined,
      isSettled: false,
      days: undefined,
      agreedDays: undefined,
      market: worth?.market,
      place: head.head,
    },
  ];
};

/** Our own gold and silver at the full price of the agreed day; none without our gold, or without a price. */
export const fullOf = ({ grams, own, market, words }: Settlement): Inexact | undefined =>
  own.has('Au') ? atFullPrice(fineOf(grams, soldOnly(own, words)), market) : undefined;

/** Metal that comes back in place of money was not sold. */
const soldOnly = (own: Settlement['own'], { returns }: Settlement['words']): Settlement['own'] =>
  returns.size === 0 ? own : new Map([...own].filter(([metal]) => !returns.has(metal)));

const fineOf = (grams: LotKnown['grams'], shares: ReadonlyMap<string, ShareKnown>): ReadonlyMap<string, Inexact> => {
  const weight = grams && fromMeasured(grams);
  return new Map(weight ? [...shares].map(([metal, { share }]) => [metal, times(weight, share)] as const) : []);
};

/** Gold and silver; none where one of them has no price. */
const atFullPrice = (fineGrams: ReadonlyMap<string, Inexact>, market: Market): Inexact | undefined => {
  const values = ['Au', 'Ag'].flatMap((metal) => {
    const fine = fineGrams.get(metal);
    if (!fine) return [];
    const price = market.find(metal);
    return [isPriced(price) ? scaled(fine, perGram(price).toNumber()) : undefined];
  });
  const priced = values.flatMap((value) => value ?? []);
  return priced.length === values.length && priced.length > 0 ? sum(priced) : undefined;
};
