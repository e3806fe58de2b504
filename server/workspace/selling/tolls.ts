/** Toll work in the journal: from a customer's lot, or a shipment of their metal, to all that came in and all that came of it. */
import { fromMeasured, sum, times } from '../../engine/accounts/inexact';
import type { Segment } from '../../engine/accounts/segments';
import { segmentsOf } from '../../engine/accounts/segments';
import { wordsOf } from '../../engine/selling/deal';
import { type ChargeLine, payoutOf } from '../../engine/selling/payout';
import { type TollMetal, type TollPiece, type TollReceived, tollMetals } from '../../engine/selling/toll';
import type { Terms } from '../../engine/workshop';
import { type Decimal, decimal } from '../../quantity/decimal';
import type { Measured } from '../../quantity/measured';
import { addMoney, type Money, money } from '../../quantity/money';
import { type Accounts, accountsOf } from '../accounts';
import { dividedShort, gainedInPools, partOf, shortInPools } from '../pools';
import type { Workspace } from '../workspace';
import { settledWith } from './consigned';
import { cameOf, workedTogether } from './family';
import { asDecimal, gramsOf, type LotKnown, sharesOf } from './known';
import { currencyOf, type Market, marketOn } from './money';
import { givenFor, METALS, piecesOf } from './pieces';
import { termsFor } from './purchases';
import { type Sale, salesOf } from './sales';
import { lotsShipped } from './shipments';

export interface Toll {
  /** The name that it was asked for by. */
  readonly name: string;
  readonly customer: string;
  /** Lots of theirs as they came in. */
  readonly lots: readonly LotKnown[];
  readonly receivedOn: string | undefined;
  readonly receivedGrams: Measured | undefined;
  readonly terms: Terms | undefined;
  readonly metals: readonly TollMetal[];
  /** All that came of them, as it began, and where that is now, in the order of the journal. */
  readonly came: readonly Segment[];
  readonly pieces: readonly TollPiece[];
  /** The agreed charges for the work, in money. */
  readonly charges: readonly ChargeLine[];
  readonly fee: Money | undefined;
  /** Charges without a rate to the currency of the others, and those that hang on a price that is not written. */
  readonly uncounted: readonly string[];
  /** Who keeps slag and other residues: as agreed; else they stay the customer's, but where the journal says otherwise. */
  readonly residues: 'shop' | 'owner' | undefined;
  /** Metal of others was joined with theirs. */
  readonly joined: boolean;
  /** Lots of which nothing tells how much is theirs. */
  readonly untold: readonly Segment[];
  /** It went back as it came: nothing was done with it that the terms give a price or a share for. */
  readonly unworked: boolean;
}

/** Of a lot that came in from a customer and was not bought, or of a shipment or a lot of what came of it. Undefined for all else. */
export const tollOf = (workspace: Workspace, name: string, party?: string): Toll | undefined => {
  const accounts = accountsOf(workspace);
  const sale = salesOf(workspace).shipNamed(name);
  const story = workspace.book.lot(name);
  const [first] = story && story.births.length > 0 ? segmentsOf(story).all : [];
  const segments = sale ? lotsShipped(workspace, sale).map(({ segment }) => segment) : first ? [first] : [];
  const customers = segments.flatMap((segment) => customersOf(workspace, accounts, segment));
  // Of a pool the one whom the shipment went to, or with whom it is settled.
  const isAsked = (one: string): boolean => one === party;
  const customer = sale
    ? customers.find((one) => one === sale.entry.party?.name)
    : (customers.find(isAsked) ?? customers[0]);
  if (customer === undefined) return undefined;
  const received = workedTogether(accounts.metals.lineage, segments, isTheirs(workspace, accounts, customer));
  return received.length > 0 ? toll(workspace, name, customer, received) : undefined;
};

/** All of a customer: an account for each lot that came in, and one for several that were worked together. */
export const tollsOf = (workspace: Workspace, customer: string): readonly Toll[] => {
  const accounts = accountsOf(workspace);
  const received = [...workspace.book.lotNames()]
    .flatMap((name) => segmentsOf(workspace.book.lot(name)!).all)
    .filter((one) => one.start.kind === 'received' && isTheirs(workspace, accounts, customer)(one));
  const groups: { received: Segment[]; came: Set<Segment> }[] = [];
  for (const segment of received) {
    const came = cameOf(accounts.metals.lineage, [segment], isTheirs(workspace, accounts, customer)).filter(
      isTheirs(workspace, accounts, customer),
    );
    const met = groups.filter((group) => came.some((one) => group.came.has(one)));
    const joined = {
      received: [...met.flatMap((group) => group.received), segment],
      came: new Set([...met.flatMap((group) => [...group.came]), ...came]),
    };
    groups.splice(0, groups.length, ...groups.filter((group) => !met.includes(group)), joined);
  }
  return groups.map((group) => toll(workspace, listOf(group.received), customer, group.received));
};

const listOf = (segments: readonly Segment[]): string => segments.map(({ lot }) => lot).join(', ');

/** The owners of a lot besides the shop: customers, or whose metal was received and not bought. */
const customersOf = ({ workshop }: Workspace, accounts: Accounts, segment: Segment): readonly string[] =>
  accounts
    .namesOf(accounts.owners(segment))
    .filter((owner) => owner !== accounts.shop && workshop.parties.get(owner)?.role !== 'own');

const isTheirs =
  (workspace: Workspace, accounts: Accounts, customer: string) =>
  (segment: Segment): boolean =>
    customersOf(workspace, accounts, segment).includes(customer);

const toll = (workspace: Workspace, name: string, customer: string, received: readonly Segment[]): Toll => {
  const accounts = accountsOf(workspace);
  const lots = received.map((segment): LotKnown => ({ lot: segment.lot, segment, grams: segment.start.weight.mass }));
  const receivedOn = received.map(({ start }) => start.entry.date).find((date) => date !== undefined);
  const terms = termsFor(workspace, customer, received, accounts.lastDate);
  const receivedGrams = gramsOf(lots);
  const shares = sharesOf(lots, ({ segment }, metal) => accounts.metals.best(segment).get(metal));
  const all = cameOf(accounts.metals.lineage, received, isTheirs(workspace, accounts, customer));
  const came = METALS.map((metal): TollReceived => {
    const known = shares.get(metal);
    const grams = known && receivedGrams ? times(fromMeasured(receivedGrams), known.share) : undefined;
    return {
      metal,
      grams,
      pooled: gainedInPools(accounts, all, customer, metal),
      short: shortInPools(accounts, all, customer, metal),
      divided: dividedShort(accounts, all, customer, metal),
      lotGrams: receivedGrams?.value.toNumber(),
      fineness: known?.share.value,
      guessed: known?.ground === 'guessed',
    };
  });
  const isOthers = (segment: Segment): boolean => {
    const owners = customersOf(workspace, accounts, segment);
    return owners.length > 0 && !owners.includes(customer);
  };
  const bills = billsOn(
    workspace,
    all.filter((segment) => !isOthers(segment)),
  ).filter((sale) => (settledWith(salesOf(workspace), sale) ?? customer) === customer);
  const own = bills
    .flatMap(({ parts }) => wordsOf(parts).returned)
    .filter((lot) => all.every((segment) => segment.lot !== lot));
  const pieces = [
    ...all.flatMap((segment) => piecesOf(workspace, segment, customer)),
    ...[...new Set(own)].flatMap((lot) => givenFor(workspace, lot, customer)),
  ];
  const bought = new Set(
    accounts.purchases.all.flatMap((one) =>
      one.owner === customer && bills.includes(one.sale) ? [...one.metals] : [],
    ),
  );
  const unworked = isUnworked(accounts, all, pieces);
  const due = unworked ? undefined : terms;
  const metals = tollMetals(came, pieces, due, bought);
  return {
    name,
    customer,
    lots,
    receivedOn,
    receivedGrams,
    terms,
    metals,
    came: all,
    pieces,
    ...feeOf(workspace, due, chargedOn({ receivedGrams, pieces, metals }), bills[0]?.entry.date ?? accounts.lastDate),
    residues: terms?.residues,
    joined: all.some((segment) => accounts.owners(segment).owners.size > 1),
    untold: all.filter((segment) => partOf(accounts, segment, customer) === undefined),
    unworked,
  };
};

/** Nothing was made, sampled or assayed of it, and all of it went back. */
const isUnworked = ({ metals }: Accounts, all: readonly Segment[], pieces: readonly TollPiece[]): boolean =>
  pieces.length > 0 &&
  pieces.every(({ where }) => where === 'returned') &&
  all.every(({ start }) => start.kind === 'received') &&
  all.every((segment) => metals.lineage.uses(segment).length === 0 && metals.assays(segment).length === 0);

/** Their bills, by the name of a lot or of a shipment; prices of the first one hold. */
const billsOn = (workspace: Workspace, all: readonly Segment[]): readonly Sale[] => {
  const names = new Set(
    all.flatMap(({ lot, events }) => [
      lot,
      ...events.flatMap(({ kind, entry }) => (kind === 'shipped' && entry.name ? [entry.name.name] : [])),
    ]),
  );
  return salesOf(workspace).settles.filter(({ entry }) => names.has(entry.name?.name ?? ''));
};

/** The charges of the terms, and their sum. */
const feeOf = (
  workspace: Workspace,
  terms: Terms | undefined,
  on: ChargedOn | undefined,
  date: string,
): Pick<Toll, 'charges' | 'fee' | 'uncounted'> => {
  const currency = terms && currencyOf(undefined, terms, workspace.workshop, salesOf(workspace), date);
  if (!terms || currency === undefined || !on) return { charges: [], fee: undefined, uncounted: [] };
  const { charges, uncounted } = chargesOn(on, terms.charges, {
    market: marketOn(salesOf(workspace), date, currency),
    rounding: terms.rounding,
  });
  return { charges, fee: addMoney(money(0, currency), ...charges.map(({ cost }) => cost)), uncounted };
};

/** What charges for work are reckoned on: grams as they came in, as what came of them as metal, and as fine metal. */
export interface ChargedOn {
  readonly received: Decimal;
  readonly melted: Decimal;
  readonly fine: ReadonlyMap<string, Decimal>;
}

/** By the journal; undefined where what came in is not weighed. */
export const chargedOn = ({
  receivedGrams,
  pieces,
  metals,
}: Pick<Toll, 'receivedGrams' | 'pieces' | 'metals'>): ChargedOn | undefined => {
  if (!receivedGrams) return undefined;
  const metal = sum(pieces.flatMap(({ residue, grams }) => (residue || !grams ? [] : [grams])));
  return {
    received: receivedGrams.value,
    melted: asDecimal(metal.value > 0 ? metal.value : receivedGrams.value.toNumber()),
    fine: new Map(
      metals.flatMap(({ metal: symbol, received }) => (received ? [[symbol, asDecimal(received.value)] as const] : [])),
    ),
  };
};

/** What charges come to: on what came in, on what came of it as metal (`melted`), or on the value of all its gold and silver. */
export const chargesOn = (
  { received, melted, fine }: ChargedOn,
  charges: Terms['charges'],
  { market, rounding }: { readonly market: Market; readonly rounding: Terms['rounding'] },
): Pick<Toll, 'charges' | 'uncounted'> => {
  const payout = payoutOf(
    {
      grams: melted,
      receivedGrams: received,
      shares: new Map([...fine].map(([symbol, grams]) => [symbol, grams.div(melted)])),
    },
    {
      pays: new Map(METALS.map((symbol) => [symbol, [{ from: decimal(0), share: decimal(1) }]])),
      less: new Map(),
      keeps: new Map(),
      charges,
      rounding: rounding ?? 'half-even',
      fineStepGrams: undefined,
    },
    { currency: market.currency, priceFor: market.priceFor, convert: market.convert },
  );
  const needsPrice = payout.unpriced.length > 0;
  const isPriced = ({ term }: ChargeLine): boolean => !needsPrice || term.currency !== undefined;
  return {
    charges: payout.charges.filter(isPriced),
    uncounted: [...payout.unconverted, ...payout.charges.filter((line) => !isPriced(line)).map(({ word }) => word)],
  };
};
