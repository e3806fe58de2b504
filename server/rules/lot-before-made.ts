/** A lot spoken of before it exists. */
import { ownTimeOf } from '../engine/clock';
import type { Entry } from '../engine/entry';
import { stepWords } from '../reports/words';
import { rule } from './rule';

export const lotBeforeMade = rule({
  code: 'lot-before-made',
  severity: 'error',
  atOnce: false,
  ofPlans: true,
  title: 'a lot used before it exists',
  why: 'Entries are reckoned by date and time. A lot that is used on a day before it came in or was made has a wrong date, or a wrong name.',
  wrong: '2026-05-04\ncast C1\n  in A 20.00 g\n  out B 19.98 g bar\n\n2026-05-05\nreceive A 20.00 g',
  right: '2026-05-04\nreceive A 20.00 g\n\n2026-05-05\ncast C1\n  in A 20.00 g\n  out B 19.98 g bar',
  lot: function* (story) {
    const [first] = story.births;
    if (!first) return;
    const early = story.events.slice(0, story.events.indexOf(first)).find(({ kind }) => kind !== 'named');
    if (!early) return;
    yield {
      place: early.flow?.lot?.place ?? early.entry.name?.place ?? early.place,
      says: `${story.name} is made later, in ${stepWords(first.entry)}${whenWords(first.entry, early.entry)}.`,
      related: [{ place: first.place, says: `${story.name} is made here` }],
    };
  },
});

const whenWords = (made: Entry, used: Entry): string => {
  if (made.date === undefined || used.date === undefined) return '';
  if (made.date > used.date) return ` on ${made.date}`;
  if (made.date !== used.date || !made.time || !used.time || made.time <= used.time) return '';
  const whence = ownTimeOf(made.clocks, made.date) ? '' : ', the time of the entry above it';
  return `: that stands at ${made.time}${whence}, this at ${used.time}`;
};
