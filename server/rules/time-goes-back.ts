/** A clock time earlier than the line above it. */
import { nextDate } from '../text/calendar';
import { rule } from './rule';

export const timeGoesBack = rule({
  code: 'time-goes-back',
  severity: 'hint',
  atOnce: false,
  title: 'a time earlier than the line above',
  why: 'Times stand on the date last written. Past midnight the new date goes before the time.',
  wrong: '2026-05-04\nreceive A 20.00 g\ncast C1\n  in A\n  23:40 charged\n  00:15 poured\n  out B 19.99 g bar',
  right:
    '2026-05-04\nreceive A 20.00 g\ncast C1\n  in A\n  23:40 charged\n  2026-05-05 00:15 poured\n  out B 19.99 g bar',
  entry: function* ({ entry }) {
    let above: (typeof entry.clocks)[number] | undefined;
    for (const clock of entry.clocks) {
      const same = above?.date === clock.date;
      if (above?.time && clock.time && same && clock.time < above.time) {
        const start = { ...clock.place, end: clock.place.start };
        const date = clock.date ? nextDate(clock.date) : undefined;
        yield {
          place: { ...clock.place, end: clock.place.start + clock.time.length },
          says: `${clock.time} is earlier than ${above.time} above. Is it the next day?`,
          related: [{ place: above.place, says: 'the later time above' }],
          fixes: date
            ? [
                {
                  title: `Write ${date} before it`,
                  edits: [{ at: start, text: `${date} ` }],
                  safe: false,
                  preferred: true,
                },
              ]
            : [],
        };
      }
      if (clock.time) above = clock;
    }
  },
});
