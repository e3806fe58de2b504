/** Selling: what is offered for a lot, what a shipment is worth, whether a settlement agrees, what was paid of the metal. */
import { billLabel } from '../../reports/selling/bill';
import { settledLabel } from '../../reports/selling/settled';
import { tollLabel } from '../../reports/selling/toll';
import { isWhole, offerLabel, shipmentLabel, soldLabel } from '../../reports/selling/worth';
import { billOf } from '../../workspace/selling/bills';
import { offerOf, shipmentWorth } from '../../workspace/selling/offers';
import { SELLING, salesOf } from '../../workspace/selling/sales';
import { settlementOf } from '../../workspace/selling/settlements';
import { soldOf } from '../../workspace/selling/sold';
import { tollOf } from '../../workspace/selling/tolls';
import { sellingMarkdown } from '../selling';
import { type Draft, RANK, type Subject } from './draft';

/** Nothing can be told while pages are still to come: prices and terms may stand on any. */
export const sellingDrafts = ({ workspace, account: { entry } }: Subject): readonly Draft[] => {
  const label = workspace.whole && SELLING.has(entry.verb) ? labelOf(workspace, entry) : undefined;
  if (label === undefined) return [];
  return [
    {
      at: entry.verbPlace,
      label,
      tooltip: (now) => sellingMarkdown(now, entry) ?? '',
      family: 'selling',
      rank: RANK.balance,
    },
  ];
};

const labelOf = (workspace: Subject['workspace'], entry: Subject['entry']): string | undefined => {
  if (entry.verb === 'settle') {
    if (salesOf(workspace).settledBefore(entry)) return 'settled before: not counted';
    const settlement = settlementOf(workspace, entry);
    if (settlement) return settledLabel(settlement);
    const bill = billOf(workspace, entry);
    return bill && billLabel(bill);
  }
  if (entry.verb === 'offer') {
    const offer = offerOf(workspace, entry);
    return offer && offerLabel(offer);
  }
  if (entry.verb === 'sell') {
    const sold = soldOf(workspace, entry);
    return sold && isWhole(sold.worth) ? soldLabel(sold) : undefined;
  }
  const worth = entry.verb === 'ship' ? shipmentWorth(workspace, entry) : undefined;
  if (worth) return worth.by === 'terms' ? shipmentLabel(worth) : undefined;
  const toll = entry.verb === 'ship' && entry.name ? tollOf(workspace, entry.name.name) : undefined;
  return toll && tollLabel(toll);
};
