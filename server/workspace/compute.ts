/**
 * From entries to the book. Lots whose entries changed get a new story; steps that rest on them a new balance; a balance that solved for a
 * weight hands it on to that lot, and so on along the chain until nothing changes.
 */
import type { Book } from '../engine/book';
import type { Entry } from '../engine/entry';
import { lotsOf } from '../journal/names';
import { keep } from './book/keep';
import { bookFrom } from './book/read';
import { rebalance } from './book/rebalance';
import { retell, weighEvidence } from './book/retell';
import { type Ground, hangsTogether, isMending, isStep, type PageChange, partsFor, type Work } from './book/work';
import { type Histories, learn } from './history';
import { mentionsAfter } from './mentions';
import { finderFor, inOrder } from './order';
import { accountOf, type BookState } from './state';

/** More links in a chain of unwritten weights than any record has; stops a circle of lots that make each other. */
const LONGEST_CHAIN = 10_000;

/** The book after a change of pages. `guess` is false while more pages are to come: what name may be meant is asked of all of them at last. */
export const bookOf = (
  ground: Ground,
  changes: readonly PageChange[],
  guess = true,
): { book: Book; state: BookState } => {
  const { gone, come } = changedEntries(changes);
  const mentions = mentionsAfter(ground.state.mentions, changes);
  const find = finderFor(ground.pages, mentions);
  const work: Work = { ...ground, find, stories: new Map(), steps: new Map(), parts: new Map(), touched: new Set() };
  let lots = new Set<string>();
  for (const entry of [...gone, ...come]) for (const lot of lotsOf(entry)) lots.add(lot);
  const steps = new Set<Entry>(come);
  for (const entry of sameSteps(work, [...gone, ...come])) {
    steps.add(entry);
    for (const lot of lotsOf(entry)) lots.add(lot);
  }
  for (let link = 0; link < LONGEST_CHAIN && (lots.size > 0 || steps.size > 0); link++) {
    const next = new Set<string>();
    for (const lot of lots) {
      for (const entry of retell(work, lot)) {
        steps.add(entry);
        // A renamed lot hands its weight on to its new name.
        if (entry.verb === 'relabel' && entry.toLot && entry.name?.name === lot) next.add(entry.toLot.name);
      }
    }
    for (const entry of steps) for (const lot of rebalance(work, entry)) next.add(lot);
    lots = next;
    steps.clear();
  }
  const histories = learnUsual(work, gone);
  weighEvidence(work);
  const state = { ...keep(work, changes, gone, guess), histories, mentions };
  return { state, book: bookFrom(ground.pages, state) };
};

/** Entries that a change took away and brought; one that only moved among its neighbours counts as brought again. */
const changedEntries = (changes: readonly PageChange[]): { gone: Entry[]; come: Entry[] } => {
  const gone: Entry[] = [];
  const come: Entry[] = [];
  for (const { before, after } of changes) {
    for (const entry of before?.entries ?? []) if (!after?.order.has(entry)) gone.push(entry);
    let furthest = -1;
    for (const entry of after?.entries ?? []) {
      const place = before?.order.get(entry);
      if (place === undefined || place < furthest) come.push(entry);
      else furthest = place;
    }
  }
  return { gone, come };
};

/** Other entries that hang together with these: a `void`, a `more` or a `correct` changes them too, and speaks of one that has come or gone. */
const sameSteps = (work: Work, entries: readonly Entry[]): Set<Entry> => {
  const named = entries.filter(({ name }) => name);
  const hanging = named.filter(hangsTogether);
  const names = new Set(hanging.map(({ name }) => name!.name));
  const verbs = new Set(hanging.map((entry) => entry.verb));
  const found = new Set<Entry>();
  for (const name of new Set(named.map((entry) => entry.name!.name))) {
    for (const entry of work.find.ofStep(name))
      if (isMending(entry) || (names.has(name) && (isStep(entry) || verbs.has(entry.verb)))) found.add(entry);
  }
  return found;
};

/** Holds steps against what the earlier ones of their kind lost, once all weights are known. */
const learnUsual = (work: Work, gone: readonly Entry[]): Histories => {
  const { histories, judged } = learn(work.state.histories, {
    workshop: work.workshop,
    left: new Set([...gone, ...work.touched, ...work.steps.keys()]),
    before: (entry) => accountOf(work.state, entry)?.step,
    made: work.steps,
    compare: inOrder(work.pages),
  });
  for (const [first, step] of judged) {
    work.steps.set(first, step);
    for (const part of [first, ...partsFor(work, first).counted]) work.touched.add(part);
  }
  return histories;
};
