/** Lots that an edit touched. */
import { type Segment, segmentsOf } from '../engine/accounts/segments';
import type { Account } from '../engine/book';
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
    const [old, made] = [before.state.accounts.get(file), after.state.accounts.get(file)];
    for (const [entry, account] of made ?? []) {
      const was = old?.get(entry);
      if (was === account || (was && isAlike(was, account))) continue;
      addLots(lots, account);
      if (was) addLots(lots, was);
    }
    for (const [entry, account] of old ?? []) if (!made?.has(entry)) addLots(lots, account);
  }
  return lots;
};

/** Metals go by what was weighed: that a step is held against another loss than before changes nothing in them. */
export const isWeighedAlike = (one: Account, other: Account): boolean => one.weighed === other.weighed;

const addLots = (lots: Set<string>, account: Account): void => {
  for (const lot of account.lots.keys()) lots.add(lot);
};
