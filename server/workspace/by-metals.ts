/** Results for accounts, kept from edit to edit as long as what is known of the metals that they rest on is the same. */
import type { Memo } from '../engine/accounts/memo';
import type { Account } from '../engine/book';
import type { Flow } from '../engine/entry';
import { isSameList } from '../text/lists';
import { madeOf, type TakenOver } from './accounts';
import { isOfCustomer, SELLING, salesOf } from './selling/sales';
import type { Workspace } from './workspace';

interface KeptResult<Value> {
  /** Of the journal in which it was last found to hold. */
  version: number;
  readonly rests: readonly unknown[];
  readonly value: Value;
}

/** Results of one kind for accounts, each with all that it rested on beside what it is kept with. */
export type KeptByMetals<Value> = Memo<object, KeptResult<Value>>;

/** What was made for an account, or made anew where something else is known of its lots than then. */
export const keptByMetals = <Value>(
  kept: KeptByMetals<Value>,
  workspace: Workspace,
  account: Account,
  make: () => Value,
): Value => keptWith(kept, account, workspace, account, make);

/** The same of what does not look at what a step is held against. */
export const keptByWeights = <Value>(
  kept: KeptByMetals<Value>,
  workspace: Workspace,
  account: Account,
  make: () => Value,
): Value => keptWith(kept, account.weighed, workspace, account, make);

const keptWith = <Value>(
  kept: KeptByMetals<Value>,
  key: object,
  workspace: Workspace,
  account: Account,
  make: () => Value,
): Value => {
  const { accounts, version, from } = madeOf(workspace);
  const known = kept.get(key);
  if (known?.version === version) return known.value;
  if (known && known.version === from?.version && !isAbout(account, from, workspace)) {
    known.version = version;
    return known.value;
  }
  const rests = accounts.restsOf(account);
  if (known && isSameList(known.rests, rests)) {
    known.version = version;
    return known.value;
  }
  const value = make();
  kept.set(key, { version, rests, value });
  return value;
};

/**
 * Whether an account may rest on something that is not as it was. What is said of a sample hangs on the last day of the record too, what is said
 * of a stock-take on all lots there are, and what is said of a sale on prices, other sales, and lots that it does not name.
 */
const isAbout = (
  { entry, lots, step }: Account,
  { but, dated, sold, bought }: TakenOver,
  workspace: Workspace,
): boolean => {
  const { verb, name } = entry;
  if (bought) return true;
  if (verb === 'count' || (verb === 'sample' && dated)) return true;
  if (SELLING.has(verb) && (dated || sold)) return true;
  if (but.size === 0) return false;
  if (isOfCustomer(workspace, entry)) return true;
  const sales = salesOf(workspace);
  for (const lot of lots.keys()) if (but.has(lot)) return true;
  if (name && SELLING.has(verb) && [...sales.lotsSettled(name.name), name.name].some((lot) => but.has(lot)))
    return true;
  const isOf = ({ flow: { lot } }: { readonly flow: Flow }): boolean => lot !== undefined && but.has(lot.name);
  return step !== undefined && (step.inputs.some(isOf) || step.outputs.some(isOf));
};
