/** Money that came in for a customer's metal: it is theirs. */
import type { Money } from '../../quantity/money';
import { addMoney, roundMoney, timesMoney } from '../../quantity/money';
import { accountsOf } from '../accounts';
import { partOf } from '../pools';
import type { Workspace } from '../workspace';
import { type Dealt, dealtBy } from './dealt';
import { asDecimal } from './known';
import { METALS } from './pieces';
import { salesOf } from './sales';
import type { Toll } from './tolls';

export interface Proceeds {
  readonly dealt: Dealt;
  /** Of these lots. */
  readonly lots: readonly string[];
  /** All of it, or their part of a shipment with metal of others, by the worth of its gold and silver. */
  readonly money: Money;
  readonly isPart: boolean;
}

/** Sale by sale, in the order of the journal. What a bill has bought of them is not among it. */
export const proceedsOf = (workspace: Workspace, { came, customer }: Toll): readonly Proceeds[] => {
  const accounts = accountsOf(workspace);
  const own = new Set(
    came.filter((segment) => {
      const ownership = accounts.ownedOn(segment);
      const names = accounts.namesOf(ownership);
      const isBought = accounts.purchases.of(segment).some(({ owner }) => owner === customer);
      return names.every((owner) => owner === customer) || (ownership.pooled && names.includes(customer) && !isBought);
    }),
  );
  const partsOf = ({ segment }: Dealt['lots'][number], metal: string): number =>
    (partOf(accounts, segment, customer, metal) ?? 0) * (1 - (accounts.lent(segment).get(metal)?.value ?? 0));
  const names = new Set(
    [...own].flatMap(({ lot, events }) => [
      lot,
      ...events.flatMap(({ kind, entry }) => (kind === 'shipped' && entry.name ? [entry.name.name] : [])),
    ]),
  );
  const { settles, sells } = salesOf(workspace);
  const sales = [...settles, ...sells].filter(({ entry }) => entry.name && names.has(entry.name.name));
  return sales
    .flatMap((sale) => dealtBy(workspace, sale))
    .flatMap((dealt): readonly Proceeds[] => {
      const theirs = dealt.lots.filter(({ segment }) => own.has(segment));
      if (theirs.length === 0) return [];
      const lots = theirs.map(({ lot }) => lot);
      const isPart =
        theirs.length < dealt.lots.length || theirs.some((lot) => METALS.some((metal) => partsOf(lot, metal) !== 1));
      const money = isPart ? moneyFor(workspace, dealt, theirs, partsOf) : dealt.paid;
      return money ? [{ dealt, lots, money, isPart }] : [];
    });
};

/** For some of the lots of a sale, by the worth of their gold and silver; none where that is not known. */
const moneyFor = (
  workspace: Workspace,
  dealt: Dealt,
  lots: Dealt['lots'],
  partsOf: PartsOf = WHOLE,
): Money | undefined => {
  if (lots.length === dealt.lots.length && partsOf === WHOLE) return dealt.paid;
  const worth = (all: Dealt['lots'], parts: PartsOf): number =>
    all.reduce((so, lot) => so + worthOf(workspace, dealt, lot, parts), 0);
  const whole = worth(dealt.lots, WHOLE);
  return whole > 0 ? roundMoney(timesMoney(dealt.paid, asDecimal(worth(lots, partsOf) / whole))) : undefined;
};

/** What of a metal of a lot is counted, 0 to 1. */
type PartsOf = (lot: Dealt['lots'][number], metal: string) => number;
const WHOLE: PartsOf = () => 1;

/** What of the money of a sale of ours is for metal of others: lots that are wholly theirs, and their parts of pools. */
export const othersPart = (
  workspace: Workspace,
  dealt: Dealt,
): { readonly money: Money; readonly owners: readonly string[] } | undefined => {
  const accounts = accountsOf(workspace);
  const ownersIn = ({ segment }: Dealt['lots'][number]): readonly string[] => {
    const ownership = accounts.ownedOn(segment);
    const names = accounts.namesOf(ownership);
    if (!names.includes(accounts.shop)) return names;
    const bought = new Set(accounts.purchases.of(segment).map(({ owner }) => owner));
    return ownership.pooled ? names.filter((name) => name !== accounts.shop && !bought.has(name)) : [];
  };
  const theirs = dealt.lots.filter((lot) => ownersIn(lot).length > 0);
  if (theirs.length === 0) return undefined;
  const partsOf: PartsOf = (lot, metal) =>
    accounts.namesOf(accounts.ownedOn(lot.segment)).includes(accounts.shop)
      ? ownersIn(lot).reduce((so, owner) => so + (partOf(accounts, lot.segment, owner, metal) ?? 0), 0) *
        (1 - (accounts.lent(lot.segment).get(metal)?.value ?? 0))
      : 1;
  const money = moneyFor(workspace, dealt, theirs, partsOf);
  return money && { money, owners: [...new Set(theirs.flatMap(ownersIn))] };
};

/** By the prices of that sale; gold alone where it has none. */
const worthOf = (workspace: Workspace, { market }: Dealt, lot: Dealt['lots'][number], partsOf: PartsOf): number => {
  const { segment, grams } = lot;
  const known = accountsOf(workspace).metals.best(segment);
  return METALS.reduce((so, metal) => {
    const price = market?.priceFor(metal);
    const perGram = price ? price.amount.div(price.perGrams).toNumber() : metal === 'Au' ? 1 : 0;
    return so + (grams?.value.toNumber() ?? 0) * (known.get(metal)?.share?.value ?? 0) * perGram * partsOf(lot, metal);
  }, 0);
};

/** Each currency's sum. */
export const totalsOf = (all: readonly Proceeds[]): readonly Money[] => {
  const sums = new Map<string, Money>();
  for (const { money } of all) {
    const so = sums.get(money.currency);
    sums.set(money.currency, so ? addMoney(so, money) : money);
  }
  return [...sums.values()];
};
