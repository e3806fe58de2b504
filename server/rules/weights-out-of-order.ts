/** What is a part of something, or what is left of it, weighs no more than the whole. */
import type { Amount, Entry } from '../engine/entry';
import { weighAmount } from '../engine/weigh';
import type { Workshop } from '../engine/workshop';
import { type Measured, subtract, uncertainty } from '../quantity/measured';
import { showMass } from '../quantity/show';
import type { Place } from '../text/place';
import { rule } from './rule';

export const weightsOutOfOrder = rule({
  code: 'weights-out-of-order',
  severity: 'error',
  atOnce: false,
  title: 'a part heavier than the whole',
  why: 'A bead weighs no more than what was taken for the assay, a cornet no more than its bead. Hung in water a thing weighs less than in air, and melted no more than as it came. One of the two weights is miswritten, or stands in the other line.',
  wrong: '2026-05-04\nreceive A 20.00 g\nassay A by fire\n  took 250.1 mg, bead 162.3 mg, cornet 164.0 mg',
  right: '2026-05-04\nreceive A 20.00 g\nassay A by fire\n  took 250.1 mg, bead 162.3 mg, cornet 146.0 mg',
  entry: function* ({ entry }, { workshop }) {
    for (const [whole, part] of PAIRS) {
      const [first, ...wholes] = weightsOf(entry, whole, workshop);
      const [second, ...parts] = weightsOf(entry, part, workshop);
      // Of several of a kind it is not known which belongs to which.
      if (!first || !second || wholes.length > 0 || parts.length > 0) continue;
      const over = subtract(second.mass, first.mass);
      if (over.value.toNumber() <= workshop.limits.coverage * uncertainty(over)) continue;
      yield {
        place: second.place,
        says: `\`${part}\` ${showMass(second.mass, second.unit)} is more than \`${whole}\` ${showMass(first.mass, first.unit)}.`,
        related: [{ place: first.place, says: `\`${whole}\`` }],
        unsure: over.guessed,
      };
    }
  },
});

/** The whole, then what weighs no more. */
const PAIRS: readonly (readonly [string, string])[] = [
  ['took', 'bead'],
  ['bead', 'cornet'],
  ['air', 'water'],
  ['received', 'melted'],
];

interface Weighed {
  readonly mass: Measured;
  /** As it was typed. */
  readonly unit: string;
  readonly place: Place;
}

const weightsOf = (entry: Entry, of: string, workshop: Workshop): Weighed[] =>
  entry.others
    .filter(({ word }) => word === of)
    .flatMap(({ amounts, said }) =>
      amounts.slice(0, 1).flatMap((amount: Amount) => {
        const { mass } = weighAmount(amount, said, workshop, of);
        return mass ? [{ mass, unit: amount.unit?.symbol ?? 'g', place: amount.place }] : [];
      }),
    );
