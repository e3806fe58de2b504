/** The work in hand after a change of pages, and what every part of it asks: parts, steps and stories as they now stand. */

import type { LotStory, Step } from '../../engine/book';
import type { Entry } from '../../engine/entry';
import type { Workshop } from '../../engine/workshop';
import type { JournalPage } from '../../journal/page';
import { verb } from '../../vocabulary/verbs';
import type { Finder } from '../order';
import { originalOf, type Parts, partsOf } from '../parts';
import { accountOf, type BookState } from '../state';

export interface Ground {
  readonly pages: ReadonlyMap<string, JournalPage>;
  readonly workshop: Workshop;
  readonly state: BookState;
}

export interface PageChange {
  readonly before: JournalPage | undefined;
  readonly after: JournalPage | undefined;
}

/** The work in hand: results of this change over those of the state before. */
export interface Work extends Ground {
  readonly find: Finder;
  readonly stories: Map<string, LotStory | undefined>;
  readonly steps: Map<Entry, Step | undefined>;
  readonly parts: Map<Entry, Parts>;
  /** Entries whose account must be made anew. */
  readonly touched: Set<Entry>;
}

/** A step with all that bears its name; of the rest only what takes back or mends another entry. */
export const hangsTogether = (entry: Entry): boolean => isStep(entry) || isMending(entry);

export const isMending = ({ prefix }: Entry): boolean => prefix === 'correct' || prefix === 'void';
export const isStep = (entry: Entry): boolean => verb(entry.verb)?.names === 'step';

export const partsFor = (work: Work, entry: Entry): Parts => {
  const known = work.parts.get(entry);
  if (known) return known;
  const named = entry.name ? work.find.ofStep(entry.name.name) : [];
  const joins = (other: Entry): boolean => other.verb === entry.verb && isMending(other);
  const alone =
    !entry.name ||
    (named.length === 1 && entry.prefix === undefined) ||
    (!isStep(entry) && entry.prefix === undefined && !named.some(joins));
  const parts: Parts = alone
    ? { counted: [entry], first: entry, repeats: undefined, either: [] }
    : partsOf(entry, named);
  work.parts.set(entry, parts);
  return parts;
};

/** The entry as it counts: corrected; none when it is a plan, void, or not understood. */
export const counted = (work: Work, entry: Entry): Entry | undefined => {
  if (entry.broken || entry.prefix === 'plan' || entry.prefix === 'void' || entry.prefix === 'correct')
    return undefined;
  const parts = partsFor(work, entry);
  if (parts.counted.length === 0) return undefined;
  return entry === parts.first ? parts.counted[0] : entry;
};

export const stepNow = (work: Work, entry: Entry): Step | undefined => {
  const { first } = partsFor(work, originalOf(entry));
  return work.steps.has(first) ? work.steps.get(first) : accountOf(work.state, first)?.step;
};

export const storyNow = (work: Work, lot: string): LotStory | undefined =>
  work.stories.has(lot) ? work.stories.get(lot) : work.state.stories.get(lot);

export const isMade = (story: LotStory | undefined): boolean => story !== undefined && story.births.length > 0;
