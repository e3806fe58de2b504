/** Entries that belong together: a step and its `more`, what `correct` mends in it, and whether a `void` takes it out. */
import type { Entry } from '../engine/entry';
import { isSameList } from '../text/lists';
import { type Correction, correctedBy } from './correct';
import { meantIn } from './meant';

export interface Parts {
  /** The step's first entry, corrected, then its `more`. Empty when it is void. */
  readonly counted: readonly Entry[];
  /** The first entry as it stands on the page. */
  readonly first: Entry;
  /** An earlier entry without prefix that bears the same verb and name. */
  readonly repeats: Entry | undefined;
  /** Of a `correct` or `void`: the several entries that it may speak of, where it is not clear which. */
  readonly either: readonly Entry[];
}

/** The parts of the step that `entry` belongs to; `named` are all entries of its name, in order. */
export const partsOf = (entry: Entry, named: readonly Entry[]): Parts => {
  const same = named.filter((other) => other.verb === entry.verb && !other.broken);
  const firsts = same.filter((other) => other.prefix === undefined);
  const meant = meantIn(same);
  const first = entry.prefix === undefined ? entry : (meant.get(entry)?.first ?? entry);
  const speaksOfIt = (other: Entry): boolean => (meant.get(other)?.first ?? other) === first;
  const shared = {
    first,
    repeats: firsts.indexOf(first) > 0 ? firsts[0] : undefined,
    either: meant.get(entry)?.either ?? NO_ENTRIES,
  };
  const joined = same.filter((other) => other.prefix !== undefined && other.prefix !== 'plan' && speaksOfIt(other));
  if (joined.some((other) => other.prefix === 'void')) return { counted: [], ...shared };
  const corrections = joined.filter((other) => other.prefix === 'correct' && other !== first);
  const more = joined.filter((other) => other.prefix === 'more' && other !== first);
  return { counted: [first, ...more].map((part) => corrected(part, corrections)), ...shared };
};

const NO_ENTRIES: readonly Entry[] = [];

interface Made {
  readonly corrections: readonly Entry[];
  readonly entry: Entry;
}

const made = new WeakMap<Entry, Made>();

const originals = new WeakMap<Entry, Entry>();

/** The entry as it stands on the page, of one that was corrected. */
export const originalOf = (entry: Entry): Entry => originals.get(entry) ?? entry;

/** What was put in another's place in an entry as it counts, in the order of the corrections; nothing in one that stands as written. */
export const correctionsIn = (counted: Entry): readonly Correction[] => changed.get(counted) ?? NONE;

const changed = new WeakMap<Entry, readonly Correction[]>();
const NONE: readonly Correction[] = [];

/** The entry as its corrections say it, one after the other. The same object as long as nothing changed. */
const corrected = (entry: Entry, corrections: readonly Entry[]): Entry => {
  if (corrections.length === 0) return entry;
  const kept = made.get(entry);
  if (kept && isSameList(kept.corrections, corrections)) return kept.entry;
  let result = entry;
  const changes: Correction[] = [];
  for (const by of corrections) {
    const next = correctedBy(result, by);
    result = next.entry;
    changes.push(...next.made);
  }
  made.set(entry, { corrections, entry: result });
  changed.set(result, changes);
  originals.set(result, entry);
  return result;
};

/** One entry with the flows of all its parts, for the balance. */
export const joinParts = (parts: readonly Entry[]): Entry | undefined => {
  const [first, ...more] = parts;
  if (!first || more.length === 0) return first;
  const joined = {
    ...first,
    flows: parts.flatMap((part) => part.flows),
    gear: parts.flatMap((part) => part.gear),
    clocks: parts.flatMap((part) => part.clocks),
    others: parts.flatMap((part) => part.others),
  };
  const changes = parts.flatMap(correctionsIn);
  if (changes.length > 0) changed.set(joined, changes);
  return joined;
};
