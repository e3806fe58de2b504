/** A word behind a figure that is neither a unit nor one of the shop's own measures. */
import type { Amount, Entry } from '../engine/entry';
import { nearUnit, UNITS } from '../quantity/units';
import { nearest } from '../text/nearest';
import { digitsIn } from './figures';
import { rule } from './rule';
import { weighingsOf } from './weighings';

export const unknownMeasure = rule({
  code: 'unknown-measure',
  severity: 'error',
  atOnce: false,
  ofPlans: true,
  title: 'a measure that nobody knows',
  why: 'Behind a figure stands a unit, or one of the measures of the workshop file (`measures`). A weight in anything else is not counted.',
  wrong: '2026-05-04\nreceive A 20.00 gt',
  right: '2026-05-04\nreceive A 20.00 g',
  entry: function* ({ entry }, { workshop }) {
    for (const amount of amountsOf(entry)) {
      const odd = digitsIn(amount).find(
        ({ measure }) => measure !== undefined && !nearUnit(measure) && !workshop.measures.has(measure),
      );
      if (!odd) continue;
      const word = { ...odd.place, start: odd.place.end - odd.measure!.length };
      const isTonne = TONNES.has(odd.measure!);
      const near = isTonne ? undefined : nearest(odd.measure!, [...workshop.measures.keys(), ...MASSES], 1);
      yield {
        place: word,
        says: `\`${odd.measure}\` is no unit, and no measure of the workshop file.${near ? ` Is \`${near}\` meant?` : isTonne ? ' A tonne is `1000 kg`.' : ''}`,
        fixes: near
          ? [{ title: `Write \`${near}\``, edits: [{ at: word, text: near }], safe: false, preferred: true }]
          : [],
      };
    }
  },
});

/** No unit of the journal: behind an ounce a `t` is troy. */
const TONNES: ReadonlySet<string> = new Set(['t', 'tonne', 'tonnes']);

const MASSES = UNITS.filter(({ kind }) => kind === 'mass').map(({ symbol }) => symbol);

const amountsOf = (entry: Entry): readonly Amount[] => [
  ...weighingsOf(entry).map(({ amount }) => amount),
  ...entry.others.flatMap(({ amounts }) => amounts),
];
