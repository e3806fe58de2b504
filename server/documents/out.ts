/** Shipments that nobody has settled at the end of a day, with their metal and its worth. */
import { certain, minus } from '../engine/accounts/inexact';
import { memo } from '../engine/accounts/memo';
import type { Entry, Money } from '../engine/entry';
import { termsOn } from '../engine/selling/deal';
import { headOf, openLots } from '../workspace/selling/consigned';
import { type Sale, salesOf } from '../workspace/selling/sales';
import { isOf } from '../workspace/selling/shipments';
import type { Workspace } from '../workspace/workspace';
import type { Choice } from './choice';
import { type Going, goingIn } from './going';
import { type Worth, worthOf } from './worth';

export interface Waiting {
  readonly head: Entry;
  readonly parts: readonly Entry[];
  /** In which the party agreed to settle. */
  readonly agreedDays: number | undefined;
  readonly party: string | undefined;
  readonly going: readonly Going[];
}

export interface Out extends Waiting {
  readonly worth: Worth | undefined;
  readonly insured: Money | undefined;
  /** What the insurance would not pay, where both are in one currency. */
  readonly open: Worth | undefined;
}

/** As they left: the longest out first. */
export const outOn = (workspace: Workspace, choice: Choice, day: string): readonly Out[] =>
  waitingOn(workspace, choice, day).map((one): Out => {
    const worth = worthOf(
      workspace,
      day,
      one.going.flatMap(({ fine }) => fine),
    );
    const insured = one.parts.findLast(({ said }) => said.insured)?.said.insured;
    return { ...one, worth, insured, open: leftOpen(worth, insured) };
  });

/** The same without its worth. */
export const waitingOn = (workspace: Workspace, { party: asked }: Choice, day: string): readonly Waiting[] => {
  const { workshop } = workspace;
  const sales = salesOf(workspace);
  const found: Waiting[] = [];
  for (const sale of sales.ships) {
    const head = headOf(sale);
    const party = head.party?.name;
    const left = head.date ?? '';
    const open = left > day ? [] : openLots(sales, sale, day);
    if (open.length === 0) continue;
    const known = party === undefined ? undefined : workshop.parties.get(party);
    if (known?.role === 'customer' || (asked !== undefined && party !== asked)) continue;
    const going = goingWith(workspace, sale, party).filter(({ flow: { lot } }) => open.includes(lot!.name));
    const agreedDays = termsOn(known, left)?.days;
    if (going.length > 0) found.push({ head, parts: sale.parts, agreedDays, party, going });
  }
  return found;
};

const went = memo<Workspace, Map<Entry, readonly Going[]>>();

/**
 * Kept with the workspace: it is the same whatever day is asked for. What is the other party's own went home, as silver that was lent: nobody
 * settles it.
 */
const goingWith = (workspace: Workspace, { entry, parts }: Sale, party: string | undefined): readonly Going[] => {
  const ofShipments = went.get(workspace) ?? new Map<Entry, readonly Going[]>();
  went.set(workspace, ofShipments);
  const known = ofShipments.get(entry);
  if (known) return known;
  const going = goingIn(workspace, parts).filter(
    ({ flow, segment }) => !(segment && isOf(workspace, { lot: flow.lot!.name, segment, grams: undefined }, party)),
  );
  ofShipments.set(entry, going);
  return going;
};

const leftOpen = (worth: Worth | undefined, insured: Out['insured']): Worth | undefined => {
  if (!worth || (insured && insured.currency !== worth.currency)) return undefined;
  const open = minus(worth.money, certain(insured?.digits.value.toNumber() ?? 0));
  return open.value > 0 ? { money: open, currency: worth.currency } : undefined;
};
