/** A day that stands below a later one. */
import { writtenDate } from '../syntax/day';
import type { Section } from '../syntax/tree';
import { type Place, placeIn } from '../text/place';
import { rule } from './rule';

export const dayGoesBack = rule({
  code: 'day-goes-back',
  severity: 'warning',
  atOnce: false,
  title: 'a day below a later one',
  why: 'Entries are reckoned in the order of their dates, wherever they stand. A day out of order may be a page found in a pocket, or a slip in the date.',
  wrong: '2026-05-05\nreceive A 20.00 g\n\n2026-05-04\nreceive B 10.00 g',
  right: '2026-05-04\nreceive B 10.00 g\n\n2026-05-05\nreceive A 20.00 g',
  page: function* (page) {
    let latest: { date: string; section: (typeof page.page.sections)[number] } | undefined;
    for (const section of page.page.sections) {
      if (section.kind !== 'day' || !section.date) continue;
      if (latest && section.date < latest.date) {
        yield {
          place: dateIn(section),
          says: `${section.date} stands below ${latest.date}. Is the date right?`,
          related: [{ place: dateIn(latest.section), says: 'the later day above' }],
        };
      } else latest = { date: section.date, section };
    }
  },
});

const dateIn = (section: Section): Place => placeIn(section, writtenDate(section.text, section.lines[0]!));
