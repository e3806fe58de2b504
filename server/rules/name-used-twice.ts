/** A name given to two lots, or to two steps. */
import type { LotEvent, LotStory } from '../engine/book';
import type { Entry, Named } from '../engine/entry';
import type { Section } from '../syntax/tree';
import { writeName } from './names';
import { type Fix, type Match, rule } from './rule';

export const nameUsedTwice = rule({
  code: 'name-used-twice',
  severity: 'error',
  atOnce: false,
  title: 'a name given twice',
  why: 'A name stands for one lot, or one step, for good; otherwise two histories run into one. A lot that goes on under its name is taken whole and comes out again in the same entry. The same step on another day begins with `more`. A plan hands its name to the entry that does it, so each plan that is still to be done wants its own.',
  wrong: '2026-05-04\nreceive A 20.00 g\nreceive A 31.50 g',
  right: '2026-05-04\nreceive A 20.00 g\nreceive A2 31.50 g',
  lot: function* (story, look) {
    const [first] = story.births;
    for (const birth of othersOf(story)) {
      const named = birth.flow?.lot ?? birth.entry.name;
      yield {
        place: named?.place ?? birth.place,
        says: `${story.name} is the name of another lot already.`,
        related: [{ place: first!.place, says: `${story.name} is made here` }],
        fixes: named && isSpelt(named) ? [renaming(named, (name) => look.book.lot(name) !== undefined)] : [],
      };
    }
  },
  entry: function* ({ entry, repeats }, look) {
    if (!repeats || !entry.name) return;
    yield {
      place: entry.name.place,
      says: `There is a \`${entry.verb} ${entry.name.name}\` already. If it goes on, write \`more ${entry.verb} ${entry.name.name}\`.`,
      related: [{ place: repeats.head, says: `the first ${entry.name.name}` }],
      fixes: [renaming(entry.name, (name) => look.book.lot(name) !== undefined)],
    };
  },
});

/** What makes another lot of the same name. A step that goes on adds to an unnamed product. */
const othersOf = ({ name, births }: LotStory): readonly LotEvent[] =>
  births
    .slice(1)
    .filter(
      ({ flow, entry }) => !(flow && entry.prefix === 'more' && entry.name && name.startsWith(`${entry.name.name}.`)),
    );

/** Two histories run into one by it. */
export const isTwoLots = (story: LotStory): boolean => othersOf(story).length > 0;

/** An unnamed product bears a name that stands nowhere. */
const isSpelt = ({ name, place }: Named): boolean => {
  const written = (place.anchor as Section).text.slice(place.start, place.end);
  return written.replaceAll('"', '') === name;
};

/** The first free one of `M58-2`, `M58-3`, … What was taken from it further down is for the hand to follow. */
const renaming = ({ name, place }: Named, isTaken: (name: string) => boolean): Fix => {
  let count = 2;
  while (isTaken(`${name}-${count}`)) count++;
  const free = `${name}-${count}`;
  return { title: `Call this one ${free}`, edits: [{ at: place, text: writeName(free) }], safe: false };
};

/** Of plans nothing is booked, so no account tells it. */
export const twoPlans = ({ name, place }: Named, verb: string, before: Entry): Match => ({
  place,
  says: `There is a \`plan ${verb} ${name}\` already. Give this one another name, or take one of them out.`,
  related: [{ place: before.head, says: `the first ${name}` }],
});
