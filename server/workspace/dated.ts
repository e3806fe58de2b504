/** The steps of a record by their days, and its last day. */
import type { Step } from '../engine/book';
import { firstWhere } from '../text/lists';
import type { Workspace } from './workspace';

export interface Dated {
  readonly date: string;
  readonly step: Step;
}

/** All steps by the day of their first entry, each once; those of one day in the order of the pages. */
export const datedSteps = ({ pages, book }: Workspace): readonly Dated[] => {
  const steps = new Map<Step, Dated>();
  for (const page of pages.values()) {
    for (const entry of page.entries) {
      const step = entry.prefix ? undefined : book.step(entry);
      if (step && !steps.has(step)) steps.set(step, { date: entry.date ?? '', step });
    }
  }
  return [...steps.values()].sort((a, b) => (a.date < b.date ? -1 : a.date > b.date ? 1 : 0));
};

/** Empty where no day is written. */
export const lastDateOf = ({ pages }: Workspace): string => {
  let last = '';
  for (const { lastDate } of pages.values()) if (lastDate > last) last = lastDate;
  return last;
};

/** Of a list in the order of its days: those from the one day to the other, both counted; without them from the first, to the last. */
export const within = (list: readonly Dated[], from = '', to?: string): readonly Dated[] =>
  list.slice(
    firstWhere(list, ({ date }) => date >= from),
    to === undefined ? list.length : firstWhere(list, ({ date }) => date > to),
  );
