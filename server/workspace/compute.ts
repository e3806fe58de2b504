/**
 * From entries to the book. Lots whose entries changed get a new story; steps that rest on them a new balance; a balance that solved for a
 * weight hands it on to that lot, and so on along the chain until nothing changes.
 */
import type { Account, Book, LotStory, Make, Step } from '../engine/book';
import { carriedBy, isCarried } from '../engine/carries';
import type { Entry, Flow } from '../engine/entry';
import { fumingOf } from '../engine/fuming';
import { byItself } from '../engine/learnt';
import { lotStory } from '../engine/lot';
import { type OtherBalance, otherBalanceIn } from '../engine/slips';
import { stepOf } from '../engine/step';
import type { Workshop } from '../engine/workshop';
import { lotsOf } from '../journal/names';
import type { JournalPage } from '../journal/page';
import { type Measured, uncertainty } from '../quantity/measured';
import { isSameList } from '../text/lists';
import { nearest } from '../text/nearest';
import { verb } from '../vocabulary/verbs';
import { type Histories, learn } from './history';
import { type Finder, finderFor, inOrder } from './order';
import { joinParts, originalOf, type Parts, partsOf } from './parts';
import { accountOf, type BookState } from './state';

interface Ground {
  readonly pages: ReadonlyMap<string, JournalPage>;
  readonly workshop: Workshop;
  readonly state: BookState;
}

export interface PageChange {
  readonly before: JournalPage | undefined;
  readonly after: JournalPage | undefined;
}

/** More links in a chain of unwritten weights than any record has; stops a circle of lots that make each other. */
const LONGEST_CHAIN = 10_000;
/** Past this many lots that nothing makes the page is no journal of ours: names are no longer guessed. */
const MOST_GUESSED = 200;
/** In shorter names one letter is all the difference there is: only capitals are asked about. */
const LEAST_GUESSED = 3;

/** The work in hand: results of this change over those of the state before. */
interface Work extends Ground {
  readonly find: Finder;
  readonly stories: Map<string, LotStory | undefined>;
  readonly steps: Map<Entry, Step | undefined>;
  readonly parts: Map<Entry, Parts>;
  /** Entries whose account must be made anew. */
  readonly touched: Set<Entry>;
}

/** The book after a change of pages. `guess` is false while more pages are to come: what name may be meant is asked of all of them at last. */
export const bookOf = (
  ground: Ground,
  changes: readonly PageChange[],
  guess = true,
): { book: Book; state: BookState } => {
  const { gone, come } = changedEntries(changes);
  const find = finderFor(ground.pages, gone.length + come.length);
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
  const state = { ...keep(work, changes, gone, guess), histories };
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

/** A step with all that bears its name; of the rest only what takes back or mends another entry. */
const hangsTogether = (entry: Entry): boolean => isStep(entry) || isMending(entry);

const isMending = ({ prefix }: Entry): boolean => prefix === 'correct' || prefix === 'void';

const isStep = (entry: Entry): boolean => verb(entry.verb)?.names === 'step';

const partsFor = (work: Work, entry: Entry): Parts => {
  const known = work.parts.get(entry);
  if (known) return known;
  const named = entry.name ? work.find.ofStep(entry.name.name) : [];
  const joins = (other: Entry): boolean => other.verb === entry.verb && isMending(other);
  const alone = !entry.name || (!isStep(entry) && entry.prefix === undefined && !named.some(joins));
  const parts: Parts = alone ? { counted: [entry], first: entry, repeats: undefined } : partsOf(entry, named);
  work.parts.set(entry, parts);
  return parts;
};

/** The entry as it counts: corrected; none when it is a plan, void, or not understood. */
const counted = (work: Work, entry: Entry): Entry | undefined => {
  if (entry.broken || entry.prefix === 'plan' || entry.prefix === 'void' || entry.prefix === 'correct')
    return undefined;
  const parts = partsFor(work, entry);
  if (parts.counted.length === 0) return undefined;
  return entry === parts.first ? parts.counted[0] : entry;
};

const stepNow = (work: Work, entry: Entry): Step | undefined => {
  const { first } = partsFor(work, originalOf(entry));
  return work.steps.has(first) ? work.steps.get(first) : accountOf(work.state, first)?.step;
};

const storyNow = (work: Work, lot: string): LotStory | undefined =>
  work.stories.has(lot) ? work.stories.get(lot) : work.state.stories.get(lot);

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

/**
 * A slip at a hand-over is likelier when it also mends the balance of the step that the weight stands in. Balances are known only now, so
 * stories with a hand-over in doubt are told once more.
 */
const weighEvidence = (work: Work): void => {
  const lots = new Set(work.stories.keys());
  for (const entry of work.steps.keys()) for (const lot of lotsOf(entry)) lots.add(lot);
  const otherBalance = (entry: Entry, flow: Flow): OtherBalance | undefined =>
    otherBalanceIn(stepNow(work, entry), flow);
  for (const lot of lots) {
    if (storyNow(work, lot)?.handovers.some(({ explained }) => !explained)) retell(work, lot, otherBalance);
  }
};

/** Tells a lot's story again; answers the entries that speak of it. Likely slips are looked for once the other balances are known. */
const retell = (
  work: Work,
  lot: string,
  otherBalance?: (entry: Entry, flow: Flow) => OtherBalance | undefined,
): readonly Entry[] => {
  const entries = withMended(work, lot, work.find.ofLot(lot));
  const wasMade = isMade(storyNow(work, lot));
  const telling = entries.flatMap((entry) => counted(work, entry) ?? []);
  const solved = (entry: Entry, flow: Flow): Measured | undefined => {
    const step = stepNow(work, entry);
    return step?.solved?.flow === flow ? step.solved.mass : undefined;
  };
  work.stories.set(
    lot,
    entries.length > 0
      ? lotStory(lot, telling, work.workshop, solved, {
          leftOf: leftOf(work),
          otherBalance,
          withoutSlips: !otherBalance,
        })
      : undefined,
  );
  for (const entry of entries) work.touched.add(entry);
  // A material that nobody knows may be this lot, taken as if from the shelf.
  if (wasMade !== isMade(storyNow(work, lot))) for (const entry of work.find.ofMaterial(lot)) work.touched.add(entry);
  return entries;
};

/** What a correction puts this lot into does not name it itself. */
const withMended = (work: Work, lot: string, entries: readonly Entry[]): readonly Entry[] => {
  const mended = entries.flatMap((entry) => {
    const names =
      entry.prefix === 'correct' ? entry.flows.some((flow) => flow.lot?.was && flow.lot.name === lot) : false;
    const { first } = names ? partsFor(work, entry) : { first: entry };
    return entries.includes(first) ? [] : [first];
  });
  return mended.length === 0 ? entries : [...new Set([...entries, ...mended])].sort(inOrder(work.pages));
};

const isMade = (story: LotStory | undefined): boolean => story !== undefined && story.births.length > 0;

/** What is left of another lot as it enters an entry: of the one that a `relabel` renames. */
const leftOf =
  (work: Work) =>
  (entry: Entry, lot: string): Measured | undefined =>
    storyNow(work, lot)?.events.find((event) => event.entry === entry)?.before;

/** Makes a step's balance again; answers the lots whose weight it hands on differently than before. */
const rebalance = (work: Work, entry: Entry): readonly string[] => {
  const { first, counted: parts } = partsFor(work, entry);
  for (const part of partsFor(work, entry).counted) work.touched.add(part);
  work.touched.add(entry);
  work.touched.add(first);
  const before = stepNow(work, first);
  const joined = parts.some((part) => counted(work, part === parts[0] ? first : part)) ? joinParts(parts) : undefined;
  const step = joined && verb(joined.verb)?.flows ? balance(work, joined) : undefined;
  work.steps.set(first, step);
  return handedOn(before, step);
};

const lookup =
  (work: Work) =>
  (flow: Flow): Measured | undefined =>
    flow.lot ? storyNow(work, flow.lot.name)?.events.find((event) => event.flow === flow)?.before : undefined;

/** The balance, with what the products are. */
const balance = (work: Work, entry: Entry): Step => {
  const make = (flow: Flow): Make | undefined => makeOf(work, flow);
  const step = stepOf(entry, work.workshop, { before: lookup(work), make });
  return { ...step, carries: carriedBy(step, make, work.workshop) };
};

const makeOf = (work: Work, flow: Flow): Make | undefined =>
  makeFrom(
    flow,
    (lot) => storyNow(work, lot),
    (entry) => stepNow(work, entry),
  );

/** What a lot is: as it was received, or as the step that made it left it. */
const makeFrom = (
  { lot }: Flow,
  storyOf: (lot: string) => LotStory | undefined,
  stepFor: (entry: Entry) => Step | undefined,
): Make | undefined => {
  const story = lot && storyOf(lot.name);
  if (!story) return undefined;
  const own = ownMake(story, stepFor);
  const fumes = fumingOf(story);
  return fumes.length > 0 ? { material: own?.material, kind: own?.kind, fumes } : own;
};

const ownMake = (story: LotStory, stepFor: (entry: Entry) => Step | undefined): Make | undefined => {
  if (story.make?.material) return story.make;
  const birth = story.births[0];
  const isSo = birth && isCarried(birth.flow, birth.entry.verb);
  const material = isSo ? stepFor(birth.entry)?.carries : undefined;
  return material ? { material, kind: story.make?.kind } : story.make;
};

/** Lots that a step hands a weight or a make on to, other than before. */
const handedOn = (before: Step | undefined, after: Step | undefined): string[] => {
  const was = before?.solved;
  const now = after?.solved;
  const sameWeight = sameMass(was?.mass, now?.mass) && was?.flow === now?.flow;
  const weights = sameWeight ? [] : [was?.flow.lot?.name, now?.flow.lot?.name];
  const makes = before?.carries === after?.carries ? [] : (after ?? before)!.outputs.map(({ flow }) => flow.lot?.name);
  return [...weights, ...makes].filter((name) => name !== undefined);
};

const sameMass = (a: Measured | undefined, b: Measured | undefined): boolean =>
  a === b || (a !== undefined && b !== undefined && a.value.equals(b.value) && uncertainty(a) === uncertainty(b));

const keep = (
  work: Work,
  changes: readonly PageChange[],
  gone: readonly Entry[],
  guess: boolean,
): Omit<BookState, 'histories'> => {
  const stories = work.state.stories.with(work.stories);
  const strangers = strangersNow(work, gone);
  const names = guess && strangers.size > 0 && strangers.size <= MOST_GUESSED ? bornNames(stories) : [];
  if (guess) for (const entry of strangers) work.touched.add(entry);
  const accounts = new Map(work.state.accounts);
  for (const { before, after } of changes) {
    const file = (after ?? before)!.file;
    if (!after) accounts.delete(file);
    else accounts.set(file, new Map(after.entries.flatMap((entry) => keptAccount(work, entry))));
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

const keptAccount = (work: Work, entry: Entry): [Entry, Account][] => {
  const account = work.touched.has(entry) ? undefined : accountOf(work.state, entry);
  return account ? [[entry, account]] : [];
};

const NO_NAMES: ReadonlyMap<string, string | undefined> = new Map();

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

const bookFrom = (pages: Ground['pages'], state: BookState): Book => ({
  account: (entry) =>
    accountOf(state, originalOf(entry)) ?? {
      entry,
      parts: [entry],
      mends: undefined,
      step: undefined,
      lots: new Map(),
      nearNames: NO_NAMES,
      repeats: undefined,
      weighed: entry,
    },
  step: (entry) => accountOf(state, originalOf(entry))?.step,
  lot: (name) => state.stories.get(name),
  lotNames: () => state.stories.keys(),
  make: (flow) =>
    makeFrom(
      flow,
      (name) => state.stories.get(name),
      (entry) => accountOf(state, originalOf(entry))?.step,
    ),
  mentioned: (name) => [...pages.values()].some((page) => page.mentions.some((mentions) => mentions.has(name))),
});
