/** A shipment or lot that was settled before. */
import { salesOf } from '../workspace/selling/sales';
import { rule } from './rule';
import { EXAMPLE, EXAMPLE_SETTLEMENT, EXAMPLE_TERMS } from './settled';

export const settledTwice = rule({
  code: 'settled-twice',
  severity: 'error',
  atOnce: false,
  title: 'settled a second time',
  why: 'A shipment is settled once: a second `settle` of the same name would book its money twice, so it is left out of every sum. What was added later goes under `more settle NAME`; what was wrong is mended by `correct settle NAME`.',
  wrong: `${EXAMPLE}${EXAMPLE_SETTLEMENT.replace('2026-05-11', '2026-05-14')}`,
  right: `${EXAMPLE}2026-05-14\nmore settle V1\n  paid 2026-05-14`,
  workshop: EXAMPLE_TERMS,
  metal: function* ({ workspace, account: { entry } }) {
    if (entry.verb !== 'settle' || !entry.name) return;
    const sales = salesOf(workspace);
    const before = sales.of(entry) && sales.settledBefore(entry);
    if (!before) return;
    yield {
      place: entry.name.place,
      says: `${entry.name.name} was settled on ${before.entry.date}: this is not counted. Write \`more settle ${entry.name.name}\` for what came later, or \`correct\` what was wrong.`,
      related: [{ place: before.entry.head, says: 'settled here' }],
    };
  },
});
