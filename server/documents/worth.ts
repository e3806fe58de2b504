/** What metal is worth in full, by the prices of a day. */
import { type Inexact, scaled, sum } from '../engine/accounts/inexact';
import type { Fine } from '../engine/accounts/stock';
import { perGram } from '../engine/selling/stated';
import { currencyOf, marketOn } from '../workspace/selling/money';
import { salesOf } from '../workspace/selling/sales';
import type { Workspace } from '../workspace/workspace';
import { reckonedMoney } from './cells';
import { type Cell, NOTHING } from './model';

export interface Worth {
  readonly money: Inexact;
  readonly currency: string;
}

/** Of gold and silver; none where no price is known. */
export const worthOf = (workspace: Workspace, date: string, fine: readonly Fine[]): Worth | undefined => {
  const sales = salesOf(workspace);
  const currency = currencyOf(undefined, undefined, workspace.workshop, sales, date);
  if (currency === undefined) return undefined;
  const market = marketOn(sales, date, currency);
  const values = fine.flatMap(({ metal, grams }) => {
    const price = grams && (metal === 'Au' || metal === 'Ag') ? market.priceFor(metal) : undefined;
    return price && grams ? [scaled(grams, perGram(price).toNumber())] : [];
  });
  return values.length > 0 ? { money: sum(values), currency } : undefined;
};

export const worth = (workspace: Workspace, date: string, fine: readonly Fine[]): Cell => {
  const of = worthOf(workspace, date, fine);
  return of ? reckonedMoney(of.money, of.currency) : NOTHING;
};
