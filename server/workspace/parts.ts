/** Entries that belong together: a step and its `more`, what `correct` mends in it, and whether a `void` takes it out. */
import type { Entry, Flow } from '../engine/entry';

export interface Parts {
  /** The step's first entry, corrected, then its `more`. Empty when it is void. */
  readonly counted: readonly Entry[];
  /** The first entry as it stands on the page. */
  readonly first: Entry;
  /** An earlier entry without prefix that bears the same verb and name. */
  readonly repeats: Entry | undefined;
}

/** The parts of the step that `entry` belongs to; `named` are all entries of its name, in order. */
export const partsOf = (entry: Entry, named: readonly Entry[]): Parts => {
  const same = named.filter((other) => other.verb === entry.verb && !other.broken);
  const firsts = same.filter((other) => other.prefix === undefined);
  const first = entry.prefix === undefined ? entry : (firstMeant(entry, firsts) ?? entry);
  const speaksOfIt = (other: Entry): boolean => (firstMeant(other, firsts) ?? other) === first;
  const earlier = firsts.indexOf(first) > 0 ? firsts[0] : undefined;
  const joined = same.filter((other) => other.prefix !== undefined && other.prefix !== 'plan' && speaksOfIt(other));
  if (joined.some((other) => other.prefix === 'void')) return { counted: [], first, repeats: earlier };
  const corrections = joined.filter((other) => other.prefix === 'correct');
  const more = joined.filter((other) => other.prefix === 'more' && other !== first);
  const counted = [first, ...more].map((part) => corrected(part, corrections));
  return { counted, first, repeats: earlier };
};

/** `of DATE` says which, where names repeat; else the last one before. */
const firstMeant = (entry: Entry, firsts: readonly Entry[]): Entry | undefined => {
  if (entry.ofDate) return firsts.find((other) => other.date === entry.ofDate);
  const before = firsts.filter((other) => (other.date ?? '') <= (entry.date ?? ''));
  return before.at(-1) ?? firsts[0];
};

const made = new WeakMap<Entry, { corrections: readonly Entry[]; entry: Entry }>();

const originals = new WeakMap<Entry, Entry>();

/** The entry as it stands on the page, of one that was corrected. */
export const originalOf = (entry: Entry): Entry => originals.get(entry) ?? entry;

/** The entry as its corrections say it. The same object as long as nothing changed. */
const corrected = (entry: Entry, corrections: readonly Entry[]): Entry => {
  if (corrections.length === 0) return entry;
  const kept = made.get(entry);
  if (kept && sameList(kept.corrections, corrections)) return kept.entry;
  const flows = entry.flows.map((flow) => corrections.reduce(correctedFlow, flow));
  const amount = corrections.reduce<Entry['amount']>((now, by) => (by.amount?.was ? by.amount : now), entry.amount);
  const result = { ...entry, flows, amount };
  made.set(entry, { corrections, entry: result });
  originals.set(result, entry);
  return result;
};

const correctedFlow = (flow: Flow, by: Entry): Flow => {
  const mend = by.flows.find(
    (other) =>
      other.word === flow.word &&
      other.amount?.was &&
      other.lot?.name === flow.lot?.name &&
      other.material?.name === flow.material?.name,
  );
  return mend ? { ...flow, amount: mend.amount, none: mend.none } : flow;
};

const sameList = (a: readonly Entry[], b: readonly Entry[]): boolean =>
  a.length === b.length && a.every((item, index) => item === b[index]);

/** One entry with the flows of all its parts, for the balance. */
export const joinParts = (parts: readonly Entry[]): Entry | undefined => {
  const [first, ...more] = parts;
  if (!first || more.length === 0) return first;
  return {
    ...first,
    flows: parts.flatMap((part) => part.flows),
    gear: parts.flatMap((part) => part.gear),
    clocks: parts.flatMap((part) => part.clocks),
    others: parts.flatMap((part) => part.others),
  };
};
