/** What others charged for carrying a lot or for testing it: `charge` of a shipment and of an assay, by its word. */

import { type Money, roundMoney } from '../../quantity/money';
import type { Workspace } from '../../workspace/workspace';
import type { Choice } from '../choice';
import { entriesWithin } from '../entries';

export interface Bills {
  /** `freight`, `umpire`. */
  readonly word: string;
  readonly money: Money;
  readonly count: number;
}

const CHARGING: ReadonlySet<string> = new Set(['ship', 'assay']);

/** In one currency, each word once; and the names of entries whose charge is not plain money of it. */
export const billsOf = (
  workspace: Workspace,
  choice: Choice,
  convert: (money: Money) => Money | undefined,
): { readonly bills: readonly Bills[]; readonly leftOut: readonly string[] } => {
  const byWord = new Map<string, Bills>();
  const leftOut: string[] = [];
  for (const { verb, name, others } of entriesWithin(workspace, choice)) {
    if (!CHARGING.has(verb)) continue;
    for (const { word, names, money } of others) {
      if (word !== 'charge') continue;
      const charged =
        money && !money.per ? convert({ amount: money.digits.value, currency: money.currency }) : undefined;
      if (!charged) {
        leftOut.push(`${verb} ${name?.name ?? ''}`.trim());
        continue;
      }
      const label = names[0]?.name ?? 'charge';
      const so = byWord.get(label);
      const sum = so ? so.money.amount.plus(charged.amount) : charged.amount;
      byWord.set(label, { word: label, money: roundMoney({ ...charged, amount: sum }), count: (so?.count ?? 0) + 1 });
    }
  }
  return { bills: [...byWord.values()], leftOut: [...new Set(leftOut)] };
};
