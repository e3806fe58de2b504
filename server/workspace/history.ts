/**
 * Steps of a kind in the order of the record, and what the earlier ones teach of each. A step is held against the last few before it, never
 * against itself or a later one; so an edit reaches no farther than a few steps on, and every other step stays the same object.
 *
 * What is learnt judges a balance and changes no weight: what a step lost does not depend on it, nor does a weight that is solved for. Else
 * one edit would run through the whole record.
 */

import type { Step } from '../engine/book';
import type { Entry } from '../engine/entry';
import { heldAgainst, type Loss, learntFrom, lossOf, MOST_EARLIER } from '../engine/learnt';
import type { Workshop } from '../engine/workshop';
import { firstWhere } from '../text/lists';

/** A step by its first entry; without a loss where it rests on a guess. */
export interface Member {
  readonly entry: Entry;
  readonly loss: Loss | undefined;
}

/** By kind of step, in order. */
export type Histories = ReadonlyMap<string, readonly Member[]>;

/** A change of steps: what is known of it before anything is learnt. */
export interface Steps {
  readonly workshop: Workshop;
  /** Entries whose step was taken away or made anew. */
  readonly left: Iterable<Entry>;
  readonly before: (entry: Entry) => Step | undefined;
  /** Steps made anew, by their first entry. */
  readonly made: ReadonlyMap<Entry, Step | undefined>;
  readonly compare: (a: Entry, b: Entry) => number;
}

export interface Lessons {
  readonly histories: Histories;
  /** Steps that are judged otherwise than they were, by their first entry. */
  readonly judged: ReadonlyMap<Entry, Step>;
}

/** The histories after a change, and every step whose usual loss it changes. */
export const learn = (histories: Histories, steps: Steps): Lessons => {
  const moves = movesOf(steps);
  const judged = new Map<Entry, Step>();
  if (moves.size === 0) return { histories, judged };
  const after = new Map(histories);
  for (const [kind, move] of moves) {
    const members = moved(after.get(kind) ?? NONE, move, steps.compare);
    for (const index of toJudge(after.get(kind) ?? NONE, members, move)) {
      const step = judgedStep(members, index, steps);
      if (step) judged.set(members[index]!.entry, step);
    }
    if (members.length > 0) after.set(kind, members);
    else after.delete(kind);
  }
  return { histories: after, judged };
};

interface Move {
  readonly gone: Set<Entry>;
  readonly come: Member[];
}

const movesOf = ({ left, before, made }: Steps): Map<string, Move> => {
  const moves = new Map<string, Move>();
  const moveOf = (kind: string): Move => {
    const known = moves.get(kind) ?? { gone: new Set(), come: [] };
    moves.set(kind, known);
    return known;
  };
  for (const entry of left) {
    const kind = before(entry)?.alike;
    if (kind !== undefined) moveOf(kind).gone.add(entry);
  }
  for (const [entry, step] of made) {
    if (step?.alike !== undefined) moveOf(step.alike).come.push({ entry, loss: lossOf(step) });
  }
  return moves;
};

/** The list with what left taken out and what came put in its place. */
const moved = (before: readonly Member[], { gone, come }: Move, compare: Steps['compare']): readonly Member[] => {
  const kept = gone.size > 0 ? without(before, gone) : before;
  const members: Member[] = [];
  let from = 0;
  for (const member of come.sort((a, b) => compare(a.entry, b.entry))) {
    const to = firstWhere(kept, ({ entry }) => compare(entry, member.entry) >= 0, from);
    while (from < to) members.push(kept[from++]!);
    members.push(member);
  }
  while (from < kept.length) members.push(kept[from++]!);
  return members;
};

/** Looks for each on its day alone: an edit takes a few out of thousands. An entry of another part of a step is not among them. */
const without = (members: readonly Member[], gone: ReadonlySet<Entry>): readonly Member[] => {
  const out = new Set<number>();
  for (const entry of gone) {
    const day = entry.date ?? '';
    let at = firstWhere(members, ({ entry: one }) => (one.date ?? '') >= day);
    while (at < members.length && (members[at]!.entry.date ?? '') === day && members[at]!.entry !== entry) at++;
    if (members[at]?.entry === entry) out.add(at);
  }
  return out.size > 0 ? members.filter((_, at) => !out.has(at)) : members;
};

/** What came, and whatever has a change among the last few before it. */
const toJudge = (before: readonly Member[], members: readonly Member[], { come }: Move): Set<number> => {
  let first = 0;
  while (first < members.length && first < before.length && same(before[first]!, members[first]!)) first++;
  let last = members.length - 1;
  for (let at = before.length - 1; at >= first && last >= first && same(before[at]!, members[last]!); at--) last--;
  const came = new Set(come);
  const indices = new Set<number>();
  for (let index = 0; index < members.length; index++) if (came.has(members[index]!)) indices.add(index);
  if (last < first && before.length === members.length) return indices;
  let reach = MOST_EARLIER;
  for (let index = first; index < members.length && reach > 0; index++) {
    indices.add(index);
    if (index > last && members[index]!.loss) reach--;
  }
  return indices;
};

const same = (a: Member, b: Member): boolean =>
  a === b || (a.entry === b.entry && a.loss?.share === b.loss?.share && a.loss?.u === b.loss?.u);

/** The step beside what the earlier ones teach, where that is another judgement than before. */
const judgedStep = (members: readonly Member[], index: number, { made, before, workshop }: Steps): Step | undefined => {
  const { entry } = members[index]!;
  const step = made.get(entry) ?? before(entry);
  if (!step) return undefined;
  const held = heldAgainst(step, learntFrom(lossesBefore(members, index)), workshop);
  return held === step ? undefined : held;
};

const lossesBefore = (members: readonly Member[], index: number): Loss[] => {
  const losses: Loss[] = [];
  for (let at = index - 1; at >= 0 && losses.length < MOST_EARLIER; at--) {
    const loss = members[at]!.loss;
    if (loss) losses.push(loss);
  }
  return losses;
};

const NONE: readonly Member[] = [];
