/** Rules about a settlement: each tells some of its lines, where they do not agree. */
import type { Subject } from '../engine/selling/stated';
import { lineSays } from '../reports/selling/lines';
import { headOf } from '../workspace/selling/consigned';
import { salesOf } from '../workspace/selling/sales';
import { settlementOf } from '../workspace/selling/settlements';
import type { Related, Rule, RulePage } from './rule';

/** `page` gives severity and examples; `subjects` are the lines that it tells. */
export const settledRule = (subjects: readonly Subject[], page: RulePage): Rule => ({
  ...page,
  metal: function* ({ workspace, account: { entry } }) {
    const settlement = settlementOf(workspace, entry);
    // A second account of the same is not counted, and that is told.
    if (!settlement || salesOf(workspace).settledBefore(entry)) return;
    const { ship } = settlement.consignment;
    const related: Related[] = ship
      ? [{ place: headOf(ship).head, says: `shipped here${settlement.party ? ` to ${settlement.party}` : ''}` }]
      : [];
    for (const line of settlement.checked.lines) {
      if (line.verdict !== 'differs' || !subjects.includes(line.subject)) continue;
      const named: Related[] = line.slip?.place
        ? [{ place: line.slip.place, says: `${line.slip.line} is written here` }]
        : [];
      const offered: Related[] =
        line.subject === 'offer' || (settlement.byOffer && subjects.includes('pays'))
          ? settlement.offers.map(({ place, lot }) => ({ place, says: `${lot.lot} was offered for here` }))
          : [];
      yield {
        place: line.place ?? entry.head,
        says: lineSays(settlement, line),
        related: [...named, ...offered, ...related],
      };
    }
  },
});

/** Terms that the examples rest on. */
export const EXAMPLE_TERMS = `parties:
  quay-refiner:
    role: refiner
    terms:
      2026-01-01:
        pays: { Au: 98 %, Ag: 90 % }
        charges: { melting: 45.00 USD }
        splitting: { Au: 0.2 %, Ag: 1 % }
        melt loss: 0.3 %
        minimum: 20 g
        days: 14 days
        price day: settled
`;

/** A shipment and what comes before it. */
export const EXAMPLE_SHIPMENT = `2026-05-04
receive A 60.00 g
assay A by fire, corrected
  Au 91.60 %, Ag 6.00 %
quote Au 2480.00 USD/ozt
quote Ag 29.00 USD/ozt
ship V1 to quay-refiner
  in A 60.00 g
`;

/** Its settlement, a week later, which agrees. */
export const EXAMPLE_SETTLEMENT = `2026-05-11
quote Au 2500.00 USD/ozt
quote Ag 29.50 USD/ozt
settle V1
  received 60.00 g, melted 59.90 g
  Au 91.55 %, Ag 6.0 %
  pays Au 98 %, price Au 2500.00 USD/ozt
  pays Ag 90 %, price Ag 29.50 USD/ozt
  charge melting 45.00 USD
  total 4277.66 USD
`;

/** The example with one of its lines changed, and its total with it. */
export const exampleWith = (line: string, changed: string, total?: string): string => {
  const page = `${EXAMPLE_SHIPMENT}${EXAMPLE_SETTLEMENT}`.replace(line, changed);
  return total === undefined ? page : page.replace('total 4277.66 USD', `total ${total} USD`);
};

export const EXAMPLE = `${EXAMPLE_SHIPMENT}${EXAMPLE_SETTLEMENT}`;
