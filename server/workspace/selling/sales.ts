/**
 * All that a journal says of selling, in order: quotes, offers, shipments, settlements, sales. One value, the same object from version to version
 * as long as none of these entries has changed, so what was made from it may be kept with it.
 */
import type { Entry } from '../../engine/entry';
import { type Quote, quoteOf } from '../../engine/selling/prices';
import type { JournalPage } from '../../journal/page';
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
  readonly quotes: readonly Quote[];
  readonly offers: readonly Sale[];
  readonly ships: readonly Sale[];
  readonly settles: readonly Sale[];
  readonly sells: readonly Sale[];
  /** Lots of the shipments that bear a name. */
  readonly lotsSettled: (name: string) => readonly string[];
  /** Of an entry of selling; none of a plan, a void, a further part. */
  readonly of: (entry: Entry) => Sale | undefined;
}

/** Verbs of selling. What is said of them hangs on all others of them, and on the last day of the record. */
export const SELLING: ReadonlySet<string> = new Set(['quote', 'offer', 'ship', 'settle', 'sell']);

const ofPage = new WeakMap<JournalPage, readonly Entry[]>();

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
/** What was last made of a list that begins with this entry. */
const lastOf = new WeakMap<Entry, { readonly list: readonly Entry[]; readonly sales: Sales }>();

export const salesOf = (workspace: Workspace): Sales => {
  const known = byWorkspace.get(workspace);
  if (known) return known;
  const made = madeOf(workspace);
  byWorkspace.set(workspace, made);
  return made;
};

const madeOf = ({ pages }: Workspace): Sales => {
  const written = [...pages.values()].flatMap(sellingOn);
  if (written.length === 0) return NO_SALES;
  const list = written.sort(inOrder(pages));
  const last = lastOf.get(list[0]!);
  if (last && isList(last.list, list)) return last.sales;
  const sales = read(list);
  lastOf.set(list[0]!, { list, sales });
  return sales;
};

const isList = (a: readonly Entry[], b: readonly Entry[]): boolean =>
  a.length === b.length && a.every((one, at) => one === b[at]);

const read = (list: readonly Entry[]): Sales => {
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
  for (const { entry, parts } of ships) {
    const name = entry.name?.name ?? '';
    const lots = parts.flatMap(({ flows }) => flows.flatMap(({ lot }) => lot?.name ?? []));
    shipped.set(name, [...(shipped.get(name) ?? []), ...lots]);
  }
  return {
    quotes: all('quote').flatMap(({ parts: [first] }) => quoteOf(first!) ?? []),
    offers: all('offer'),
    ships,
    settles: all('settle'),
    sells: all('sell'),
    lotsSettled: (name) => shipped.get(name) ?? [],
    of: (entry) => sales.get(entry),
  };
};

const NO_SALES: Sales = {
  quotes: [],
  offers: [],
  ships: [],
  settles: [],
  sells: [],
  lotsSettled: () => [],
  of: () => undefined,
};
