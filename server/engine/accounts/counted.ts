/** What a stock-take leaves open: lots that the record has in the place where it looked, and that it does not speak of. */
import type { Book, LotEvent, LotStory } from '../book';
import type { Entry, Named } from '../entry';
import type { Lineage } from './lineage';
import { memo } from './memo';
import { type Standing, standingOf } from './stock';

/** Lots by the places that something says they are in; an edit changes few stories, so a story's places are kept with it. */
export type Places = ReadonlyMap<string, readonly LotStory[]>;

export const placesOf = (book: Pick<Book, 'lot' | 'lotNames'>): Places => {
  const places = new Map<string, LotStory[]>();
  for (const lot of book.lotNames()) {
    const story = book.lot(lot)!;
    for (const place of saidPlaces(story)) {
      const all = places.get(place);
      if (all) all.push(story);
      else places.set(place, [story]);
    }
  }
  return places;
};

/** A lot with a new name may stand wherever it stood under the old one. */
const ANYWHERE = '';

const kept = memo<LotStory, readonly string[]>();

const saidPlaces = (story: LotStory): readonly string[] => {
  const known = kept.get(story);
  if (known) return known;
  const found = new Set<string>();
  for (const { entry, flow, kind } of story.events) {
    if (kind === 'renamed') found.add(ANYWHERE);
    for (const said of [entry.said, flow?.said]) if (said?.at) found.add(said.at.name);
  }
  const places = [...found];
  kept.set(story, places);
  return places;
};

/** A lot that should be there, and where the record last says so. */
export interface Uncounted extends Standing {
  readonly at: Named;
}

/**
 * Lots that stand in the place of a count by all that comes before it, with nobody else, and that it neither finds nor misses; in the order of
 * their names. `parts` are the count and its `more`. None for a count that names no place or no lot. `compare` is the order of entries.
 */
export const uncountedIn = (
  parts: readonly Entry[],
  places: Places,
  lineage: Pick<Lineage, 'origin'>,
  compare: (a: Entry, b: Entry) => number,
): readonly Uncounted[] => {
  const [count] = parts;
  const place = count?.said.at?.name;
  if (!count || place === undefined || !parts.some(({ flows }) => flows.length > 0)) return [];
  const isAnswered = ({ kind, entry }: LotEvent): boolean =>
    (kind === 'found' || kind === 'missing') &&
    (entry.date === count.date || parts.some(({ anchor }) => anchor === entry.anchor));
  const candidates = new Set([...(places.get(place) ?? []), ...(places.get(ANYWHERE) ?? [])]);
  const found: Uncounted[] = [];
  for (const story of candidates) {
    if (story.events.some(isAnswered)) continue;
    const events = story.events.filter(({ entry }) => compare(entry, count) < 0);
    const standing = standingOf(story, events, lineage);
    if (standing?.at?.name === place && !standing.with) found.push({ ...standing, at: standing.at });
  }
  return found.sort(({ segment: { lot: a } }, { segment: { lot: b } }) => (a < b ? -1 : a > b ? 1 : 0));
};
