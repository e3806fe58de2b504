/** What is corrected or taken back without saying why. */
import type { Entry } from '../engine/entry';
import { rule } from './rule';

export const correctionWithoutReason = rule({
  code: 'correction-without-reason',
  severity: 'warning',
  atOnce: false,
  title: 'a correction without its reason',
  why: 'Whoever reads the record later sees two values, or an entry that does not count, and must know why.',
  wrong: '2026-05-04\nreceive A 20.00 g\n2026-05-06\ncorrect receive A\n  21.00 g was 20.00 g',
  right: '2026-05-04\nreceive A 20.00 g\n2026-05-06\ncorrect receive A\n  21.00 g was 20.00 g, because misread',
  entry: function* ({ entry }) {
    if ((entry.prefix !== 'correct' && entry.prefix !== 'void') || entry.broken || saysWhy(entry)) return;
    const what = entry.prefix === 'void' ? 'What is taken back' : 'A correction';
    yield { place: entry.head, says: `${what} says why: write \`because\` and the reason.` };
  },
});

/** In the entry, or on the line of a figure. */
const saysWhy = ({ said, flows, gear, amounts, readings, others }: Entry): boolean =>
  [said, ...[...flows, ...gear, ...amounts, ...readings, ...others].map((one) => one.said)].some(
    ({ because }) => because !== undefined,
  );
