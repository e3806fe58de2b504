/** What was shipped to whom, and what was sold of hand: the lots with their weights as they left. */

import { segmentsOf } from '../../engine/accounts/segments';
import type { LotEvent } from '../../engine/book';
import type { Entry } from '../../engine/entry';
import { accountsOf } from '../accounts';
import type { Workspace } from '../workspace';
import { lotsIn } from './consigned';
import type { LotKnown } from './known';
import { type Sale, salesOf } from './sales';

/** The lots of a shipment as they left; what came back is not among them. */
export const lotsShipped = (workspace: Workspace, sale: Sale): readonly LotKnown[] =>
  lotsIn(accountsOf(workspace).metals.lineage, sale);

/** Whose a lot was besides the shop, before any bill that bought it. */
export const firstOthersOf = (workspace: Workspace, { segment }: LotKnown): readonly string[] => {
  const accounts = accountsOf(workspace);
  return accounts.namesOf(accounts.owners(segment)).filter((owner) => owner !== accounts.shop);
};

/** Whose a lot is besides the shop, once all bills are written. */
export const othersOf = (workspace: Workspace, { segment }: LotKnown): readonly string[] => {
  const accounts = accountsOf(workspace);
  return accounts.namesOf(accounts.ownedOn(segment)).filter((owner) => owner !== accounts.shop);
};

/** It is theirs alone: it goes back to them, and is not sold. */
export const isOf = (workspace: Workspace, lot: LotKnown, party: string | undefined): boolean => {
  const accounts = accountsOf(workspace);
  const owners = accounts.namesOf(accounts.owners(lot.segment));
  return owners.length > 0 && owners.every((owner) => owner === party);
};

/** A lot as an entry that only speaks of it finds it: what was left of it then, or last. */
export const lotAt = (workspace: Workspace, lot: string, entry: Entry): LotKnown | undefined => {
  const segment = accountsOf(workspace).metals.lineage.segmentAt(lot, entry);
  const event = segment?.events.findLast((one) => one.entry === entry);
  if (!segment || segment.story.births.length === 0) return undefined;
  const gone = event?.after?.value.isZero() ?? false;
  return { lot, segment, grams: gone ? (event?.weight.mass ?? event?.before) : (event?.after ?? event?.before) };
};

/** A lot as it last left the shop, else as it lies there. */
const lotSettled = (workspace: Workspace, name: string): LotKnown | undefined => {
  const story = workspace.book.lot(name);
  const left = story?.events.findLast(({ kind }) => LEAVING.has(kind));
  const segment = left ? segmentsOf(story!).all.find(({ events }) => events.includes(left)) : undefined;
  if (left && segment) return { lot: name, segment, grams: left.weight.mass ?? left.before };
  const last = story && story.births.length > 0 ? segmentsOf(story).all.at(-1) : undefined;
  return last && { lot: name, segment: last, grams: story!.left };
};

const LEAVING: ReadonlySet<LotEvent['kind']> = new Set(['shipped', 'sold']);

export interface Consignment {
  /** None where a lot is settled that was not shipped under a name of its own. */
  readonly ship: Sale | undefined;
  readonly lots: readonly LotKnown[];
}

/** What a settlement, or a name, speaks of: a shipment, or one lot. */
export const consignmentOf = (workspace: Workspace, name: string): Consignment | undefined => {
  const ship = salesOf(workspace).shipNamed(name);
  if (ship) return { ship, lots: lotsShipped(workspace, ship) };
  const lot = lotSettled(workspace, name);
  return lot && { ship: salesOf(workspace).shipOfLot(name), lots: [lot] };
};
