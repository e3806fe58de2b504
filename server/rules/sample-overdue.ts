/** A sample that should be back, or its result here, by the record's last day. */
import { rule } from './rule';

export const sampleOverdue = rule({
  code: 'sample-overdue',
  severity: 'hint',
  atOnce: false,
  title: 'a sample that is overdue',
  why: 'A sample that went out and of which nothing more is written is metal that nobody has, and a lot that nobody has assayed. Ask the laboratory; write the assay, or `back` when it returns. The last day of the record stands for today.',
  wrong:
    '2026-05-04\nreceive A 50.00 g\nsample A\n  out A1 1.00 g drillings, to harbour-lab, due 2026-05-20\n2026-06-01\nnote nothing heard',
  right:
    '2026-05-04\nreceive A 50.00 g\nsample A\n  out A1 1.00 g drillings, to harbour-lab, due 2026-05-20\n2026-05-18\nassay A1 by fire at harbour-lab\n  Au 91.3 %\n2026-06-01\nnote all is well',
  metal: function* ({ entry, accounts }) {
    if (entry.verb !== 'sample') return;
    for (const flow of entry.flows) {
      const { due, to } = flow.said;
      const segment = flow.word === 'out' && flow.lot ? accounts.metals.lineage.segment(flow) : undefined;
      if (!segment || !flow.lot || due === undefined || due >= accounts.lastDate) continue;
      const isHeardOf = segment.story.events.some(({ entry: other }) => other !== segment.start.entry);
      if (isHeardOf) continue;
      yield {
        place: flow.lot.place,
        says: `${flow.lot.name}${to ? ` went to ${to.name} and` : ''} was due on ${due}; nothing is written of it since. Ask for the result, or write that it came back.`,
      };
    }
  },
});
