/** A party's record: every settlement and sale that the journal has with it, by currency. */

import { type Dealing, type PartyRecord, recordOf } from '../../engine/selling/record';
import type { Workspace } from '../workspace';
import { fullOf } from './dealt';
import { openOwed } from './differences';
import { salesOf } from './sales';
import { type Settlement, settlementsIn } from './settlements';
import { soldOf } from './sold';

export interface RecordInCurrency {
  readonly party: string;
  readonly currency: string;
  readonly record: PartyRecord;
}

/** One for each currency that they paid in; none where nothing was settled or sold. */
export const recordsOf = (workspace: Workspace, party: string): readonly RecordInCurrency[] => {
  const found: { readonly currency: string; readonly dealing: Dealing }[] = [
    ...settlementsIn(workspace)
      .filter((one) => one.party === party)
      .map((one) => ({ currency: one.currency, dealing: settled(workspace, one) })),
    ...salesOf(workspace).sells.flatMap(({ entry }) => {
      const sold = entry.party?.name === party ? soldOf(workspace, entry) : undefined;
      if (!sold) return [];
      const dealing: Dealing = {
        name: sold.lot.lot,
        date: sold.date,
        weightGrams: undefined,
        goldShare: undefined,
        days: undefined,
        agreedDays: undefined,
        paid: sold.paid.amount.toNumber(),
        paidOn: sold.date,
        full: sold.full?.value,
        owed: undefined,
      };
      return [{ currency: sold.paid.currency, dealing }];
    }),
  ];
  return [...new Set(found.map(({ currency }) => currency))].map((currency) => ({
    party,
    currency,
    record: recordOf(
      found
        .filter((one) => one.currency === currency)
        .map(({ dealing }) => dealing)
        .sort((a, b) => (a.date < b.date ? -1 : a.date > b.date ? 1 : 0)),
    ),
  }));
};

const settled = (workspace: Workspace, of: Settlement): Dealing => {
  const { grams, received, own, checked } = of;
  const [ours, theirs] = [own.get('Au')?.share.value, of.theirs.get('Au')?.toNumber()];
  return {
    name: of.name,
    date: of.settledOn,
    weightGrams: grams && received ? grams.value.minus(received.value).toNumber() : undefined,
    goldShare: ours !== undefined && theirs !== undefined ? ours - theirs : undefined,
    days: of.paidOn === undefined ? undefined : of.daysTaken,
    agreedDays: of.terms?.days,
    paid: checked.stated.amount.toNumber(),
    paidOn: of.paidOn,
    full: fullOf(of)?.value,
    // What is off by rounding alone is owed by nobody, nor what was accepted.
    owed: openOwed(workspace, of).amount.toNumber(),
  };
};
