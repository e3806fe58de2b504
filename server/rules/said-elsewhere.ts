/** Readings of a history that other findings have in doubt already: what is wrong with them has been said, so they prove nothing more. */
import { assayed } from '../engine/accounts/assays';
import type { FinenessReading } from '../engine/accounts/compositions';
import type { History } from '../engine/accounts/history';
import { spread } from '../engine/accounts/inexact';
import type { Aside } from '../engine/accounts/network';
import { segmentsOf } from '../engine/accounts/segments';
import type { Step } from '../engine/book';
import type { Entry } from '../engine/entry';
import { uncertainty } from '../quantity/measured';
import type { Place } from '../text/place';
import type { Accounts } from '../workspace/accounts';
import type { Look } from './rule';
import { isUnread } from './steps';

/** Weights of hand-overs that do not agree, parts above what was left, steps that lost or gained too much of mass or metal or were not read, assays that disagree. */
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
      if (explained) continue;
      places.add(markOf(to.place));
      if (!again) places.add(markOf(from.place));
    }
  }
  const steps = new Set(history.steps.filter((step) => isToldOf(step, accounts, look)));
  const assays = disagreeing(history, accounts, coverage);
  return {
    mass: ({ place }) => places.has(markOf(place)),
    fineness: ({ entry, metal }: FinenessReading) => assays.get(entry)?.has(metal) ?? false,
    step: (step) => steps.has(step),
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

const isToldOf = (step: Step, accounts: Accounts, { book }: Look): boolean =>
  step.verdict === 'gain' ||
  step.verdict === 'high' ||
  isUnread(book.account(step.entry)) ||
  accounts.balances(step).some(({ verdict, ground }) => verdict !== 'closed' && ground !== 'guessed');

/** Both of each pair, by entry. */
const disagreeing = ({ stories }: History, { metals }: Accounts, coverage: number): Map<Entry, Set<string>> => {
  const found = new Map<Entry, Set<string>>();
  const add = (entry: Entry, metal: string): void => {
    const all = found.get(entry);
    if (all) all.add(metal);
    else found.set(entry, new Set([metal]));
  };
  for (const story of stories) {
    for (const segment of segmentsOf(story).all) {
      const entries = metals.assays(segment);
      for (const [at, one] of entries.entries()) {
        for (const other of entries.slice(0, at)) {
          for (const [metal, { share }] of assayed(one)) {
            const beside = assayed(other).get(metal)?.share;
            if (!share || !beside) continue;
            if (Math.abs(share.value - beside.value) <= coverage * Math.hypot(spread(share), spread(beside))) continue;
            add(one, metal);
            add(other, metal);
          }
        }
      }
    }
  }
  return found;
};
