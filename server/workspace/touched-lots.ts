/** Lots that an edit touched. */
import { type Segment, segmentsOf } from '../engine/accounts/segments';
import type { Account } from '../engine/book';
import type { Entry } from '../engine/entry';
import { touchedFiles, type Workspace } from './workspace';

/** Segments of these lots, as they are now. */
export const segmentsIn = ({ book }: Workspace, lots: ReadonlySet<string>): Segment[] =>
  [...lots].flatMap((lot) => {
    const story = book.lot(lot);
    return story ? segmentsOf(story).all : [];
  });

/** Lots of the entries whose accounts an edit made anew or took away, but for those alike. */
export const touchedLots = (
  before: Workspace,
  after: Workspace,
  isAlike: (one: Account, other: Account) => boolean,
): ReadonlySet<string> => {
  const lots = new Set<string>();
  for (const file of touchedFiles(before, after)) {
    for (const [was, account] of changedOn(before.state.accounts.get(file), after.state.accounts.get(file))) {
      if (was && account && isAlike(was, account)) continue;
      if (account) addLots(lots, account);
      if (was) addLots(lots, was);
    }
  }
  return lots;
};

type OfPage = ReadonlyMap<Entry, Account> | undefined;
type Changed = readonly [was: Account | undefined, is: Account | undefined];

/** A keystroke is asked about several times over, and a page may be long: of the two asked about last it is kept. */
let asked: { readonly old: OfPage; readonly made: OfPage; readonly changed: readonly Changed[] } | undefined;

/** Accounts of a page that were made anew or taken away. */
const changedOn = (old: OfPage, made: OfPage): readonly Changed[] => {
  if (asked && asked.old === old && asked.made === made) return asked.changed;
  const changed: Changed[] = [];
  for (const [entry, is] of made ?? []) {
    const was = old?.get(entry);
    if (was !== is) changed.push([was, is]);
  }
  for (const [entry, was] of old ?? []) if (!made?.has(entry)) changed.push([was, undefined]);
  asked = { old, made, changed };
  return changed;
};

/** Metals go by what was weighed: that a step is held against another loss than before changes nothing in them. */
export const isWeighedAlike = (one: Account, other: Account): boolean => one.weighed === other.weighed;

const addLots = (lots: Set<string>, account: Account): void => {
  for (const lot of account.lots.keys()) lots.add(lot);
};
