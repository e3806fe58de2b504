/** A part larger than what is left. */
import type { LotEvent } from '../engine/book';
import { type Measured, negate, uncertainty } from '../quantity/measured';
import { showMass, showQuantity } from '../quantity/show';
import { rule } from './rule';

export const moreThanLeft = rule({
  code: 'more-than-left',
  severity: 'error',
  atOnce: false,
  ofPlans: true,
  title: 'a part larger than what is left',
  why: 'The parts of a lot cannot weigh more than the lot. Either the part, or the weight before, is wrong.',
  wrong: '2026-05-04\nreceive A 20.00 g\ncast C1\n  in 32.00 g of A\n  out B 31.97 g bar',
  right: '2026-05-04\nreceive A 40.00 g\ncast C1\n  in 32.00 g of A\n  out B 31.97 g bar',
  lot: function* (story, { workshop }) {
    for (const event of story.events) {
      const poured = volumeShort(event);
      if (poured) {
        yield {
          place: event.weight.amount?.place ?? event.place,
          says: `Of ${story.name} only ${volume(event.volumeBefore!)} is left; ${volume(event.weight.volume!)} is ${volume(poured)} more.`,
          unsure: poured.guessed,
        };
        return;
      }
      const { before, after, weight } = event;
      if (!before || !after || !weight.mass || !after.value.isNegative() || event.kind === 'used') continue;
      const short = after.value.negated().toNumber();
      if (short <= Math.max(workshop.limits.coverage * uncertainty(after), weight.divisionGrams)) continue;
      yield {
        place: weight.amount?.place ?? event.place,
        says: `Of ${story.name} only ${showMass(before)} is left; ${showMass(weight.mass)} is ${showMass({ ...after, value: after.value.negated() })} more.`,
        unsure: after.guessed,
      };
      return;
    }
  },
});

/** By how many millilitres a part is more than what is left. */
const volumeShort = ({ kind, volumeBefore, volumeAfter, weight }: LotEvent): Measured | undefined => {
  if (!volumeBefore || !volumeAfter?.value.isNegative() || !weight.volume || kind === 'used') return undefined;
  const short = negate(volumeAfter);
  return short.value.toNumber() > 2 * uncertainty(short) ? short : undefined;
};

const volume = (of: Measured): string => showQuantity({ ...of, errors: [] }, 'mL');
