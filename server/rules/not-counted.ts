/** A stock-take that does not speak of what should be where it looked. */
import { listWords, stepWords } from '../reports/words';
import { rule } from './rule';
import { isFirstPart } from './steps';

/** So many are shown where they were last. */
const MOST_SHOWN = 10;

export const notCounted = rule({
  code: 'not-counted',
  severity: 'warning',
  atOnce: false,
  title: 'a lot that a stock-take passes over',
  why: 'By the record these lots stand in the place that was counted, and the count neither finds nor misses them. A stock-take that names only what it finds cannot show what is gone. Look again: write `found LOT`, or `missing LOT` where it is not there; or where it went, where that was not written. Only lots of which something says `at` this place are looked for.',
  wrong:
    '2026-05-04\nreceive A 20.00 g, at strongbox\nreceive B 31.50 g, at strongbox\n\n2026-05-08\ncount strongbox\n  found A 20.00 g',
  right:
    '2026-05-04\nreceive A 20.00 g, at strongbox\nreceive B 31.50 g, at strongbox\n\n2026-05-08\ncount strongbox\n  found A 20.00 g\n  missing B',
  metal: function* ({ account, entry, accounts }) {
    if (entry.verb !== 'count' || !isFirstPart(account)) return;
    const all = accounts.uncounted(account);
    const place = entry.said.at;
    if (all.length === 0 || !place) return;
    const names = all.map(({ segment }) => segment.lot);
    const [is, it] = all.length === 1 ? ['is', 'it'] : ['are', 'them'];
    yield {
      place: place.place.anchor === entry.head.anchor ? place.place : entry.head,
      says: `${listWords(names)} should be in ${place.name}, and ${is} neither found nor missing here. Look for ${it}, and write which.`,
      related: all.slice(0, MOST_SHOWN).map(({ segment, at, last }) => ({
        place: at.place,
        says: `${segment.lot} is in ${at.name} here${last.place.anchor === at.place.anchor ? '' : `; last spoken of in ${stepWords(last.entry)}`}`,
      })),
    };
  },
});
