/** Items put together by a word, in the order in which the words first come. */
export const groupedBy = <Item>(items: readonly Item[], wordOf: (item: Item) => string): Map<string, Item[]> => {
  const groups = new Map<string, Item[]>();
  for (const item of items) {
    const word = wordOf(item);
    const group = groups.get(word);
    if (group) group.push(item);
    else groups.set(word, [item]);
  }
  return groups;
};
