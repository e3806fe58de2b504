/** What has been worked out for a journal, kept per page and per lot so that an edit shares all that it does not touch. */
import type { Account, LotStory } from '../engine/book';
import type { Entry } from '../engine/entry';
import type { Histories } from './history';
import { type Mentions, NO_MENTIONS } from './mentions';
import { ShardedMap } from './sharded';

export interface BookState {
  /** By file, then by entry. */
  readonly accounts: ReadonlyMap<string, ReadonlyMap<Entry, Account>>;
  readonly stories: ShardedMap<LotStory>;
  /** Entries that speak of a lot which nothing makes: what name they may have meant depends on all others. */
  readonly strangers: ReadonlySet<Entry>;
  /** Steps of a kind in order, for what is usual of the next. */
  readonly histories: Histories;
  readonly mentions: Mentions;
}

export const EMPTY_STATE: BookState = {
  accounts: new Map(),
  stories: ShardedMap.empty(),
  strangers: new Set(),
  histories: new Map(),
  mentions: NO_MENTIONS,
};

export const accountOf = (state: BookState, entry: Entry): Account | undefined =>
  state.accounts.get(entry.anchor.file)?.get(entry);
