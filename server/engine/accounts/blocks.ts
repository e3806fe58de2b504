/**
 * What is made of long lists of which little changes from one day to the next. A list is cut into runs of items of one month; what is made of a run
 * is kept as long as the same items stand in it. So that of the next day costs what changed. Of sums, what two days have in common is the same
 * error on both, which falls out of their difference.
 */
import { type Inexact, sum } from './inexact';
import { memo } from './memo';

export interface BlockSum {
  readonly grams: Inexact;
  /** How many items give a figure. */
  readonly known: number;
}

interface Run<Item, Made> {
  readonly items: readonly Item[];
  readonly made: Made;
}

/** What `make` makes of each run; `dateOf` tells the day, by which a list should be in order. */
export const runwise = <Item extends object, Made>(
  dateOf: (item: Item) => string,
  make: (run: readonly Item[]) => Made,
): ((items: readonly Item[]) => readonly Made[]) => {
  const runs = memo<Item, Run<Item, Made>>();
  const runFrom = (items: readonly Item[], from: number): Run<Item, Made> => {
    const month = dateOf(items[from]!).slice(0, MONTH);
    const goesOn = (at: number): boolean => at < items.length && dateOf(items[at]!).startsWith(month);
    const known = runs.get(items[from]!);
    if (known && standsIn(items, from, known.items) && !goesOn(from + known.items.length)) return known;
    let to = from + 1;
    while (goesOn(to)) to++;
    const own = items.slice(from, to);
    const run = { items: own, made: make(own) };
    runs.set(items[from]!, run);
    return run;
  };
  return (items) => {
    const made: Made[] = [];
    for (let from = 0; from < items.length; ) {
      const run = runFrom(items, from);
      made.push(run.made);
      from += run.items.length;
    }
    return made;
  };
};

/** One sum for each of `of`, which gives none for an item that does not count. */
export const blockwise = <Item extends object>(
  dateOf: (item: Item) => string,
  of: readonly ((item: Item) => Inexact | undefined)[],
): ((items: readonly Item[]) => readonly BlockSum[]) => {
  const sumsOf = runwise(dateOf, (run: readonly Item[]) =>
    of.map((gramsOf): BlockSum => {
      const found = run.flatMap((item) => gramsOf(item) ?? []);
      return { grams: sum(found), known: found.length };
    }),
  );
  return (items) => {
    const sums = sumsOf(items);
    return of.map((_, at) => ({
      grams: sum(sums.map((one) => one[at]!.grams)),
      known: sums.reduce((so, one) => so + one[at]!.known, 0),
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
