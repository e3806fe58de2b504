/** A lot that is worked on, sold or sent away before its hold is over. */
import type { LotEventKind } from '../engine/book';
import { stepWords } from '../reports/words';
import { rule } from './rule';

const USES: ReadonlySet<LotEventKind> = new Set<LotEventKind>(['used', 'part-used', 'shipped', 'sold', 'discarded']);

const DOES: Readonly<Partial<Record<LotEventKind, string>>> = { sold: 'is sold by', shipped: 'leaves by' };

export const lotOnHold = rule({
  code: 'lot-on-hold',
  severity: 'error',
  atOnce: false,
  ofPlans: true,
  title: 'a lot on hold that is worked on or sold',
  why: 'What was bought of strangers often has to lie for some days as it came, so that stolen goods can be found; how long, the local law says. A lot with `hold until` is not to be melted, sold or sent away before that day. Write the right day of either; where it was set free earlier, accept this with who set it free. Weighing, testing and samples are not asked about.',
  wrong:
    '2026-05-04\nreceive A 20.00 g, hold until 2026-05-11\n\n2026-05-07\ncast C1\n  in A 20.00 g\n  out B 19.98 g bar',
  right:
    '2026-05-04\nreceive A 20.00 g, hold until 2026-05-11\n\n2026-05-11\ncast C1\n  in A 20.00 g\n  out B 19.98 g bar',
  source: 'one state asks for five working days unaltered (read, name withheld)',
  lot: function* ({ name, births, events }) {
    const held = births.find(({ entry }) => entry.said.holdUntil !== undefined);
    const until = held?.entry.said.holdUntil;
    if (!held || until === undefined) return;
    const early = events.find(({ kind, entry: { date } }) => USES.has(kind) && date !== undefined && date < until);
    if (!early) return;
    yield {
      place: early.flow?.lot?.place ?? early.entry.name?.place ?? early.place,
      says: `${name} is on hold until ${until}, and ${DOES[early.kind] ?? 'goes into'} ${stepWords(early.entry)} on ${early.entry.date}. Wait, or say who set it free.`,
      related: [{ place: held.place, says: `${name} came in here` }],
    };
  },
});
