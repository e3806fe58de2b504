/** What was bought, with what it brought since: each sale, and what is still here, is followed back to the lots that its metal came from. */
import { type Inexact, NOTHING, plus, scaled } from '../../engine/accounts/inexact';
import type { Lineage } from '../../engine/accounts/lineage';
import { type Segment, segmentsOf } from '../../engine/accounts/segments';
import { isMetalKind } from '../../engine/charge';
import type { Entry } from '../../engine/entry';
import { inCurrency } from '../../engine/selling/prices';
import { perGram } from '../../engine/selling/stated';
import { findMaterial } from '../../engine/shelf';
import { type Decimal, ONE, ZERO } from '../../quantity/decimal';
import { addMoney, type Money } from '../../quantity/money';
import { accountsOf } from '../accounts';
import { inOrder } from '../order';
import type { Workspace } from '../workspace';
import { billOf } from './bills';
import { type Dealt, dealtIn } from './dealt';
import type { LotKnown } from './known';
import { asDecimal, bestOf, sharesOf } from './known';
import { marketOn } from './money';
import { type Open, openOn } from './open';
import { originsOf } from './origins';
import { salesOf } from './sales';

/** A part of what came of a purchase. */
export interface Came {
  readonly sale: Dealt | undefined;
  readonly open: Open | undefined;
  /** Share of the sale, or of what is open, that is this purchase's: 0 to 1, by worth of its gold and silver. */
  readonly share: number;
  /** Of all that came of the purchase so far, by worth: what its price is shared out by. */
  readonly ofPurchase: number;
  /** The share is of metal that is guessed. */
  readonly guessed: boolean;
}

export interface Bought {
  /** Where it came in, or the bill that bought it of a customer. */
  readonly entry: Entry;
  readonly lot: string;
  readonly from: string | undefined;
  readonly date: string;
  readonly paid: Money;
  readonly came: readonly Came[];
  /** Lots that are here and hold metal of the customer besides that which the bill bought. */
  readonly joint: readonly string[];
  /** Lots here, shipments and sales, that came of it and of which nobody knows what they hold. */
  readonly untold: readonly string[];
  /** Money so far, in the currency that was paid; a sale in another of which no rate is written is in `otherCurrency`. */
  readonly brought: Decimal;
  readonly otherCurrency: readonly string[];
  /** Sales in another currency, turned into it by the rate of their day. */
  readonly converted: readonly string[];
  /** What is open would bring, of what nobody takes as it is nothing; none where that is not known of all of it. */
  readonly wouldBring: Inexact | undefined;
  /** What the gold that was sold gained or lost by its price from the day it was bought to the day it was sold; none without both prices. */
  readonly byPrice: Decimal | undefined;
}

/** What was sold or is open, and how much of its worth came of which lot, by metal. */
interface Piece {
  readonly sale: Dealt | undefined;
  readonly open: Open | undefined;
  readonly whole: number;
  readonly guessed: boolean;
  readonly from: ReadonlyMap<Segment, ReadonlyMap<string, number>>;
}

interface Purchased extends Pick<Bought, 'entry' | 'lot' | 'from' | 'paid' | 'joint'> {
  readonly segments: readonly Segment[];
  /** None: all of it. */
  readonly metals?: ReadonlySet<string>;
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
  const worth = worthOn(workspace, until);
  const pieceOf = (lots: readonly LotKnown[], of: Pick<Piece, 'sale' | 'open'>): Piece => ({
    ...of,
    whole: lots.reduce((so, lot) => so + worth(lot), 0),
    guessed: [...sharesOf(lots, bestOf(accountsOf(workspace).metals)).values()].some(
      ({ ground }) => ground === 'guessed',
    ),
    from: sharedOut(workspace, lots, worth),
  });
  const sales = dealtIn(workspace).filter(({ date }) => date <= until);
  const opens = openOn(workspace, until);
  const pieces: readonly Piece[] = [
    ...sales.map((sale) => pieceOf(sale.lots, { sale, open: undefined })),
    ...opens.map((open) => pieceOf(open.lots, { sale: undefined, open })),
  ];
  const untold = untoldIn(workspace, until, [...sales, ...opens.filter(({ shipped }) => shipped)]);
  return [...receivedUntil(workspace, until), ...billedUntil(workspace, until)].sort(byOrder(workspace)).map((one) => {
    const own = untold.filter(({ roots }) => one.segments.some((segment) => roots.has(segment)));
    return boughtOf(
      workspace,
      one,
      cameOf(one, pieces),
      own.map(({ name }) => name),
      until,
    );
  });
};

/** Metal that is here or has left, of which it is not known what it holds, with all lots that it may have come of. */
const untoldIn = (
  workspace: Workspace,
  until: string,
  left: readonly Pick<Dealt, 'name' | 'lots'>[],
): readonly { readonly name: string; readonly roots: ReadonlySet<Segment> }[] => {
  const accounts = accountsOf(workspace);
  const { metals } = accounts;
  const isUntold = (segment: Segment): boolean =>
    !METALS.some((metal) => metals.best(segment).get(metal)?.share) &&
    isMetalKind(segment.start.flow?.kind ?? segment.story.make?.kind);
  const here = accounts
    .stock(until)
    .filter(({ segment, unit }) => unit === 'gram' && segment.start.entry.verb !== 'sample' && isUntold(segment))
    .map(({ lot, segment }) => ({ name: lot, segment }));
  const out = left.flatMap(({ name, lots }) =>
    lots.filter(({ segment }) => isUntold(segment)).map(({ segment }) => ({ name, segment })),
  );
  return [...here, ...out].map(({ name, segment }) => ({ name, roots: rootsOf(metals.lineage, segment) }));
};

const rootsOf = (lineage: Lineage, of: Segment): ReadonlySet<Segment> => {
  const seen = new Set<Segment>();
  const look = (one: Segment): void => {
    if (seen.has(one)) return;
    seen.add(one);
    const { was, passage } = lineage.origin(one);
    if (was) look(was);
    for (const { flow } of passage?.inputs ?? []) {
      const segment = lineage.segment(flow);
      if (segment) look(segment);
    }
  };
  look(of);
  return seen;
};

/** From here on it is all of it, whatever a guess says. */
export const WHOLE = 0.9995;

const cameOf = ({ segments, metals }: Purchased, pieces: readonly Piece[]): readonly Came[] => {
  const found = pieces.flatMap(({ sale, open, whole, guessed, from }) => {
    const sizes = segments.flatMap((segment) => [...(from.get(segment) ?? [])]);
    const size = sizes.reduce((so, [metal, one]) => (!metals || metals.has(metal) ? so + one : so), 0);
    return size > 0 ? [{ sale, open, size, share: size / whole, guessed: guessed && size / whole < WHOLE }] : [];
  });
  const all = found.reduce((so, { size }) => so + size, 0);
  return found.map(({ size, ...one }) => ({ ...one, ofPurchase: size / all }));
};

/** Lots that came in with the price that was paid. */
const receivedUntil = (workspace: Workspace, until: string): readonly Purchased[] =>
  [...workspace.book.lotNames()]
    .flatMap((name) => segmentsOf(workspace.book.lot(name)!).all)
    .flatMap((segment) => {
      const { entry, kind } = segment.start;
      const bought = entry.others.find(({ word, money }) => word === 'bought' && money)?.money;
      const isOne = kind === 'received' && entry.verb === 'receive' && (entry.date ?? '') <= until;
      if (!isOne || !bought || bought.per || !isMetal(workspace, entry)) return [];
      const paid = { amount: bought.digits.value, currency: bought.currency };
      return [{ entry, lot: segment.lot, from: entry.party?.name, paid, segments: [segment], joint: [] }];
    });

/** Metal that a bill buys of a customer: at the value of its lines, before charges, which are for the work. */
const billedUntil = (workspace: Workspace, until?: string): readonly Purchased[] =>
  accountsOf(workspace).purchases.all.flatMap(({ entry, owner, received, metals, pieces }) => {
    const bill = until === undefined || (entry.date ?? '') <= until ? billOf(workspace, entry) : undefined;
    if (!bill) return [];
    const [first, ...others] = bill.payout.metals.map(({ value }) => value);
    if (!first) return [];
    const lot = received.map((segment) => segment.lot).join(', ');
    const joint = accountsOf(workspace)
      .stock(until)
      .filter(({ segment, ownership }) => pieces.includes(segment) && ownership.owners.has(owner));
    return [
      {
        entry,
        lot,
        from: owner,
        paid: addMoney(first, ...others),
        segments: received,
        metals,
        joint: joint.map((holding) => holding.lot),
      },
    ];
  });

/** What a bill paid for the lot of an entry, alone or with others. */
export const boughtByBill = (
  workspace: Workspace,
  { anchor }: Entry,
): { readonly bill: Entry; readonly lots: string; readonly paid: Money } | undefined => {
  const found = billedUntil(workspace).find(({ segments }) =>
    segments.some(({ start }) => start.entry.anchor === anchor),
  );
  return found && { bill: found.entry, lots: found.lot, paid: found.paid };
};

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
): Piece['from'] => {
  const sizes = new Map<Segment, Map<string, number>>();
  for (const lot of lots) {
    for (const metal of METALS) {
      const size = worth(lot, metal);
      if (!(size > 0)) continue;
      for (const [from, share] of originsOf(workspace, lot.segment, metal) ?? []) {
        const own = sizes.get(from) ?? new Map<string, number>();
        sizes.set(from, own);
        own.set(metal, (own.get(metal) ?? 0) + size * share);
      }
    }
  }
  return sizes;
};

const boughtOf = (
  workspace: Workspace,
  { entry, lot, from, paid, joint }: Purchased,
  came: readonly Came[],
  untold: readonly string[],
  until: string,
): Bought => {
  const sales = salesOf(workspace);
  let brought: Decimal = ZERO;
  let wouldBring: Inexact | undefined = untold.length > 0 ? undefined : NOTHING;
  let byPrice: Decimal | undefined = ZERO;
  const otherCurrency: string[] = [];
  const converted: string[] = [];
  const before = marketOn(sales, entry.date ?? '', paid.currency).priceFor('Au');
  for (const { sale, open, share } of came) {
    // A whole is a whole but for the binary fraction.
    const part = share > 1 - 1e-9 ? asDecimal(1) : asDecimal(share);
    if (open) {
      if (open.unsold === 'no buyer') continue;
      const rate = open.best && inCurrency(sales.quotes, one(open.best.payout.currency), paid.currency, until);
      wouldBring =
        wouldBring && rate ? plus(wouldBring, scaled(open.best!.total, share * rate.amount.toNumber())) : undefined;
      continue;
    }
    if (!sale) continue;
    const money = inCurrency(sales.quotes, sale.paid, paid.currency, sale.date);
    if (!money) {
      otherCurrency.push(sale.name);
      continue;
    }
    if (sale.paid.currency !== paid.currency) converted.push(sale.name);
    brought = brought.plus(money.amount.times(part));
    const after = sale.market && marketOn(sales, sale.market.date, paid.currency).priceFor('Au');
    const gold = sale.fineGrams.get('Au');
    const risen = before && after ? perGram(after).minus(perGram(before)) : undefined;
    byPrice = byPrice && gold && risen ? byPrice.plus(risen.times(asDecimal(gold.value)).times(part)) : undefined;
  }
  return {
    entry,
    lot,
    from,
    date: entry.date ?? '',
    paid,
    came,
    joint,
    untold,
    brought,
    otherCurrency,
    converted,
    wouldBring,
    byPrice,
  };
};

const one = (currency: string): Money => ({ amount: ONE, currency });
