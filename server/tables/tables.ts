/** Every table of the export, in the order in which they refer to each other. */
import type { Workspace } from '../workspace/workspace';
import { balances, findings, sales } from './judged';
import { keysOf } from './keys';
import { assays, contents, cupels, lots, metalLosses, movements } from './metals';
import { corrections, days, entries } from './record';
import type { TableSource, TidyTable } from './schema';
import { flows, readings } from './weights';

export const TABLES: readonly TidyTable[] = [
  days,
  entries,
  corrections,
  lots,
  flows,
  readings,
  assays,
  contents,
  movements,
  cupels,
  metalLosses,
  balances,
  findings,
  sales,
];

export const sourceOf = (workspace: Workspace, shop: string): TableSource => ({
  shop,
  workspace,
  keys: keysOf(workspace),
});
