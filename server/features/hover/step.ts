/** A step: its balance in full, what the bench says of it, and what was planned. A plan: all of it as if it were done. */
import { cautionName, cautionsAt, cautionsOf } from '../../advice/cautions';
import { jobOf } from '../../advice/job';
import { answersWithNext } from '../../advice/next-step';
import { type PlannedFigure, plannedFigures } from '../../advice/planned';
import { doneAs, planOf } from '../../advice/plans';
import { adviceOn } from '../../advice/topics';
import { workingMarkdown } from '../../advice/words';
import { DEFERS } from '../../engine/bench/hazards';
import type { Entry } from '../../engine/entry';
import { correctionWords } from '../../reports/corrections';
import { brokenLines, escapeMarkdown, fenced, paragraphs } from '../../reports/markdown';
import { balanceLabel } from '../../reports/wording';
import { flowWords, listWords, stepWords } from '../../reports/words';
import type { Section } from '../../syntax/tree';
import { correctionsIn } from '../../workspace/parts';
import type { Workspace } from '../../workspace/workspace';
import { balanceMarkdown } from '../balance';

/** Of the entry that the name stands in. */
export const stepMarkdown = (workspace: Workspace, entry: Entry): string => {
  const title = `**${escapeMarkdown(stepWords(entry))}**`;
  if (entry.prefix === 'plan') return planMarkdown(workspace, entry, title);
  if (entry.prefix === 'void') return `${title} · void: shown, and not counted`;
  const { step, parts } = workspace.book.account(entry);
  if (!step) return `${title} · ${movedBy(entry)}`;
  const label = balanceLabel(step, workspace.workshop);
  const days = [...new Set(parts.flatMap(({ date }) => date ?? []))];
  const when = days.length > 1 ? `On ${listWords(days)}.` : undefined;
  return paragraphs(
    `${title}${label ? ` · ${escapeMarkdown(label)}` : ''}`,
    balanceMarkdown(step, workspace),
    when,
    ...parts.flatMap(correctionsIn).map((one) => escapeMarkdown(correctionWords(one))),
    plannedMarkdown(plannedFigures(workspace, parts[0] ?? entry)),
    ...benchMarkdown(workspace, entry),
    ...cautionMarkdown(cautionsAt(workspace, entry)),
  );
};

const movedBy = (entry: Entry): string => {
  const lots = entry.flows.flatMap(({ lot }) => lot?.name ?? []);
  return lots.length > 0 ? escapeMarkdown(listWords(lots)) : 'nothing in or out of it yet';
};

const WAYS = 'The way to each of these figures stands over the verb.';

/** Over the verb of what is done: all that the bench reckons of it, each with its sum and its source. */
export const waysMarkdown = (workspace: Workspace, entry: Entry): string | undefined => {
  const job = entry.prefix === undefined ? jobOf(workspace, entry, true) : undefined;
  const ways = job ? adviceOn(job).map(({ working }) => `---\n\n${workingMarkdown(working())}`) : [];
  return ways.length > 0 ? paragraphs(...ways) : undefined;
};

const benchMarkdown = (workspace: Workspace, entry: Entry): readonly string[] => {
  const job = jobOf(workspace, entry, true);
  if (!job) return [];
  // What speaks of a line of the clock stands in the hover of that line.
  const others = adviceOn(job).filter(({ at }) => !entry.clocks.some(({ place }) => place.start === at.start));
  const answers = others.map(({ rank, working }) => {
    const way = working();
    return `---\n\n${rank === 'extra' ? escapeMarkdown(way.says) : workingMarkdown(way)}`;
  });
  return others.some(({ rank }) => rank === 'extra') ? [...answers, WAYS] : answers;
};

/** In short: the published limits stand in the tooltip of the caution. */
const cautionMarkdown = (cautions: ReturnType<typeof cautionsOf>): readonly string[] => {
  if (cautions.length === 0) return [];
  const lines = cautions.map((one) => escapeMarkdown(`Caution, ${cautionName(one)}: ${one.says}`));
  return ['---', brokenLines([...lines, DEFERS])];
};

const planMarkdown = (workspace: Workspace, entry: Entry, title: string): string => {
  const plan = planOf(workspace, entry);
  if (!plan) {
    const done = doneAs(workspace, entry);
    return done ? `${title} · planned, and done${done.date ? ` on ${done.date}` : ''}` : `${title} · planned`;
  }
  return paragraphs(
    `${title} · planned, and booked nowhere until it is done`,
    fenced(plan.filled.text.trimEnd().split('\n')),
    ...answersWithNext(plan).map(({ working }) => `---\n\n${workingMarkdown(working())}`),
    ...cautionMarkdown(cautionsOf(plan.job)),
  );
};

/** Planned and done side by side. */
const plannedMarkdown = (figures: readonly PlannedFigure[]): string | undefined => {
  if (figures.length === 0) return undefined;
  const rows = [
    ['', 'planned', 'done'],
    ...figures.map(({ flow, planned }) => [wordsFor(flow), planned, doneWords(flow)]),
  ];
  const width = (column: number): number => Math.max(...rows.map((row) => row[column]!.length));
  return fenced(
    rows.map(([what, planned, done]) => `${what!.padEnd(width(0))}  ${planned!.padEnd(width(1))}  ${done}`),
  );
};

const wordsFor = (flow: PlannedFigure['flow']): string => {
  const what = flowWords(flow);
  return what === flow.word ? what : `${flow.word} ${what}`;
};

const doneWords = ({ amount, none }: PlannedFigure['flow']): string => {
  if (none) return 'none';
  return amount ? (amount.place.anchor as Section).text.slice(amount.place.start, amount.place.end) : '?';
};
