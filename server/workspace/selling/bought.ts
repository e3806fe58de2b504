/** What was bought, with what it brought since: each sale, and what is still here, is followed back to the lots that its metal came from. */
import { type Inexact, NOTHING, plus, scaled } from '../../engine/accounts/inexact';
import { type Segment, segmentsOf } from '../../engine/accounts/segments';
import type { Entry } from '../../engine/entry';
import { perGram } from '../../engine/selling/stated';
import { findMaterial } from '../../engine/shelf';
import { type Decimal, ZERO } from '../../quantity/decimal';
import type { Money } from '../../quantity/money';
import { accountsOf } from '../accounts';
import { inOrder } from '../order';
import type { Workspace } from '../workspace';
import { type Dealt, dealtIn } from './dealt';
import type { LotKnown } from './known';
import { marketOn } from './money';
import { type Open, openOn } from './open';
import { originsOf } from './origins';
import { salesOf } from './sales';
import { asDecimal } from './settlements';

/** A part of what came of a purchase. */
export interface Came {
  readonly sale: Dealt | undefined;
  readonly open: Open | undefined;
  /** Share of the sale, or of what is open, that is this purchase's: 0 to 1, by worth of its gold and silver. */
  readonly share: number;
  /** Of all that came of the purchase so far, by worth: what its price is shared out by. */
  readonly ofPurchase: number;
}

export interface Bought {
  readonly entry: Entry;
  readonly lot: string;
  readonly date: string;
  readonly paid: Money;
  readonly came: readonly Came[];
  /** Money so far, in the currency that was paid; a sale in another is in `otherCurrency`. */
  readonly brought: Decimal;
  readonly otherCurrency: readonly string[];
  /** What is open would bring, of what nobody takes as it is nothing; none where that is not known of all of it. */
  readonly wouldBring: Inexact | undefined;
  /** What the gold that was sold gained or lost by its price from the day it was bought to the day it was sold; none without both prices. */
  readonly byPrice: Decimal | undefined;
}

interface Piece {
  readonly sale: Dealt | undefined;
  readonly open: Open | undefined;
  readonly lots: readonly LotKnown[];
}

/** Metal, or what holds it; not what stands on the shelf. */
const isMetal = ({ workshop }: Workspace, { others }: Entry): boolean => {
  const name = others.find(({ word }) => word === 'material')?.names[0]?.name;
  const found = name === undefined ? undefined : findMaterial(workshop, name);
  return !found || FEED.has(found.group) || found.composition.some(({ what }) => PRECIOUS.has(what));
};

const FEED: ReadonlySet<string> = new Set(['feed', 'own']);
const PRECIOUS: ReadonlySet<string> = new Set(['Au', 'Ag', 'Pt', 'Pd']);

/** Up to the end of a day. */
export const boughtUntil = (workspace: Workspace, until: string): readonly Bought[] => {
  const pieces: readonly Piece[] = [
    ...dealtIn(workspace)
      .filter(({ date }) => date <= until)
      .map((sale) => ({ sale, open: undefined, lots: sale.lots })),
    ...openOn(workspace, until).map((open) => ({ sale: undefined, open, lots: open.lots })),
  ];
  const worth = worthOn(workspace, until);
  const came = new Map<Segment, Omit<Came, 'ofPurchase'>[]>();
  const sizes = new Map<Segment, number[]>();
  for (const { sale, open, lots } of pieces) {
    const whole = lots.reduce((so, lot) => so + worth(lot), 0);
    for (const [segment, size] of sharedOut(workspace, lots, worth)) {
      const own = came.get(segment) ?? [];
      came.set(segment, own);
      own.push({ sale, open, share: size / whole });
      const ownSizes = sizes.get(segment) ?? [];
      sizes.set(segment, ownSizes);
      ownSizes.push(size);
    }
  }
  return purchasesIn(workspace, until).map(({ entry, segment, paid }) => {
    const own = sizes.get(segment) ?? [];
    const whole = own.reduce((so, one) => so + one, 0);
    return boughtOf(
      workspace,
      entry,
      segment.lot,
      paid,
      (came.get(segment) ?? []).map((one, at) => ({ ...one, ofPurchase: own[at]! / whole })),
    );
  });
};

const purchasesIn = (workspace: Workspace, until: string) =>
  [...workspace.book.lotNames()]
    .flatMap((name) => segmentsOf(workspace.book.lot(name)!).all)
    .flatMap((segment) => {
      const { entry, kind } = segment.start;
      const bought = entry.others.find(({ word, money }) => word === 'bought' && money)?.money;
      const isOne = kind === 'received' && entry.verb === 'receive' && (entry.date ?? '') <= until;
      if (!isOne || !bought || bought.per || !isMetal(workspace, entry)) return [];
      return [{ entry, segment, paid: { amount: bought.digits.value, currency: bought.currency } }];
    })
    .sort(byOrder(workspace));

/** As they stand in the journal. */
const byOrder = ({ pages }: Workspace): ((a: { readonly entry: Entry }, b: { readonly entry: Entry }) => number) => {
  const written = [...pages.values()].flatMap(({ entries }) => entries).sort(inOrder(pages));
  const order = new Map(written.map(({ anchor }, at) => [anchor, at]));
  return (a, b) => (order.get(a.entry.anchor) ?? 0) - (order.get(b.entry.anchor) ?? 0);
};

/** Gold and silver of a lot at the prices of a day; without prices its gold. */
const worthOn = (workspace: Workspace, date: string): ((lot: LotKnown, metal?: string) => number) => {
  const { metals } = accountsOf(workspace);
  const { quotes } = salesOf(workspace);
  const currency = quotes.find(({ perGrams }) => perGrams !== undefined)?.currency;
  const market = currency === undefined ? undefined : marketOn(salesOf(workspace), date, currency);
  const priceOf = (metal: string): number => {
    const price = market?.priceFor(metal);
    return price ? price.amount.div(price.perGrams).toNumber() : metal === 'Au' ? 1 : 0;
  };
  return ({ segment, grams }, metal) =>
    METALS.filter((one) => metal === undefined || one === metal).reduce((so, one) => {
      const share = metals.best(segment).get(one)?.share?.value ?? 0;
      return so + (grams?.value.toNumber() ?? 0) * share * priceOf(one);
    }, 0);
};

const METALS = ['Au', 'Ag'] as const;

/** The worth of lots by the lots that it came from, each metal by its own. */
const sharedOut = (
  workspace: Workspace,
  lots: readonly LotKnown[],
  worth: (lot: LotKnown, metal?: string) => number,
): ReadonlyMap<Segment, number> => {
  const sizes = new Map<Segment, number>();
  for (const lot of lots) {
    for (const metal of METALS) {
      const size = worth(lot, metal);
      if (!(size > 0)) continue;
      for (const [from, share] of originsOf(workspace, lot.segment, metal) ?? [])
        sizes.set(from, (sizes.get(from) ?? 0) + size * share);
    }
  }
  return sizes;
};

const boughtOf = (workspace: Workspace, entry: Entry, lot: string, paid: Money, came: readonly Came[]): Bought => {
  let brought: Decimal = ZERO;
  let wouldBring: Inexact | undefined = NOTHING;
  let byPrice: Decimal | undefined = ZERO;
  const otherCurrency: string[] = [];
  const before = marketOn(salesOf(workspace), entry.date ?? '', paid.currency).priceFor('Au');
  for (const { sale, open, share } of came) {
    // A whole is a whole but for the binary fraction.
    const part = share > 1 - 1e-9 ? asDecimal(1) : asDecimal(share);
    if (open) {
      if (open.unsold === 'no buyer') continue;
      const isIn = open.best?.payout.currency === paid.currency;
      wouldBring = wouldBring && isIn ? plus(wouldBring, scaled(open.best!.total, share)) : undefined;
      continue;
    }
    if (!sale) continue;
    if (sale.paid.currency !== paid.currency) {
      otherCurrency.push(sale.name);
      continue;
    }
    brought = brought.plus(sale.paid.amount.times(part));
    const after = sale.market?.currency === paid.currency ? sale.market.priceFor('Au') : undefined;
    const gold = sale.fineGrams.get('Au');
    const risen = before && after ? perGram(after).minus(perGram(before)) : undefined;
    byPrice = byPrice && gold && risen ? byPrice.plus(risen.times(asDecimal(gold.value)).times(part)) : undefined;
  }
  return { entry, lot, date: entry.date ?? '', paid, came, brought, otherCurrency, wouldBring, byPrice };
};
