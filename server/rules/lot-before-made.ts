/** A lot spoken of before it exists. */
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
    const when =
      first.entry.date && early.entry.date && first.entry.date > early.entry.date ? ` on ${first.entry.date}` : '';
    yield {
      place: early.flow?.lot?.place ?? early.entry.name?.place ?? early.place,
      says: `${story.name} is made later, in ${stepWords(first.entry)}${when}.`,
      related: [{ place: first.place, says: `${story.name} is made here` }],
    };
  },
});
