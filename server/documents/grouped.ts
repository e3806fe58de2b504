import { indexedBy } from '../text/lists';

/** Items put together by a word, in the order in which the words first come. */
export const groupedBy = <Item>(items: readonly Item[], wordOf: (item: Item) => string): Map<string, Item[]> =>
  indexedBy(items, (item) => [wordOf(item)]);
