/** Plans of a page, as lines. */
import { answersOf, type Plan, planOf, plansOn } from '../../server/advice/plans';
import type { Section } from '../../server/syntax/tree';
import type { Workspace } from '../../server/workspace/workspace';
import { pageWorkspace } from './workspace';

const FILE = 'page.melt';

export const planIn = (workspace: Workspace, index = 0): Plan => planOf(workspace, plansOn(workspace, FILE)[index]!)!;

/** What a plan leaves out, as it would be written: whole lines, or amounts of lines that have none. */
export const writtenIn = (page: string, workshop?: string, index = 0): string[] =>
  planIn(pageWorkspace(page, workshop), index).written.map(({ writing }) =>
    'line' in writing ? writing.line : writing.amount,
  );

/** The way to one answer of a plan: its sentence, its rows, what it takes for granted. */
export const wayOf = (page: string, topic: string, workshop?: string, index = 0): string => {
  const plan = planIn(pageWorkspace(page, workshop), index);
  const answer = answersOf(plan)
    .findLast((one) => one.topic === topic)
    ?.working();
  if (!answer) return '';
  const { says, rows = [], assumed, todo } = answer;
  return [says, ...rows, ...assumed.map((one) => `${one.says} (${one.source})`), todo ?? ''].join('\n');
};

/** The page with each plan made whole, still a plan. */
export const madeWhole = (page: string, workshop?: string): string => {
  const workspace = pageWorkspace(page, workshop);
  return plansOn(workspace, FILE).reduce((text, entry) => {
    const plan = planOf(workspace, entry)!;
    const section = entry.anchor as Section;
    return text.replace(section.text, () => `plan ${plan.filled.text}`);
  }, page);
};
