/** Every kind of document. A new one is a file in `kinds`, and a line here. */
import { asOwner, nobodySays } from '../workspace/parties';
import type { Workspace } from '../workspace/workspace';
import { type Choice, Refused } from './choice';
import { withCorrections } from './corrections';
import { assayComparison } from './kinds/assay-comparison';
import { barRegister } from './kinds/bar-register';
import { consumables } from './kinds/consumables';
import { dayPage } from './kinds/day-page';
import type { Kind } from './kinds/kind';
import { lossReport } from './kinds/loss-report';
import { lotHistory } from './kinds/lot-history';
import { meltSheet } from './kinds/melt-sheet';
import { metalAccount } from './kinds/metal-account';
import { purchaseRecord } from './kinds/purchase-record';
import { recipes } from './kinds/recipes';
import { shipment } from './kinds/shipment';
import { stockTake } from './kinds/stock-take';
import { tollStatement } from './kinds/toll-statement';
import { tradingAccount } from './kinds/trading-account';
import { underWay } from './kinds/under-way';
import type { Document } from './model';

export const KINDS: readonly Kind[] = [
  meltSheet,
  lotHistory,
  stockTake,
  metalAccount,
  lossReport,
  assayComparison,
  tollStatement,
  barRegister,
  shipment,
  underWay,
  purchaseRecord,
  tradingAccount,
  consumables,
  recipes,
  dayPage,
];

export const kindNamed = (code: string): Kind | undefined => KINDS.find((kind) => kind.code === code);

/** Throws Refused where it cannot be made of what was asked for. */
export const documentOf = (kind: Kind, workspace: Workspace, asked: Choice): Document => {
  const choice = asked.owner === undefined ? asked : { ...asked, owner: asOwner(workspace, asked.owner) };
  for (const name of [choice.party, choice.owner]) {
    const nobody = name === undefined ? undefined : nobodySays(workspace, name);
    if (nobody) throw new Refused(nobody);
  }
  return { kind: kind.code, ...withCorrections(kind, workspace, choice, kind.make(workspace, choice)) };
};
