/**
 * Sums over long lists of which little changes from one day to the next. A list is cut into runs of items of one month; the sum of a run is kept
 * as long as the same items stand in it. So the sum of the next day costs what changed, and what two days have in common is the same error on
 * both, which falls out of their difference.
 */
import { type Inexact, sum } from './inexact';
import { memo } from './memo';

export interface BlockSum {
  readonly grams: Inexact;
  /** How many items give a figure. */
  readonly known: number;
}

interface Run<Item> {
  readonly items: readonly Item[];
  readonly sums: readonly BlockSum[];
}

/** One sum for each of `of`, which gives none for an item that does not count; `dateOf` tells the day, by which a list should be in order. */
export const blockwise = <Item extends object>(
  dateOf: (item: Item) => string,
  of: readonly ((item: Item) => Inexact | undefined)[],
): ((items: readonly Item[]) => readonly BlockSum[]) => {
  const runs = memo<Item, Run<Item>>();
  const runFrom = (items: readonly Item[], from: number): Run<Item> => {
    const month = dateOf(items[from]!).slice(0, MONTH);
    const goesOn = (at: number): boolean => at < items.length && dateOf(items[at]!).startsWith(month);
    const known = runs.get(items[from]!);
    if (known && standsIn(items, from, known.items) && !goesOn(from + known.items.length)) return known;
    let to = from + 1;
    while (goesOn(to)) to++;
    const own = items.slice(from, to);
    const sums = of.map((gramsOf): BlockSum => {
      const found = own.flatMap((item) => gramsOf(item) ?? []);
      return { grams: sum(found), known: found.length };
    });
    const made = { items: own, sums };
    runs.set(items[from]!, made);
    return made;
  };
  return (items) => {
    const found: Run<Item>[] = [];
    for (let from = 0; from < items.length; from += found.at(-1)!.items.length) found.push(runFrom(items, from));
    return of.map((_, at) => ({
      grams: sum(found.map(({ sums }) => sums[at]!.grams)),
      known: found.reduce((so, { sums }) => so + sums[at]!.known, 0),
    }));
  };
};

const standsIn = <Item>(items: readonly Item[], from: number, run: readonly Item[]): boolean => {
  if (from + run.length > items.length) return false;
  for (let at = 0; at < run.length; at++) if (run[at] !== items[from + at]) return false;
  return true;
};

/** `2026-05`. */
const MONTH = 7;
