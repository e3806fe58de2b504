/** Money or an account of a shipment that is older than the shipment. */
import { wordsOf } from '../engine/selling/deal';
import { headOf } from '../workspace/selling/consigned';
import { salesOf } from '../workspace/selling/sales';
import { rule } from './rule';
import { EXAMPLE, EXAMPLE_TERMS } from './settled';

export const paidBeforeShipped = rule({
  code: 'paid-before-shipped',
  severity: 'warning',
  atOnce: false,
  title: 'paid or settled before it was shipped',
  why: 'Metal is settled and paid after it has left. A day before that is misread or miswritten, or it is the wrong shipment; the days that a buyer takes are counted by it. Money paid in advance is written with the day on which the rest came, and a `note`.',
  wrong: `${EXAMPLE}  paid 2026-04-13\n`,
  right: `${EXAMPLE}  paid 2026-05-13\n`,
  workshop: EXAMPLE_TERMS,
  metal: function* ({ workspace, account: { entry } }) {
    const sales = salesOf(workspace);
    const sale = entry.verb === 'settle' ? sales.of(entry) : undefined;
    const name = entry.name?.name;
    const ship = sale && sales.ships.findLast((one) => one.entry.name?.name === name);
    const left = ship && headOf(ship).date;
    if (!sale || left === undefined) return;
    const related = [{ place: headOf(ship!).head, says: 'shipped here' }];
    const { date } = headOf(sale);
    if (date !== undefined && date < left)
      yield {
        place: entry.name!.place,
        says: `${name} is settled on ${date}, before it was shipped on ${left}. Which day is wrong?`,
        related,
      };
    const { paid } = wordsOf(sale.parts);
    const detail = sale.parts.flatMap(({ others }) => others).findLast(({ word }) => word === 'paid');
    if (paid === undefined || !detail || paid >= left) return;
    yield {
      place: detail.place,
      says: `${name} is paid on ${paid}, before it was shipped on ${left}. Which day is wrong?`,
      related,
    };
  },
});
