/** What is kept of the work: an account for each entry, the stories, the entries that name a lot which nothing makes. */
import type { Account, LotStory } from '../../engine/book';
import type { Entry } from '../../engine/entry';
import { byItself } from '../../engine/learnt';
import { lotsOf } from '../../journal/names';
import { isSameList } from '../../text/lists';
import { nearest } from '../../text/nearest';
import { accountOf, type BookState } from '../state';
import { isMade, isMending, isStep, type PageChange, partsFor, stepNow, storyNow, type Work } from './work';

/** Past this many lots that nothing makes the page is no journal of ours: names are no longer guessed. */
export const MOST_GUESSED = 200;

/** In shorter names one letter is all the difference there is: only capitals are asked about. */
export const LEAST_GUESSED = 3;

export const keep = (
  work: Work,
  changes: readonly PageChange[],
  gone: readonly Entry[],
  guess: boolean,
): Omit<BookState, 'histories' | 'mentions'> => {
  const stories = work.state.stories.with(work.stories);
  const strangers = strangersNow(work, gone);
  const names = guess && strangers.size > 0 && strangers.size <= MOST_GUESSED ? bornNames(stories) : [];
  if (guess) for (const entry of strangers) work.touched.add(entry);
  const accounts = new Map(work.state.accounts);
  for (const { before, after } of changes) {
    const file = (after ?? before)!.file;
    if (!after) accounts.delete(file);
    else accounts.set(file, keptAccounts(work, after.entries));
  }
  const opened = new Set(changes.flatMap(({ after }) => (after ? [after.file] : [])));
  for (const entry of work.touched) {
    const { file } = entry.anchor;
    if (!work.pages.get(file)?.order.has(entry)) continue;
    if (!opened.has(file)) {
      opened.add(file);
      accounts.set(file, new Map(accounts.get(file)));
    }
    (accounts.get(file) as Map<Entry, Account>).set(entry, makeAccount(work, entry, names));
  }
  return { accounts, stories, strangers };
};

const keptAccounts = (work: Work, entries: readonly Entry[]): Map<Entry, Account> => {
  const kept = new Map<Entry, Account>();
  for (const entry of entries) {
    const account = work.touched.has(entry) ? undefined : accountOf(work.state, entry);
    if (account) kept.set(entry, account);
  }
  return kept;
};

export const NO_NAMES: ReadonlyMap<string, string | undefined> = new Map();
const makeAccount = (work: Work, entry: Entry, names: readonly string[]): Account => {
  const lots = new Map<string, LotStory>();
  let nearNames: Map<string, string | undefined> | undefined;
  for (const lot of lotsOf(entry)) {
    const story = storyNow(work, lot);
    if (story) lots.set(lot, story);
    if (isMade(story)) continue;
    nearNames ??= new Map();
    nearNames.set(lot, nearest(lot, names, lot.length < LEAST_GUESSED ? 0 : 1));
  }
  const parts = partsFor(work, entry);
  const step = stepNow(work, entry);
  const before = accountOf(work.state, entry);
  return {
    entry,
    parts: parts.counted,
    mends: isMending(entry) && parts.first !== entry ? parts.first : undefined,
    either: parts.either,
    step,
    lots,
    nearNames: nearNames ?? NO_NAMES,
    repeats: entry === parts.first && isStep(entry) ? parts.repeats : undefined,
    weighed: before && isWeighedAlike(before, { parts: parts.counted, step, lots }) ? before.weighed : {},
  };
};

const isWeighedAlike = (before: Account, now: Pick<Account, 'parts' | 'step' | 'lots'>): boolean =>
  isSameList(before.parts, now.parts) &&
  (before.step && byItself(before.step)) === (now.step && byItself(now.step)) &&
  before.lots.size === now.lots.size &&
  [...before.lots].every(([lot, story]) => now.lots.get(lot) === story);
/** Entries with a lot that nothing makes, after this change. */
const strangersNow = (work: Work, gone: readonly Entry[]): Set<Entry> => {
  const strangers = new Set(work.state.strangers);
  for (const entry of gone) strangers.delete(entry);
  for (const entry of work.touched) {
    const strange = [...lotsOf(entry)].some((lot) => !isMade(storyNow(work, lot)) && !isPlanned(work, entry, lot));
    if (strange) strangers.add(entry);
    else strangers.delete(entry);
  }
  return strangers;
};

/** Of a plan: some plan makes it. */
const isPlanned = ({ find }: Work, { prefix }: Entry, lot: string): boolean =>
  prefix === 'plan' &&
  find
    .ofLot(lot)
    .some(
      (other) => other.prefix === 'plan' && other.flows.some((flow) => flow.word === 'out' && flow.lot?.name === lot),
    );
const bornNames = (stories: BookState['stories']): string[] => {
  const names: string[] = [];
  for (const name of stories.keys()) if (isMade(stories.get(name))) names.push(name);
  return names.sort();
};
