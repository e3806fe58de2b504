/** Readings of a history that other findings have in doubt already: what is wrong with them has been said, so they prove nothing more. */
import { isTold, type MetalBalance } from '../engine/accounts/balance';
import type { FinenessReading } from '../engine/accounts/compositions';
import type { History } from '../engine/accounts/history';
import type { Aside } from '../engine/accounts/network';
import { againstEachOther } from '../engine/accounts/pooled';
import { segmentsOf } from '../engine/accounts/segments';
import type { Step } from '../engine/book';
import type { Entry } from '../engine/entry';
import { uncertainty } from '../quantity/measured';
import type { Place } from '../text/place';
import { acceptedApart, isAcceptedChange } from '../workspace/accepted';
import type { Accounts } from '../workspace/accounts';
import type { Look } from './rule';
import { isUnread } from './steps';

/**
 * Weights of hand-overs that do not agree, parts above what was left, steps that lost or gained too much of mass or metal or were not read, assays
 * that disagree with each other or over a step.
 */
export const saidElsewhere = (history: History, accounts: Accounts, look: Look): Aside => {
  const places = new Set<string>();
  const { coverage } = look.workshop.limits;
  for (const { handovers, events } of history.stories) {
    for (const { after, weight, place } of events) {
      // More was taken than was left.
      if (after && after.value.toNumber() < -coverage * uncertainty(after))
        places.add(markOf(weight.amount?.place ?? place));
    }
    for (const { from, to, explained, again } of handovers) {
      if (explained || isAcceptedChange({ from, to })) continue;
      places.add(markOf(to.place));
      if (!again) places.add(markOf(from.place));
    }
  }
  const assays = disagreeing(history, accounts, coverage);
  const steps = new Set<Step>();
  for (const step of history.steps) {
    const open = openBalances(step, accounts);
    if (open.length > 0 || isToldOf(step, look)) steps.add(step);
    for (const { by, metal } of open) for (const entry of by) if (entry.verb === 'assay') add(assays, entry, metal);
  }
  return {
    mass: ({ place }) => places.has(markOf(place)),
    fineness: ({ entry, metal }: FinenessReading) => assays.get(entry)?.has(metal) ?? false,
    step: (step) => steps.has(step),
    apart: acceptedApart(history),
  };
};

const marks = new WeakMap<object, number>();
let count = 0;

const markOf = ({ anchor, start }: Place): string => {
  let mark = marks.get(anchor);
  if (mark === undefined) {
    mark = count++;
    marks.set(anchor, mark);
  }
  return `${mark} ${start}`;
};

const isToldOf = (step: Step, { book }: Look): boolean =>
  step.verdict === 'gain' || step.verdict === 'high' || isUnread(book.account(step.entry));

const openBalances = (step: Step, accounts: Accounts): readonly MetalBalance[] =>
  accounts.balances(step).filter(isTold);

const add = (to: Map<Entry, Set<string>>, entry: Entry, metal: string): void => {
  const all = to.get(entry);
  if (all) all.add(metal);
  else to.set(entry, new Set([metal]));
};

/** Both of each pair, by entry. */
const disagreeing = ({ stories }: History, { metals }: Accounts, coverage: number): Map<Entry, Set<string>> => {
  const found = new Map<Entry, Set<string>>();
  for (const story of stories) {
    for (const segment of segmentsOf(story).all) {
      for (const { metal, here, there, times } of againstEachOther(metals.assays(segment))) {
        if (times > coverage) for (const entry of [...here.by, ...there.by]) add(found, entry, metal);
      }
    }
  }
  return found;
};
