/** Metal that came back in place of money, and is less or more than was settled. */
import { givenBackSays } from '../reports/selling/settled';
import { salesOf } from '../workspace/selling/sales';
import { settlementOf } from '../workspace/selling/settlements';
import { rule } from './rule';
import { EXAMPLE_TERMS } from './settled';

const page = (grams: string): string => `2026-05-04
receive A 60.00 g
assay A by fire, corrected
  Au 91.60 %
ship V1 to quay-refiner
  in A 60.00 g
2026-05-11
settle V1
  received 60.00 g, Au 91.60 %, pays Au 98 %, returns Au 53.86 g
2026-05-14
receive G1 from quay-refiner
  ${grams} g
assay G1 by fire, corrected
  Au 99.95 ±0.02 % expanded
more settle V1
  returned G1
`;

export const returnedDiffers = rule({
  code: 'returned-differs',
  severity: 'warning',
  atOnce: false,
  title: 'metal that came back and is not what was settled',
  why: 'Metal that a buyer gives back in place of money is due until it is weighed in. The lots that `returned` names are held against what the settlement says: by their weight and assay, or by their weight alone where that is already less. What is missing stays due, in `fineweight unfinished` too; name each further lot with a `returned` of its own.',
  // 51.80 × 0.9995 = 51.77; 53.89 × 0.9995 = 53.86.
  wrong: page('51.80'),
  right: page('53.89'),
  workshop: `shop: { currency: USD }
${EXAMPLE_TERMS.replace('        charges: { melting: 45.00 USD }\n', '')}`,
  source: 'beyond twice the standard uncertainty (GUM), and beyond the last digit that was written',
  metal: function* ({ workspace, account: { entry } }) {
    const settlement = settlementOf(workspace, entry);
    if (!settlement || salesOf(workspace).settledBefore(entry)) return;
    for (const one of settlement.back) {
      if (!one.weighedIn || one.dueGrams.isZero()) continue;
      yield { place: one.place, says: givenBackSays(settlement.words, settlement.party, one) };
    }
  },
});
