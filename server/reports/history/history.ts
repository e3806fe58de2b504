/** The look back: every table of it, in the order in which they are read. */
import { livesUntil } from '../../engine/longview/crucibles';
import { type Done, GROUPINGS, type Grouping } from '../../engine/longview/done';
import type { Comparison } from '../../engine/longview/pairs';
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

type Period = Pick<HistoryQuestion, 'from' | 'to'>;

const within = ({ date }: { readonly date: string }, { from, to }: Period): boolean =>
  date >= (from ?? '') && (to === undefined || date <= to);

export const stepsOf = (workspace: Workspace, period: Period): readonly Done[] =>
  longViewOf(workspace)
    .done()
    .filter((one) => within(one, period));

/** Pairs of assays by the day of the other's. */
export const comparisonsOf = (workspace: Workspace, period: Period): readonly Comparison[] =>
  longViewOf(workspace)
    .comparisons()
    .map((one) => ({ ...one, pairs: one.pairs.filter((pair) => within(pair, period)) }))
    .filter(({ pairs }) => pairs.length > 0);

export const historyTables = (workspace: Workspace, question: HistoryQuestion): readonly Table[] => {
  const { by, metals, part } = question;
  const done = stepsOf(workspace, question);
  const { limits } = workspace.workshop;
  const stated = Object.fromEntries(Object.entries(question.limits ?? {}).filter(([, value]) => value !== undefined));
  const settings = chartSettings({ ...limits, ...stated });
  const made: Readonly<Record<Part, () => readonly Table[]>> = {
    losses: () => [lossTable(done, by)],
    recovery: () => metals.map((metal) => recoveryTable(done, by, metal)),
    limits: () => [limitsTable(done, settings)],
    taught: () => [taughtTable(done)],
    recipes: () => metals.slice(0, 1).map((metal) => recipeTable(done, metal)),
    assays: () => [assayTable(comparisonsOf(workspace, question).filter(({ metal }) => metals.includes(metal)))],
    running: () =>
      metals.map((metal) => runningTable(metalRunning(metal, done, settings, limits.coverage), limits.coverage)),
    crucibles: () => [crucibleTable(livesUntil(longViewOf(workspace).crucibles(), question.to))],
  };
  return PARTS.filter((one) => part === undefined || one === part).flatMap((one) => made[one]());
};
