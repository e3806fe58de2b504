/** The metal accounts of a workspace: worked out where asked for, and kept as long as the workspace is. */
import { type MetalBalance, metalBalances } from '../engine/accounts/balance';
import { type Metals, metalsOf } from '../engine/accounts/metals';
import { type Ownership, ownersOf } from '../engine/accounts/owners';
import type { Segment } from '../engine/accounts/segments';
import { type Holding, stockOf } from '../engine/accounts/stock';
import type { Step } from '../engine/book';
import type { Workspace } from './workspace';

export interface Accounts {
  readonly metals: Metals;
  readonly owners: (segment: Segment) => Ownership;
  readonly balances: (step: Step) => readonly MetalBalance[];
  /** What is on hand at the end of a day; without a date at the end of the record. */
  readonly stock: (date?: string) => readonly Holding[];
}

const kept = new WeakMap<Workspace, Accounts>();

export const accountsOf = (workspace: Workspace): Accounts => {
  const known = kept.get(workspace);
  if (known) return known;
  const { book, workshop } = workspace;
  const metals = metalsOf(book, workshop);
  const owners = ownersOf(metals.lineage, workshop);
  const accounts: Accounts = {
    metals,
    owners,
    balances: (step) => metalBalances(metals.lineage.passage(step), metals, workshop.limits.coverage),
    stock: (date) => stockOf(book, metals, owners, date),
  };
  kept.set(workspace, accounts);
  return accounts;
};
