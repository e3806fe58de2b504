/** How long work takes here: by the clock lines of the journal, where there are enough. */
import type { Entry } from '../../engine/entry';
import { type Hours, USUAL_HOURS } from '../../engine/selling/work';
import { median } from '../../engine/statistics/robust';
import { dayNumber } from '../../text/calendar';
import type { Workspace } from '../workspace';

/** Fewer timed steps than these tell nothing. */
const FEWEST = 3;

export interface HoursKnown extends Hours {
  /** Steps whose times stand in the journal, by verb; others are what is usual. */
  readonly timed: ReadonlyMap<keyof Hours, number>;
}

const byWorkspace = new WeakMap<Workspace['pages'], HoursKnown>();

/** From the first clock line of a step to its last, the middle of all of them. */
export const hoursOf = ({ pages }: Workspace): HoursKnown => {
  const known = byWorkspace.get(pages);
  if (known) return known;
  const entries = [...pages.values()].flatMap((page) => page.entries);
  const timed = new Map<keyof Hours, number>();
  const hours = { ...USUAL_HOURS };
  for (const verb of ['cupel', 'part', 'melt'] as const) {
    const all = entries.filter((entry) => entry.verb === verb && !entry.prefix).flatMap((entry) => lasted(entry) ?? []);
    if (all.length < FEWEST) continue;
    timed.set(verb, all.length);
    hours[verb] = Math.max(0.1, Math.round(10 * median(all)) / 10);
  }
  const made = { ...hours, timed };
  byWorkspace.set(pages, made);
  return made;
};

/** Hours from the first clock line to the last; none of fewer than two times. */
export const lasted = ({ clocks }: Entry): number | undefined => {
  const times = clocks.flatMap(({ date, time }) => (date && time ? [minutesOf(date, time)] : []));
  const span = times.length > 1 ? Math.max(...times) - Math.min(...times) : 0;
  return span > 0 ? span / 60 : undefined;
};

const minutesOf = (date: string, time: string): number =>
  1440 * dayNumber(date) + 60 * Number(time.slice(0, -3)) + Number(time.slice(-2));
