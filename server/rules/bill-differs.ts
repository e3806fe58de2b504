/** A customer's bill that tells another figure than the journal. */
import { billLineSays } from '../reports/selling/bill';
import { billOf } from '../workspace/selling/bills';
import { rule } from './rule';

const before = `2026-05-04
receive H from high-fell
  60.00 g
assay H by fire, corrected
  Au 70.00 %
melt M1
  in H
  out B 59.90 g bar
settle H
  received 60.00 g, pays Au 98 %
  charge toll TOLL USD
  total TOLL USD, paid 2026-05-04
`;

export const billDiffers = rule({
  code: 'bill-differs',
  severity: 'warning',
  atOnce: false,
  title: "a customer's bill that tells another figure than the journal",
  why: 'The bill of work on a customer’s metal is written as `settle` of the lot that came in, or of the shipment that takes it back. Its weights and its assay are held against the journal as it stands, the share that goes back and the charges against the terms, the total against its lines. A figure that was corrected after the bill went out differs from it: the customer was told one number and is owed another. Put right the journal or the bill, and give it out anew.',
  wrong: before.replaceAll('TOLL', '60.00'),
  right: before.replaceAll('TOLL', '66.00'),
  workshop: `parties:
  high-fell:
    role: customer
    terms:
      2026-01-01:
        pays: { Au: 98 % }
        charges: { toll: 1.10 USD/g of received }
`,
  metal: function* ({ workspace, account: { entry } }) {
    const bill = billOf(workspace, entry);
    for (const line of bill?.lines ?? []) {
      if (line.verdict !== 'differs') continue;
      const lot = bill!.toll.lots[0]!.segment.start.place;
      yield {
        place: line.place ?? entry.head,
        says: billLineSays(bill!, line),
        related: [{ place: lot, says: `${bill!.toll.lots[0]!.lot} came in here` }],
      };
    }
  },
});
