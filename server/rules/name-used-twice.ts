/** A name given to two lots, or to two steps. */
import type { Entry, Named } from '../engine/entry';
import { type Match, rule } from './rule';

export const nameUsedTwice = rule({
  code: 'name-used-twice',
  severity: 'error',
  atOnce: false,
  title: 'a name given twice',
  why: 'A name stands for one lot, or one step, for good; otherwise two histories run into one. A lot that goes on under its name is taken whole and comes out again in the same entry. The same step on another day begins with `more`. A plan hands its name to the entry that does it, so each plan that is still to be done wants its own.',
  wrong: '2026-05-04\nreceive A 20.00 g\nreceive A 31.50 g',
  right: '2026-05-04\nreceive A 20.00 g\nreceive A2 31.50 g',
  lot: function* (story) {
    const [first, ...others] = story.births;
    for (const birth of others) {
      if (
        birth.flow &&
        birth.entry.prefix === 'more' &&
        birth.entry.name &&
        story.name.startsWith(`${birth.entry.name.name}.`)
      )
        continue;
      yield {
        place: birth.flow?.lot?.place ?? birth.entry.name?.place ?? birth.place,
        says: `${story.name} is the name of another lot already.`,
        related: [{ place: first!.place, says: `${story.name} is made here` }],
      };
    }
  },
  entry: function* ({ entry, repeats }) {
    if (!repeats || !entry.name) return;
    yield {
      place: entry.name.place,
      says: `There is a \`${entry.verb} ${entry.name.name}\` already. If it goes on, write \`more ${entry.verb} ${entry.name.name}\`.`,
      related: [{ place: repeats.head, says: `the first ${entry.name.name}` }],
    };
  },
});

/** Of plans nothing is booked, so no account tells it. */
export const twoPlans = ({ name, place }: Named, verb: string, before: Entry): Match => ({
  place,
  says: `There is a \`plan ${verb} ${name}\` already. Give this one another name, or take one of them out.`,
  related: [{ place: before.head, says: `the first ${name}` }],
});
