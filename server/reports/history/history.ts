/** The look back: every table of it, in the order in which they are read. */
import { type Done, GROUPINGS, type Grouping } from '../../engine/longview/done';
import { metalRunning } from '../../engine/longview/running';
import { chartSettings } from '../../engine/longview/series';
import type { Limits } from '../../engine/workshop';
import { longViewOf } from '../../workspace/long-view';
import type { Workspace } from '../../workspace/workspace';
import type { Table } from '../table';
import { assayTable } from './assays';
import { crucibleTable } from './crucibles';
import { lossTable, recoveryTable } from './groups';
import { limitsTable } from './limits';
import { recipeTable } from './recipes';
import { runningTable } from './running';
import { taughtTable } from './taught';

export { GROUPINGS, type Grouping };

/** What can be asked for alone. */
export const PARTS = ['losses', 'recovery', 'limits', 'taught', 'recipes', 'assays', 'running', 'crucibles'] as const;
export type Part = (typeof PARTS)[number];

export interface HistoryQuestion {
  readonly by: Grouping;
  readonly metals: readonly string[];
  /** From the beginning of one day to the end of another. */
  readonly from?: string | undefined;
  readonly to?: string | undefined;
  /** All parts without it. */
  readonly part?: Part | undefined;
  /** Over what the workshop states. */
  readonly limits?: Partial<Pick<Limits, 'cusumSlack' | 'cusumLimit' | 'ewmaWeight'>>;
}

export const stepsOf = (workspace: Workspace, { from, to }: Pick<HistoryQuestion, 'from' | 'to'>): readonly Done[] =>
  longViewOf(workspace)
    .done()
    .filter(({ date }) => date >= (from ?? '') && (to === undefined || date <= to));

export const historyTables = (workspace: Workspace, question: HistoryQuestion): readonly Table[] => {
  const { by, metals, part } = question;
  const done = stepsOf(workspace, question);
  const view = longViewOf(workspace);
  const { limits } = workspace.workshop;
  const stated = Object.fromEntries(Object.entries(question.limits ?? {}).filter(([, value]) => value !== undefined));
  const settings = chartSettings({ ...limits, ...stated });
  const made: Readonly<Record<Part, () => readonly Table[]>> = {
    losses: () => [lossTable(done, by)],
    recovery: () => metals.map((metal) => recoveryTable(done, by, metal)),
    limits: () => [limitsTable(done, settings)],
    taught: () => [taughtTable(done)],
    recipes: () => metals.slice(0, 1).map((metal) => recipeTable(done, metal)),
    assays: () => [assayTable(view.comparisons().filter(({ metal }) => metals.includes(metal)))],
    running: () =>
      metals.map((metal) => runningTable(metalRunning(metal, done, settings, limits.coverage), limits.coverage)),
    crucibles: () => [crucibleTable(view.crucibles())],
  };
  return PARTS.filter((one) => part === undefined || one === part).flatMap((one) => made[one]());
};
