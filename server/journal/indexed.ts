/** Entries of a page by the names that they use, carried on from the page before an edit: a keystroke changes the lists of a few names. */
import type { Entry } from '../engine/entry';
import { changedInOrder, indexedBy } from '../text/lists';

/** In page order under each name; the names themselves stand in no order. */
export type Index = ReadonlyMap<string, readonly Entry[]>;
type Names = (entry: Entry) => Iterable<string>;
/** Where each entry stands on its page. */
type Order = ReadonlyMap<Entry, number>;

/** What an edit took off a page and put on it. */
export interface Edited {
  readonly gone: ReadonlySet<Entry>;
  readonly come: readonly Entry[];
  readonly order: Order;
}

/** None where what stays stands in another order than before, or where most of the page is new. */
export const editedFrom = (before: Order, entries: readonly Entry[], order: Order): Edited | undefined => {
  const come: Entry[] = [];
  let last = -1;
  for (const entry of entries) {
    const place = before.get(entry);
    if (place === undefined) come.push(entry);
    else if (place < last) return undefined;
    else last = place;
  }
  if (come.length > entries.length / 2) return undefined;
  const stays = entries.length - come.length;
  const gone = stays === before.size ? [] : [...before.keys()].filter((entry) => !order.has(entry));
  return { gone: new Set(gone), come, order };
};

export const indexAfter = (before: Index, { gone, come, order }: Edited, namesOf: Names): Index => {
  const index = new Map(before);
  const [left, put] = [indexedBy([...gone], namesOf), indexedBy(come, namesOf)];
  const inOrder = (a: Entry, b: Entry): number => order.get(a)! - order.get(b)!;
  for (const name of new Set([...left.keys(), ...put.keys()])) {
    const list = changedInOrder(index.get(name) ?? [], gone, put.get(name) ?? [], inOrder);
    if (list.length > 0) index.set(name, list);
    else index.delete(name);
  }
  return index;
};
