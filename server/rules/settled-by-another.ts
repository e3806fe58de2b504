/** A settlement by somebody else than the one who got the metal. */
import { billOf } from '../workspace/selling/bills';
import { headOf, lotsIn, settledWith, shipmentOf } from '../workspace/selling/consigned';
import { salesOf } from '../workspace/selling/sales';
import { rule } from './rule';
import { EXAMPLE, EXAMPLE_TERMS } from './settled';

export const settledByAnother = rule({
  code: 'settled-by-another',
  severity: 'warning',
  atOnce: false,
  title: 'settled by another than it was shipped to',
  why: 'Who got the metal settles it, by the terms that were agreed with them. Another name is a slip of the pen, or the settlement of another shipment: it would be judged by the wrong terms and stand in the wrong record. Where a lot was sent on, write the `ship` that took it there.',
  wrong: EXAMPLE.replace('settle V1', 'settle V1 with moor-refiner'),
  right: EXAMPLE.replace('settle V1', 'settle V1 with quay-refiner'),
  workshop: `${EXAMPLE_TERMS}  moor-refiner: refiner\n`,
  metal: function* ({ workspace, account: { entry }, accounts }) {
    const sales = salesOf(workspace);
    const sale = entry.verb === 'settle' ? sales.of(entry) : undefined;
    const head = sale && headOf(sale);
    const ship = head?.name && shipmentOf(sales, head.name.name);
    const to = ship && headOf(ship).party?.name;
    const by = sale && settledWith(sales, sale);
    if (!head?.party || to === undefined || by === to || billOf(workspace, entry)) return;
    const { name } = head.name!;
    // What came back, as from a laboratory, is with them no more.
    const there = lotsIn(accounts.metals.lineage, ship!);
    if (!there.some(({ lot }) => lot === name || ship!.entry.name?.name === name)) return;
    yield {
      place: head.party.place,
      says: `${name} went to ${to}, and this settles it with ${by}. Which of the two is wrong?`,
      related: [{ place: headOf(ship!).party!.place, says: `shipped here to ${to}` }],
    };
  },
});
