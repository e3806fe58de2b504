/** A lot that is smaller than its buyer takes. */
import { toPlain } from '../quantity/decimal';
import { uncertainty } from '../quantity/measured';
import { showMass } from '../quantity/show';
import { minimumFor } from '../workspace/selling/offers';
import { rule } from './rule';
import { EXAMPLE_SHIPMENT, EXAMPLE_TERMS } from './settled';

const before = EXAMPLE_SHIPMENT.replace('60.00 g', '15.00 g').replace('ship V1 to quay-refiner\n  in A 60.00 g\n', '');

export const belowMinimum = rule({
  code: 'below-minimum',
  severity: 'warning',
  atOnce: false,
  title: "a lot below its buyer's minimum",
  why: 'A buyer may refuse a lot below the least that its terms take, or settle it at other terms. Melt it together with others first, ask, or keep it until there is enough: `fineweight routes LOT` shows what each would bring.',
  wrong: `${before}ship V1 to quay-refiner\n  in A 15.00 g\n`,
  right: EXAMPLE_SHIPMENT,
  workshop: EXAMPLE_TERMS,
  metal: function* ({ workspace, account: { entry }, look }) {
    const found = minimumFor(workspace, entry);
    if (!found) return;
    const { grams, minimumGrams, party } = found;
    const most = grams.value.toNumber() + look.workshop.limits.coverage * uncertainty(grams);
    if (most >= minimumGrams.toNumber()) return;
    yield {
      place: entry.party?.place ?? entry.name?.place ?? entry.head,
      says: `${showMass(grams)} is less than ${party} takes: ${toPlain(minimumGrams)} g at least. Put it together with other lots, or ask before it goes.`,
    };
  },
});
