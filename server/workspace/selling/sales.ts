/**
 * All that a journal says of selling, in order: quotes, offers, shipments, settlements, sales. One value, the same object from version to version
 * as long as none of these entries has changed, so what was made from it may be kept with it.
 */

import type { Entry } from '../../engine/entry';
import { wordsOf } from '../../engine/selling/deal';
import { type Quote, quoteOf } from '../../engine/selling/prices';
import type { Workshop } from '../../engine/workshop';
import type { JournalPage } from '../../journal/page';
import { indexedBy, isSameList } from '../../text/lists';
import { inOrder } from '../order';
import { partsOf } from '../parts';
import type { Workspace } from '../workspace';

/** An entry of selling as it counts: without what is void, corrected, with what goes on with it. */
export interface Sale {
  /** As it stands on the page. */
  readonly entry: Entry;
  readonly parts: readonly Entry[];
}

export interface Sales {
  /** The same list as long as no quote has changed. */
  readonly quotes: readonly Quote[];
  readonly offers: readonly Sale[];
  readonly ships: readonly Sale[];
  /** Of a shipment or lot that is settled more than once, the first alone: its money came once. */
  readonly settles: readonly Sale[];
  readonly sells: readonly Sale[];
  /** Lots of the shipments that bear a name. */
  readonly lotsSettled: (name: string) => readonly string[];
  /** Lots that metal came back as in place of money, of the settlement of a name; and the settlement that a lot came back for. */
  readonly lotsReturned: (name: string) => readonly string[];
  readonly returnedFor: (lot: string) => string | undefined;
  /** The last shipment of a name. */
  readonly shipNamed: (name: string) => Sale | undefined;
  /** The last shipment that a lot went out with. */
  readonly shipOfLot: (lot: string) => Sale | undefined;
  /** Whom the shipment of a name went to. */
  readonly shippedTo: (name: string) => string | undefined;
  /** What settled the same before an entry. */
  readonly settledBefore: (entry: Entry) => Sale | undefined;
  /** Of an entry of selling; none of a plan, a void, a further part. */
  readonly of: (entry: Entry) => Sale | undefined;
  /** Entries that what is said of this one may hang on, beside prices: all of its name or its lots, and all that bear the names of these. */
  readonly around: (entry: Entry) => readonly Entry[];
}

/** Verbs of selling. What is said of them hangs on prices, on what else is said of their lots, and on the last day of the record. */
export const SELLING: ReadonlySet<string> = new Set(['quote', 'offer', 'ship', 'settle', 'sell']);

const ofPage = new WeakMap<JournalPage, readonly Entry[]>();

/**
 * It may be a customer's bill, or take their metal back to them, and so rest on all that came of it: the settlement of a lot, or what is shipped to
 * who owns metal here.
 */
export const isOfCustomer = (workspace: Workspace, { verb, name, party }: Entry): boolean => {
  if ((verb !== 'settle' && verb !== 'ship') || !name) return false;
  const sent = verb === 'ship' ? party?.name : salesOf(workspace).shippedTo(name.name);
  return sent === undefined || mayOwn(workspace, sent);
};

/** A customer's metal stays theirs, and anybody's that a line says is theirs (`engine/accounts/owners.ts`). */
const mayOwn = (workspace: Workspace, party: string): boolean =>
  workspace.workshop.parties.get(party)?.role === 'customer' || ownersIn(workspace).has(party);

const ownersIn = (workspace: Workspace): ReadonlySet<string> => {
  const known = ownersOf.get(workspace);
  if (known) return known;
  const made = new Set<string>();
  for (const page of workspace.pages.values()) for (const owner of ownersOn(page)) made.add(owner);
  ownersOf.set(workspace, made);
  return made;
};

const ownersOf = new WeakMap<Workspace, ReadonlySet<string>>();

const ownersOn = (page: JournalPage): ReadonlySet<string> => {
  const known = ownersOfPage.get(page);
  if (known) return known;
  const named = page.entries.flatMap(({ said, flows }) => [said.owner, ...flows.map((flow) => flow.said.owner)]);
  const made = new Set(named.flatMap((owner) => owner?.name ?? []));
  ownersOfPage.set(page, made);
  return made;
};

const ownersOfPage = new WeakMap<JournalPage, ReadonlySet<string>>();

/** The entries of selling on a page, in the order of the text. */
export const sellingOn = (page: JournalPage): readonly Entry[] => {
  const known = ofPage.get(page);
  if (known) return known;
  const found = page.entries.filter(({ verb, broken }) => !broken && SELLING.has(verb));
  const made = found.length > 0 ? found : NONE;
  ofPage.set(page, made);
  return made;
};

const NONE: readonly Entry[] = [];

const byWorkspace = new WeakMap<Workspace, Sales>();
/** What was last made for a shop, of the entries of which pages. */
const lastOf = new WeakMap<Workshop, { readonly written: readonly (readonly Entry[])[]; readonly sales: Sales }>();

export const salesOf = (workspace: Workspace): Sales => {
  const known = byWorkspace.get(workspace);
  if (known) return known;
  const made = madeOf(workspace);
  byWorkspace.set(workspace, made);
  return made;
};

const madeOf = ({ pages, workshop }: Workspace): Sales => {
  const written = [...pages.values()].map(sellingOn).filter((list) => list !== NONE);
  if (written.length === 0) return NO_SALES;
  const last = lastOf.get(workshop);
  const isSame = (list: readonly Entry[], at: number): boolean =>
    list === last!.written[at] || isSameList(list, last!.written[at]!);
  if (last && last.written.length === written.length && written.every(isSame)) return last.sales;
  const sales = read(written.flat().sort(inOrder(pages)), last?.sales.quotes ?? NO_QUOTES);
  lastOf.set(workshop, { written, sales });
  return sales;
};

const read = (list: readonly Entry[], quotesBefore: readonly Quote[]): Sales => {
  const named = new Map<string, Entry[]>();
  for (const entry of list) {
    const name = entry.name?.name ?? '';
    const so = named.get(name);
    if (so) so.push(entry);
    else named.set(name, [entry]);
  }
  const sales = new Map<Entry, Sale>();
  for (const entry of list) {
    if (entry.prefix !== undefined) continue;
    const { counted } = partsOf(entry, named.get(entry.name?.name ?? '') ?? NONE);
    if (counted.length > 0) sales.set(entry, { entry, parts: counted });
  }
  const all = (verb: string): readonly Sale[] => [...sales.values()].filter(({ entry }) => entry.verb === verb);
  const ships = all('ship');
  const shipped = new Map<string, string[]>();
  const shipBy = new Map<string, Sale>();
  const shipByLot = new Map<string, Sale>();
  for (const ship of ships) {
    const name = ship.entry.name?.name ?? '';
    shipBy.set(name, ship);
    const flows = ship.parts.flatMap((part) => part.flows);
    const lots = flows.flatMap(({ lot }) => lot?.name ?? []);
    shipped.set(name, [...(shipped.get(name) ?? []), ...lots]);
    for (const { word, lot } of flows) if (word === 'in' && lot) shipByLot.set(lot.name, ship);
  }
  const quotes = all('quote').flatMap(({ parts: [first] }) => quoteIn(first!) ?? []);
  const lotsSettled = (name: string): readonly string[] => shipped.get(name) ?? [];
  const settles = all('settle');
  const returned = new Map<string, string[]>();
  const returnedFor = new Map<string, string>();
  for (const { entry, parts } of settles) {
    const lots = wordsOf(parts).returned;
    const name = entry.name?.name;
    if (lots.length === 0 || name === undefined) continue;
    returned.set(name, [...(returned.get(name) ?? []), ...lots]);
    for (const lot of lots) returnedFor.set(lot, name);
  }
  // The last of equals would stand in a map: so from the end.
  const firstSettled = new Map([...settles].reverse().map((sale) => [sale.entry.name?.name, sale]));
  const settledBefore = (entry: Entry): Sale | undefined => {
    const first = entry.name && firstSettled.get(entry.name.name);
    return first && first.entry !== entry ? first : undefined;
  };
  return {
    quotes: isSameList(quotes, quotesBefore) ? quotesBefore : quotes,
    offers: all('offer'),
    ships,
    settles: settles.filter(({ entry }) => !settledBefore(entry)),
    sells: all('sell'),
    lotsSettled,
    lotsReturned: (name) => returned.get(name) ?? [],
    returnedFor: (lot) => returnedFor.get(lot),
    shipNamed: (name) => shipBy.get(name),
    shipOfLot: (lot) => shipByLot.get(lot),
    shippedTo: (name) => shipBy.get(name)?.entry.party?.name,
    settledBefore,
    of: (entry) => sales.get(entry),
    around: aroundIn(list, named, lotsSettled),
  };
};

/** A correction of a quote makes another entry of it, and so another quote. */
const quoteIn = (entry: Entry): Quote | undefined => {
  if (!keptQuotes.has(entry)) keptQuotes.set(entry, quoteOf(entry));
  return keptQuotes.get(entry);
};

const keptQuotes = new WeakMap<Entry, Quote | undefined>();

const aroundIn = (
  list: readonly Entry[],
  named: ReadonlyMap<string, readonly Entry[]>,
  lotsSettled: Sales['lotsSettled'],
): Sales['around'] => {
  let byWord: ReadonlyMap<string, readonly Entry[]> | undefined;
  const index = (): ReadonlyMap<string, readonly Entry[]> => {
    byWord ??= indexedBy(list, wordsIn);
    return byWord;
  };
  return (entry) => {
    const words = [...wordsIn(entry), ...(entry.name ? lotsSettled(entry.name.name) : [])];
    // Whether a name that nothing was shipped as is a slip hangs on all that was shipped.
    const isStrange = entry.verb === 'settle' && entry.name && lotsSettled(entry.name.name).length === 0;
    const ships = isStrange ? list.filter(({ verb }) => verb === 'ship') : NONE;
    const direct = new Set([entry, ...ships, ...words.flatMap((word) => index().get(word) ?? NONE)]);
    return [...new Set([...direct].flatMap((one) => [one, ...((one.name && named.get(one.name.name)) || NONE)]))];
  };
};

/** Its name and its lots, also those that it puts right. A quote names what it prices, and is found by that alone. */
const wordsIn = ({ verb, name, flows }: Entry): Iterable<string> => {
  if (verb === 'quote') return [];
  const names = [name, ...flows.map(({ lot }) => lot)];
  return new Set(names.flatMap((one) => [one?.name, one?.was?.name]).filter((word) => word !== undefined));
};

const NO_QUOTES: readonly Quote[] = [];

const NO_SALES: Sales = {
  quotes: NO_QUOTES,
  offers: [],
  ships: [],
  settles: [],
  sells: [],
  lotsSettled: () => [],
  lotsReturned: () => [],
  returnedFor: () => undefined,
  shipNamed: () => undefined,
  shipOfLot: () => undefined,
  shippedTo: () => undefined,
  settledBefore: () => undefined,
  of: () => undefined,
  around: () => NONE,
};
