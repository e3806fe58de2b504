/**
 * A plan, computed as if it were done: in a journal beside the journal, where the plan's text stands without its `plan` and with what it leaves
 * out written in. Of what other plans make, the same. Nothing of it is booked.
 */
import { memo } from '../engine/accounts/memo';
import type { Entry, Flow } from '../engine/entry';
import type { JournalPage } from '../journal/page';
import type { Section } from '../syntax/tree';
import { lineAt, lineStart } from '../text/lines';
import { type Place, placeIn } from '../text/place';
import { asIf } from '../workspace/as-if';
import { type KeptByMetals, keptByMetals } from '../workspace/by-metals';
import type { Workspace } from '../workspace/workspace';
import type { Advice, Part, Writing } from './advice';
import { isByHand } from './as-before';
import { isWithoutCupel } from './cupel-load';
import { type FilledText, filled } from './fill';
import { isPartedNext } from './inquart';
import { type Job, jobOf } from './job';
import { adviceOn } from './topics';

export interface Plan {
  /** The plan as it stands on its page. */
  readonly entry: Entry;
  /** As if it were done, all that it left out written in. */
  readonly job: Job;
  /** Its text so, without `plan`; `lines` tells which line each was. */
  readonly filled: FilledText;
  readonly advice: readonly Advice[];
  /** What was written in, with the advice that it comes from. */
  readonly written: readonly {
    readonly writing: Writing;
    readonly advice: Advice;
    readonly line: number | undefined;
  }[];
  /** Plans that make what this one takes. */
  readonly after: readonly Plan[];
}

/** An entry of the same verb and name stands without `plan`: it is done. */
export const doneAs = (workspace: Workspace, plan: Entry): Entry | undefined => {
  const name = plan.name?.name;
  if (name === undefined) return undefined;
  for (const page of workspace.pages.values()) {
    const done = page.byStep.get(name)?.find(({ prefix, verb, broken }) => !prefix && verb === plan.verb && !broken);
    if (done) return done;
  }
  return undefined;
};

/** An open plan of the same verb and name that stands before this one. */
export const planBefore = (workspace: Workspace, plan: Entry): Entry | undefined => {
  const name = plan.name?.name;
  if (name === undefined || !isOpenPlan(workspace, plan)) return undefined;
  for (const page of workspace.pages.values()) {
    const same = page.byStep
      .get(name)
      ?.find(
        (one) => one !== plan && one.verb === plan.verb && isOpenPlan(workspace, one) && isBefore(page, one, plan),
      );
    if (same) return same;
  }
  return undefined;
};

/** By day, then by page, then by its place there. */
const isBefore = ({ order }: JournalPage, one: Entry, other: Entry): boolean => {
  const key = ({ date = '', anchor }: Entry): string => `${date} ${anchor.file}`;
  if (key(one) !== key(other)) return key(one) < key(other);
  return (order.get(one) ?? 0) < (order.get(other) ?? 0);
};

const isOpenPlan = (workspace: Workspace, entry: Entry): boolean =>
  entry.prefix === 'plan' && !entry.broken && doneAs(workspace, entry) === undefined;

/** Plans of a page that are still to be done, in its order. */
export const plansOn = (workspace: Workspace, file: string): readonly Entry[] =>
  workspace.pages.get(file)?.entries.filter((entry) => isOpenPlan(workspace, entry)) ?? [];

const kept: KeptByMetals<Plan | undefined> = memo();

/** Undefined for what is no plan, or is done, or cannot be read. */
export const planOf = (workspace: Workspace, entry: Entry): Plan | undefined => {
  const plans = ofWorkspace.get(workspace) ?? new Map<Entry, Plan | undefined>();
  ofWorkspace.set(workspace, plans);
  if (!plans.has(entry)) plans.set(entry, planWithin(workspace, entry, new Set()));
  return plans.get(entry);
};

/** A plan that waits for others is made anew with each version of the journal, once. */
const ofWorkspace = new WeakMap<Workspace, Map<Entry, Plan | undefined>>();

/** `above` are the plans that wait for this one: lots that make each other come to an end here. */
const planWithin = (workspace: Workspace, entry: Entry, above: ReadonlySet<Entry>): Plan | undefined => {
  if (!isOpenPlan(workspace, entry) || above.has(entry)) return undefined;
  const within = new Set([...above, entry]);
  const makers = makersOf(workspace, entry);
  // A plan that is told already is the same one here; of those that wait for each other none is kept.
  const after = makers.flatMap(
    (maker) => ofWorkspace.get(workspace)?.get(maker) ?? planWithin(workspace, maker, within) ?? [],
  );
  // What stands in other plans is no part of what the kept one rests on.
  if (after.length > 0 || above.size > 0 || isPartedNext(workspace, entry) || isWithoutCupel(entry) || isByHand(entry))
    return made(workspace, entry, after);
  return keptByMetals(kept, workspace, workspace.book.account(entry), () => made(workspace, entry, after));
};

/** Open plans that make a lot which this one takes and nothing else has made. */
const makersOf = (workspace: Workspace, entry: Entry): readonly Entry[] => [
  ...new Set(takenOf(workspace, entry).flatMap(({ maker }) => (maker === entry ? [] : [maker]))),
];

/** A lot that a plan takes, and an open plan that makes it. */
export interface Taken {
  readonly flow: Flow;
  readonly maker: Entry;
}

const takenOf = (workspace: Workspace, entry: Entry): readonly Taken[] => {
  const { pages, book } = workspace;
  const all: Taken[] = [];
  for (const flow of entry.flows) {
    const { word, lot } = flow;
    if (word !== 'in' || !lot || (book.lot(lot.name)?.births.length ?? 0) > 0) continue;
    // `K1.bead` is a product of K1 that has no name, and perhaps no line yet.
    const step = lot.name.slice(0, Math.max(0, lot.name.lastIndexOf('.')));
    for (const page of pages.values()) {
      const makers = (page.byLot.get(lot.name) ?? []).filter((other) =>
        other.flows.some((one) => one.word === 'out' && one.lot?.name === lot.name),
      );
      for (const maker of [...makers, ...(page.byStep.get(step) ?? [])])
        if (isOpenPlan(workspace, maker)) all.push({ flow, maker });
    }
  }
  return all;
};

/**
 * Plans that wait for each other: what this one takes another makes, and so on until one takes what this one makes. Told of the first of them
 * alone; undefined for any other plan.
 */
export const circleOf = (workspace: Workspace, entry: Entry): readonly Taken[] | undefined => {
  if (!isOpenPlan(workspace, entry)) return undefined;
  const seen = new Set<Entry>();
  const back = (one: Entry, path: readonly Taken[]): readonly Taken[] | undefined => {
    for (const taken of takenOf(workspace, one)) {
      const way = [...path, taken];
      if (taken.maker === entry) return way;
      if (seen.has(taken.maker)) continue;
      seen.add(taken.maker);
      const found = back(taken.maker, way);
      if (found) return found;
    }
    return undefined;
  };
  const circle = back(entry, []);
  const isFirst = circle?.every(({ maker }) => {
    const page = workspace.pages.get(maker.anchor.file);
    return maker === entry || !page || !isBefore(page, maker, entry);
  });
  return isFirst ? circle : undefined;
};

/** Each round may let one more be told. */
const MOST_ROUNDS = 8;

interface Written {
  readonly writing: Writing;
  readonly advice: Advice;
}

/** What goes in comes before the vessels that it wants, and these before what comes out: each rests on what is before it. */
const nextOf = (all: readonly Written[]): readonly Written[] => {
  const first = Math.min(...all.map(({ writing }) => stageOf(writing)));
  return all.filter(({ writing }) => stageOf(writing) === first);
};

const stageOf = (writing: Writing): number => {
  if ('part' in writing) return STAGES.indexOf(writing.part);
  return STAGES.indexOf(writing.flow.word === 'in' || writing.flow.word === 'add' ? 'add' : 'out');
};

const STAGES: readonly Part[] = ['add', 'gear', 'out'];

const made = (workspace: Workspace, entry: Entry, after: readonly Plan[]): Plan | undefined => {
  const before = textsOf(after);
  const start = withoutPrefix(entry);
  let now: FilledText = { text: start, lines: start.split('\n').map((_, line) => line) };
  const written: Plan['written'][number][] = [];
  for (let round = 0; ; round++) {
    const shadow = asIf(workspace, new Map([...before, [entry, now.text]]));
    const done = shadow.entryOf(entry);
    const job = done && jobOf(shadow.workspace, done);
    if (!job) return undefined;
    const advice = adviceOn(job);
    const writings = nextOf(advice.flatMap((one) => (one.writes ?? []).map((writing) => ({ writing, advice: one }))));
    if (writings.length === 0 || round === MOST_ROUNDS) return { entry, job, filled: now, advice, written, after };
    const section = job.entry.anchor as Section;
    const lines = now.lines;
    for (const { writing, advice: of } of writings) {
      const at = 'flow' in writing ? lines[lineAt(section.text, writing.flow.place.start)] : undefined;
      written.push({ writing, advice: of, line: at });
    }
    const next = filled(
      section,
      job.entry,
      writings.map(({ writing }) => writing),
    );
    now = { text: next.text, lines: next.lines.map((line) => (line === undefined ? undefined : lines[line])) };
  }
};

/** Every answer once: of the whole plan, and what was answered on the way to it and is no more asked. */
export const answersOf = ({ advice, written }: Plan): readonly Advice[] => {
  const topics = new Set(advice.map(({ topic }) => topic));
  const onTheWay = written.map((one) => one.advice).filter(({ topic }) => !topics.has(topic));
  return [...new Set([...onTheWay, ...advice])];
};

/** A place in the plan as if it were done, on its page: the same letters where their line stands there, else the first line. */
export const placeInPlan = ({ entry, filled: { text, lines } }: Plan, { start, end }: Place): Place => {
  const section = entry.anchor as Section;
  const at = lineAt(text, start);
  const line = lines[at];
  if (line === undefined) return entry.head;
  const from = lineStart(section.text, line);
  const [whole = ''] = section.text.slice(from).split('\n', 1);
  const words = text.slice(start, end);
  const same = whole.indexOf(words, start - lineStart(text, at));
  if (same >= 0) return placeIn(section, { start: from + same, end: from + same + words.length });
  const indent = whole.length - whole.trimStart().length;
  return placeIn(section, { start: from + indent, end: from + whole.trimEnd().length });
};

/** Texts of plans and of those that they wait for. */
const textsOf = (plans: readonly Plan[]): readonly (readonly [Entry, string])[] =>
  plans.flatMap(({ entry, filled: { text }, after }) => [...textsOf(after), [entry, text] as const]);

const withoutPrefix = ({ anchor, verbPlace }: Entry): string => {
  const { text, prefix } = anchor as Section;
  return text.slice(0, prefix?.start ?? verbPlace.start) + text.slice(verbPlace.start);
};
