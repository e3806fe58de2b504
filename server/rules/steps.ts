/** What the rules about a step's balance share. */
import type { Account, Handover, Step } from '../engine/book';
import { isMetalKind } from '../engine/charge';
import { uncertainty } from '../quantity/measured';
import type { Section } from '../syntax/tree';
import type { Place } from '../text/place';
import type { Look } from './rule';

/** Whether a step would be in order if so many grams were unaccounted for. */
export const inOrder = (step: Step, grams: number, { workshop }: Look): boolean => {
  const explained = step.unaccounted ? workshop.limits.coverage * uncertainty(step.unaccounted) : 0;
  return grams >= (step.usual?.low ?? 0) - explained && grams <= (step.usual?.high ?? 0) + explained;
};

/**
 * Whether the other weight of a hand-over, taken here, puts this step in order, or takes nearly all of its gap away. `difference` is to − from: what came out of `from` grows by
 * it, what went into `to` shrinks by it; either way it is taken from what is unaccounted for.
 */
export const mendsStep = (handover: Handover, step: Step | undefined, look: Look): boolean => {
  if (!step?.unaccounted || (step.verdict !== 'gain' && step.verdict !== 'high')) return false;
  const touches = [handover.from.entry, handover.to.entry].some((entry) => look.book.step(entry) === step);
  if (!touches) return false;
  const [gap, left] = [step.unaccounted.value, step.unaccounted.value.minus(handover.difference.value)];
  return inOrder(step, left.toNumber(), look) || left.abs().lessThan(gap.abs().times(MOST_LEFT));
};

/** Of a gap that one wrong weight makes, the step's own loss is what is left: it is told once that weight is right. A choice, no source. */
const MOST_LEFT = 0.1;

/** A hand-over beyond weighing that alone explains this step: it is the one cause to tell. */
export const blamedElsewhere = ({ lots }: Account, step: Step, look: Look): boolean =>
  [...lots.values()].some((story) =>
    story.handovers.some((handover) => !handover.explained && mendsStep(handover, step, look)),
  );

/** A hand-over beyond weighing from or into this step: which of its weights is true is not known, so they say nothing of each other. */
export const isInDoubt = ({ entry, lots }: Account, { book }: Look): boolean => {
  const step = book.step(entry);
  return [...lots.values()].some(({ handovers }) =>
    handovers.some(
      ({ from, to, explained }) => !explained && [from.entry, to.entry].some((other) => book.step(other) === step),
    ),
  );
};

/** Where the metal that came out of a step was weighed. */
export const metalPlace = ({ outputs }: Step): Place | undefined =>
  outputs.find(({ flow, amount }) => amount && isMetalKind(flow.kind))?.amount?.place;

const HARMLESS: ReadonlySet<string> = new Set([
  'which-unit',
  'missing-indent',
  'run-on',
  'odd-character',
  'hidden-character',
  'hidden-in-text',
  'impossible-time',
]);

/** Something in the entry was not read, so its balance says nothing: what is wrong has been said there. */
export const isUnread = ({ parts }: Account): boolean =>
  parts.some((part) => (part.anchor as Section).problems.some(({ code }) => !HARMLESS.has(code)));

/** The account is that of the step itself, not of one of its later parts. */
export const isFirstPart = ({ entry, parts }: Account): boolean =>
  entry.prefix === undefined && parts[0]?.anchor === entry.anchor;
