/** Shipments that nobody has settled at the end of a day, with their metal and its worth. */
import { certain, minus } from '../engine/accounts/inexact';
import type { Entry, Money } from '../engine/entry';
import { termsOn } from '../engine/selling/deal';
import { headOf, openLots } from '../workspace/selling/consigned';
import { type Sale, salesOf } from '../workspace/selling/sales';
import { isOf } from '../workspace/selling/shipments';
import type { Workspace } from '../workspace/workspace';
import type { Choice } from './choice';
import { type Going, goingIn } from './going';
import { type Worth, worthOf } from './worth';

export interface Out {
  readonly head: Entry;
  readonly parts: readonly Entry[];
  /** In which the party agreed to settle. */
  readonly agreedDays: number | undefined;
  readonly party: string | undefined;
  readonly going: readonly Going[];
  readonly worth: Worth | undefined;
  readonly insured: Money | undefined;
  /** What the insurance would not pay, where both are in one currency. */
  readonly open: Worth | undefined;
}

/** As they left: the longest out first. */
export const outOn = (workspace: Workspace, { party: asked }: Choice, day: string): readonly Out[] => {
  const sales = salesOf(workspace);
  return sales.ships.flatMap((sale: Sale): readonly Out[] => {
    const head = headOf(sale);
    const party = head.party?.name;
    const left = head.date ?? '';
    const role = party === undefined ? undefined : workspace.workshop.parties.get(party)?.role;
    if (left > day || role === 'customer' || (asked !== undefined && party !== asked)) return [];
    const waiting = new Set(openLots(sales, sale, day));
    // What is theirs went home, as silver that was lent: nobody settles it.
    const going = goingIn(workspace, sale.parts).filter(
      ({ flow: { lot }, segment }) =>
        waiting.has(lot!.name) && !(segment && isOf(workspace, { lot: lot!.name, segment, grams: undefined }, party)),
    );
    if (going.length === 0) return [];
    const worth = worthOf(
      workspace,
      day,
      going.flatMap(({ fine }) => fine),
    );
    const insured = sale.parts.findLast(({ said }) => said.insured)?.said.insured;
    const { days } = termsOn(party === undefined ? undefined : workspace.workshop.parties.get(party), left) ?? {};
    return [
      { head, parts: sale.parts, agreedDays: days, party, going, worth, insured, open: leftOpen(worth, insured) },
    ];
  });
};

const leftOpen = (worth: Worth | undefined, insured: Out['insured']): Worth | undefined => {
  if (!worth || (insured && insured.currency !== worth.currency)) return undefined;
  const open = minus(worth.money, certain(insured?.digits.value.toNumber() ?? 0));
  return open.value > 0 ? { money: open, currency: worth.currency } : undefined;
};
