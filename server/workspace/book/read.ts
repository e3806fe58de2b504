/** The book as the engine reads it. */
import type { Book } from '../../engine/book';
import { originalOf } from '../parts';
import { accountOf, type BookState } from '../state';
import { NO_NAMES } from './keep';
import { makeFrom } from './rebalance';
import type { Ground } from './work';

export const bookFrom = (pages: Ground['pages'], state: BookState): Book => ({
  account: (entry) =>
    accountOf(state, originalOf(entry)) ?? {
      entry,
      parts: [entry],
      mends: undefined,
      either: [],
      step: undefined,
      lots: new Map(),
      nearNames: NO_NAMES,
      repeats: undefined,
      weighed: entry,
    },
  step: (entry) => accountOf(state, originalOf(entry))?.step,
  lot: (name) => state.stories.get(name),
  lotNames: () => state.stories.keys(),
  make: (flow) =>
    makeFrom(
      flow,
      (name) => state.stories.get(name),
      (entry) => accountOf(state, originalOf(entry))?.step,
    ),
  mentioned: (name) => [...pages.values()].some((page) => page.mentions.some((mentions) => mentions.has(name))),
});
