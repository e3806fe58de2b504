/** A fire assay whose weights say something else than its result. */
import { fromBead, shareOf } from '../engine/accounts/assays';
import { showPercent } from '../quantity/show';
import { rule } from './rule';

/** Corrected by proofs, a result may be so far from its own weights: a hundredth of itself and a thousandth of the whole; from memory. */
const OF_ITSELF = 0.01;
const OF_WHOLE = 0.001;

export const assayArithmetic = rule({
  code: 'assay-arithmetic',
  severity: 'warning',
  atOnce: false,
  title: "a result that the assay's own weights do not give",
  why: 'The gold of a fire assay is its cornet over what was taken. Where the figure written is another, a weight or the result is a slip, or it belongs to another sample. A correction by proofs moves it by a few thousandths at most.',
  wrong: '2026-05-04\nreceive A 20.00 g\nassay A by fire\n  took 250.0 mg, bead 200.0 mg, cornet 187.5 mg\n  Au 58.5 %',
  right: '2026-05-04\nreceive A 20.00 g\nassay A by fire\n  took 250.0 mg, bead 200.0 mg, cornet 146.2 mg\n  Au 58.5 %',
  source: 'cornet ÷ taken, by definition of a fire assay',
  entry: function* ({ entry }) {
    if (entry.verb !== 'assay' || entry.readings.length === 0) return;
    for (const [metal, told] of fromBead(entry)) {
      const amount = entry.readings[0]!.reading.metals.find(({ symbol }) => symbol.name === metal)?.amount;
      const written = amount && shareOf(amount)[0]?.value;
      if (metal !== 'Au' || !amount || written === undefined || !told.share) continue;
      const apart = Math.abs(written - told.share.value);
      if (apart <= OF_ITSELF * told.share.value + OF_WHOLE) continue;
      yield {
        place: amount.place,
        says: `Cornet over what was taken is ${showPercent(told.share.value, 0.0001)}, not ${showPercent(written, 0.0001)}. Look at the weights again, and whose sample it was.`,
      };
    }
  },
});
