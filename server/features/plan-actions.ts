/** What can be done with a plan: write in what is worked out, or turn it into the done entry. */
import { doneText } from '../advice/done';
import { filled } from '../advice/fill';
import { answersOf, type Plan, planOf } from '../advice/plans';
import type { Section } from '../syntax/tree';
import { overlaps, type Span } from '../text/span';
import type { Workspace } from '../workspace/workspace';
import type { LocatedEdit } from './fixes';

export interface PlanAction {
  readonly title: string;
  readonly edits: readonly LocatedEdit[];
  /** The next thing to do with it. */
  readonly preferred: boolean;
}

/** Of the plans that a range of a file touches. */
export const planActionsAt = (workspace: Workspace, file: string, range: Span): readonly PlanAction[] => {
  const page = workspace.pages.get(file);
  if (!page || !workspace.whole) return [];
  return page.entries.flatMap((entry) => {
    if (entry.prefix !== 'plan') return [];
    const section = entry.anchor as Section;
    const start = page.page.starts.get(section)!;
    if (!overlaps({ start, end: start + section.text.length }, range)) return [];
    const plan = planOf(workspace, entry);
    return plan ? actionsFor(plan, file, { start, end: start + section.text.length }) : [];
  });
};

/** Another way than the one that is worked out, named in the plan as it stands: its amount is then worked out. */
const choicesOf = (plan: Plan, whole: (text: string) => readonly LocatedEdit[]): readonly PlanAction[] =>
  answersOf(plan)
    .flatMap(({ choices }) => choices ?? [])
    .map(({ title, line }) => {
      const { text } = filled(plan.entry.anchor as Section, plan.entry, [{ part: 'add', line, range: '' }]);
      return { title, edits: whole(text), preferred: false };
    });

const actionsFor = (plan: Plan, file: string, at: Span): readonly PlanAction[] => {
  const whole = (text: string): readonly LocatedEdit[] => [{ file, ...at, text }];
  const write: PlanAction = {
    title: 'Write in what is worked out',
    edits: whole(`plan ${plan.filled.text}`),
    preferred: true,
  };
  const done: PlanAction = {
    title: 'Done: weigh it now, and keep the planned figures beside',
    edits: whole(doneText(plan)),
    preferred: plan.written.length === 0,
  };
  return plan.written.length > 0 ? [write, done, ...choicesOf(plan, whole)] : [done, ...choicesOf(plan, whole)];
};
