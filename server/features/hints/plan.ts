/** A plan as if it were done: the figures of its lines, what it leaves out, and what to write there. */
import { toCupel } from '../../advice/next-step';
import { type Plan, planOf } from '../../advice/plans';
import { workingMarkdown } from '../../advice/words';
import type { Entry } from '../../engine/entry';
import { fitting } from '../../reports/figures';
import { escapeMarkdown, fenced, paragraphs } from '../../reports/markdown';
import type { Section } from '../../syntax/tree';
import { lineAt } from '../../text/lines';
import type { Workspace } from '../../workspace/workspace';

/** The end of a line of the plan, from its section's start, and what stands there. */
export interface PlanHint {
  readonly offset: number;
  readonly label: string;
  readonly tooltip: () => string;
}

/** A hint of the plan as if it were done; its offset counts in that text. */
interface Done {
  readonly offset: number;
  readonly label: string;
  readonly tooltip: () => string;
}

/** `hintsOf` gives the hints of the entry as if it were done. */
export const planHints = (
  workspace: Workspace,
  entry: Entry,
  hintsOf: (workspace: Workspace, entry: Entry) => readonly Done[],
): readonly PlanHint[] => {
  const plan = planOf(workspace, entry);
  if (!plan) return [];
  const ends = lineEnds((entry.anchor as Section).text);
  const found = new Map<number, PlanHint>();
  for (const { offset, label, tooltip } of hintsOf(plan.job.workspace, plan.job.entry)) {
    const line = plan.filled.lines[lineAt(plan.filled.text, offset)];
    if (line !== undefined) found.set(line, { offset: ends[line]!, label, tooltip });
  }
  for (const [line, advised] of advisedLines(plan)) {
    const under = found.get(line);
    const tooltip = (): string => {
      const own = advised.tooltip();
      // What the line says as if it were done may be that very answer.
      const below = under
        ?.tooltip()
        .split(APART)
        .filter((part) => !own.includes(part.trim()));
      return [own, ...(below ?? [])].join(APART);
    };
    // What is written in is not said a second time.
    const figure = advised.label.slice(advised.label.indexOf(' ') + 1);
    const both = under && !under.label.includes(figure) && `${advised.label} · ${under.label}`;
    found.set(line, { offset: ends[line]!, label: fitting(...(both ? [both] : []), advised.label), tooltip });
  }
  return [...found].sort(([a], [b]) => a - b).map(([, hint]) => hint);
};

/** What stands between two answers. */
const APART = '\n\n---\n\n';

/** What to write, by line of the plan: amounts on their own lines, new lines on the first. */
const advisedLines = (plan: Plan): Map<number, Omit<PlanHint, 'offset'>> => {
  const lines = new Map<number, Omit<PlanHint, 'offset'>>();
  const missing: string[] = [];
  for (const { writing, advice, line } of plan.written) {
    if ('line' in writing) missing.push(writing.line);
    if (line === undefined || 'line' in writing) continue;
    const before = lines.get(line)?.label;
    const label = fitting(...(before ? [`${before}, ${writing.range}`] : []), writing.range);
    lines.set(line, { label, tooltip: () => workingMarkdown(advice.working()) });
  }
  if (missing.length > 0) lines.set(0, { label: missingLabel(missing), tooltip: () => missingTooltip(plan, missing) });
  return lines;
};

const missingLabel = (lines: readonly string[]): string => {
  const whole = lines.join(', ');
  return fitting(whole, `${lines[0]} and ${lines.length - 1} more`, `${lines.length} lines to write in`);
};

const missingTooltip = (plan: Plan, missing: readonly string[]): string => {
  const ways = new Set(plan.written.flatMap(({ writing, advice }) => ('line' in writing ? [advice] : [])));
  return paragraphs(
    'To make the plan whole; *Write in what is worked out* puts it there:',
    fenced(missing),
    ...[...ways, ...toCupel(plan)].map((advice) => `---\n\n${workingMarkdown(advice.working())}`),
    escapeMarkdown('Booked nowhere until it is done.'),
  );
};

const lineEnds = (text: string): number[] => {
  let at = -1;
  return text.split('\n').map((line) => {
    at += line.length + 1;
    return line.endsWith('\r') ? at - 1 : at;
  });
};
