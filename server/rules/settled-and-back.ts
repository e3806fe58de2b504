/** A settlement of metal that came back. */
import { headOf, lotsIn, settledWith, shipmentOf } from '../workspace/selling/consigned';
import { salesOf } from '../workspace/selling/sales';
import { rule } from './rule';
import { EXAMPLE, EXAMPLE_TERMS } from './settled';

export const settledAndBack = rule({
  code: 'settled-and-back',
  severity: 'warning',
  atOnce: false,
  title: 'settled, and came back',
  why: '`back LOT` says that the lot itself came back: nothing of it is left with them to be paid. Where they kept a part, take in what came back by `receive`, under a name of its own: then the shipment is what they settle.',
  wrong: EXAMPLE.replace('  in A 60.00 g', '  in A 60.00 g\n  back A 60.00 g'),
  right: EXAMPLE,
  workshop: EXAMPLE_TERMS,
  metal: function* ({ workspace, account: { entry }, accounts }) {
    const sales = salesOf(workspace);
    const sale = entry.verb === 'settle' ? sales.of(entry) : undefined;
    const { name } = sale ? headOf(sale) : {};
    const ship = name && shipmentOf(sales, name.name);
    const party = sale && settledWith(sales, sale);
    if (!ship || party !== headOf(ship).party?.name || lotsIn(accounts.metals.lineage, ship).length > 0) return;
    const back = ship.parts.flatMap(({ flows }) => flows).find(({ word, lot }) => word === 'back' && lot);
    if (!back) return;
    yield {
      place: name.place,
      says: `${back.lot!.name} came back from ${headOf(ship).party?.name ?? 'them'}: nothing of it is left to settle. Where they kept a part, \`receive\` what came back under a name of its own.`,
      related: [{ place: back.place, says: 'came back here' }],
    };
  },
});
