/** Steps that rest on what changed get a new balance, and hand on what they solved for. */
import type { LotStory, Make, Step } from '../../engine/book';
import { carriedBy, isCarried } from '../../engine/carries';
import type { Entry, Flow } from '../../engine/entry';
import { fumingOf } from '../../engine/fuming';
import { stepOf } from '../../engine/step';
import { type Measured, uncertainty } from '../../quantity/measured';
import { verb } from '../../vocabulary/verbs';
import { joinParts } from '../parts';
import { counted, partsFor, stepNow, storyNow, type Work } from './work';

/** Makes a step's balance again; answers the lots whose weight it hands on differently than before. */
export const rebalance = (work: Work, entry: Entry): readonly string[] => {
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
export const makeFrom = (
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
