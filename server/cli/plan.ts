/** `fineweight plan`: each plan as if it were done, with what it leaves out; and `fineweight ask`, the same of a text that stands in no page. */
import type { Advice } from '../advice/advice';
import { cautionName, cautionsOf, cautionWorking } from '../advice/cautions';
import { answersWithNext } from '../advice/next-step';
import { type Plan, planOf, plansOn } from '../advice/plans';
import { assumptionWords } from '../advice/words';
import { DEFERS } from '../engine/bench/hazards';
import { entryHints } from '../features/hints';
import { isPage } from '../files/names';
import { stepWords } from '../reports/words';
import { findingsOf } from '../rules/findings';
import { lineAt } from '../text/lines';
import { visible } from '../text/visible';
import type { Workspace } from '../workspace/workspace';
import type { Outcome } from './check';
import type { Opened } from './journals';
import type { Paint } from './paint';
import { besideLines, findingText, whereWords } from './print';
import { pageLines } from './show';

export interface PlanOptions {
  readonly format: 'text' | 'json';
  readonly paint: Paint;
}

interface Found {
  readonly workspace: Workspace;
  readonly plan: Plan;
}

export const plan = (opened: Opened, options: PlanOptions): Outcome => {
  const found = opened.journals.flatMap(({ workspace, asked }) =>
    asked.filter(isPage).flatMap((file) => plansFound(workspace, file)),
  );
  return answered(found, opened.failures, options);
};

const plansFound = (workspace: Workspace, file: string): readonly Found[] =>
  plansOn(workspace, file).flatMap((entry) => {
    const one = planOf(workspace, entry);
    return one ? [{ workspace, plan: one }] : [];
  });

/** `isOfPage`: a question stands under no day that anybody wrote. */
const answered = (
  found: readonly Found[],
  failures: readonly string[],
  { format, paint }: PlanOptions,
  isOfPage = true,
): Outcome => {
  const exit = failures.length > 0 ? 2 : 0;
  if (format === 'json') {
    const report = { version: 1, plans: found.map(toJson), failures };
    return { text: `${JSON.stringify(report, null, 2)}\n`, exit };
  }
  const texts = found.map(({ workspace, plan: one }) => planText(workspace, one, paint, isOfPage));
  if (texts.length === 0 && failures.length === 0)
    return { text: 'There is no plan that is still to be done.\n', exit };
  return { text: texts.map((text) => `${text}\n`).join('\n'), exit };
};

/** Where it stands, the entry as it would be, what would be wrong with it, and the way to every figure. */
const planText = (workspace: Workspace, one: Plan, paint: Paint, isOfPage: boolean): string => {
  const { entry, job, filled } = one;
  const head = `${paint('bold', whereWords(workspace, entry.head))}: ${visible(stepWords(entry))}${isOfPage ? `, planned${entry.date ? ` under ${entry.date}` : ''}` : ''}`;
  const labels = new Map(
    entryHints(job.workspace, job.entry).map(({ offset, label }) => [lineAt(filled.text, offset) + 1, label]),
  );
  const lines = entryLines(filled.text).map((line) => visible(line.trimEnd()));
  const page = besideLines(
    lines.map((line) => `  ${line}`),
    labels,
    paint,
  );
  const section = entry.anchor;
  const wrong = findingsOf(workspace, section.file)
    .filter(({ place }) => place.anchor === section)
    .map((finding) => findingText(workspace, finding, paint));
  return [
    head,
    '',
    ...page,
    '',
    ...wrong.flatMap((text) => [text, '']),
    ...waysOf(one).flatMap((way) => [...way, '']),
    ...cautionLines(one, paint),
  ]
    .join('\n')
    .trimEnd();
};

/** Remarks at the margin below an entry speak of what comes next. */
const entryLines = (text: string): readonly string[] => {
  const lines = text.split('\n');
  while (lines.length > 1 && (lines.at(-1)!.trim() === '' || lines.at(-1)!.startsWith('#'))) lines.pop();
  return lines;
};

/** Always there, whatever the editor folds. */
const cautionLines = ({ job }: Plan, paint: Paint): readonly string[] => {
  const cautions = cautionsOf(job);
  if (cautions.length === 0) return [];
  const each = cautions.flatMap((one) => {
    const { rows = [] } = cautionWorking(one);
    return [`  ${cautionName(one)}: ${one.says} (${one.source})`, ...rows.map((row) => `      ${row}`)];
  });
  return [`  ${paint('bold', 'Cautions')}`, ...each, `  ${DEFERS}`];
};

const waysOf = (one: Plan): readonly (readonly string[])[] => answersWithNext(one).map(wayOf);

const wayOf = ({ working }: Advice): readonly string[] => {
  const { says, rows = [], assumed, todo } = working();
  return [
    ...says.split('\n').map((line) => `  ${visible(line)}`),
    ...rows.map((row) => `      ${visible(row)}`),
    ...assumed.map((one) => `    ${visible(assumptionWords(one))}`),
    ...(todo === undefined ? [] : [`  ${visible(todo)}`]),
  ];
};

export interface JsonPlan {
  readonly file: string;
  readonly line: number;
  /** `cupel K21`. */
  readonly entry: string;
  readonly date: string | null;
  /** The entry as if it were done, with what was left out. */
  readonly text: string;
  /** What was left out. */
  readonly writes: readonly { readonly text: string; readonly range: string }[];
  readonly answers: readonly {
    readonly label: string | null;
    readonly says: string;
    readonly rows: readonly string[];
    readonly assumed: readonly { readonly says: string; readonly source: string }[];
    /** What to do about it, or which figure is still missing. */
    readonly todo: string | null;
  }[];
  readonly wrong: readonly { readonly code: string; readonly says: string }[];
  /** General cautions: they defer to local codes and licensed practice, and permit nothing. */
  readonly cautions: readonly {
    readonly code: string;
    readonly says: string;
    readonly limits: readonly string[];
    readonly source: string;
  }[];
}

const toJson = ({ workspace, plan: one }: Found): JsonPlan => {
  const { entry, filled, written } = one;
  const [file = '', line = '0'] = splitWhere(whereWords(workspace, entry.head));
  return {
    file,
    line: Number(line),
    entry: stepWords(entry),
    date: entry.date ?? null,
    text: filled.text,
    writes: written.map(({ writing }) => ({
      text: 'line' in writing ? writing.line : writing.amount,
      range: writing.range,
    })),
    answers: answersWithNext(one).map((each) => {
      const { says, rows = [], assumed, todo } = each.working();
      return { label: each.label ?? null, says, rows, assumed, todo: todo ?? null };
    }),
    wrong: findingsOf(workspace, entry.anchor.file)
      .filter(({ place }) => place.anchor === entry.anchor)
      .map(({ code, says }) => ({ code, says })),
    cautions: cautionsOf(one.job).map((caution) => {
      const { code, says, source } = caution;
      return { code, says, limits: cautionWorking(caution).rows ?? [], source };
    }),
  };
};

const splitWhere = (where: string): readonly string[] => {
  const at = where.lastIndexOf(':');
  return [where.slice(0, at), where.slice(at + 1)];
};

/** Under this name the text stands beside the pages of the journal. */
export const ASKED_PAGE = 'asked.melt';

/** What the plans of an asked page come to; what is wrong in the question is told first. */
export const ask = (workspace: Workspace, file: string, meant: readonly string[], options: PlanOptions): Outcome => {
  const found = plansFound(workspace, file);
  const findings = findingsOf(workspace, file);
  const outcome = answered(found, [], options, false);
  const isNone = found.length === 0;
  if (options.format === 'json') return { ...outcome, exit: isNone ? 2 : 0 };
  const planned = new Set<unknown>(found.map(({ plan: one }) => one.entry.anchor));
  const others = findings.filter(({ place }) => !planned.has(place.anchor));
  const told = others.map((finding) => `${findingText(workspace, finding, options.paint)}\n\n`).join('');
  const isAmiss = findings.some(({ severity }) => severity === 'error');
  // An assay or a weight is no plan: its figures stand behind its lines.
  const page = isNone && !isAmiss ? `${pageLines(workspace, file, options.paint).slice(1).join('\n').trim()}\n\n` : '';
  return {
    text: `${meant.length > 0 ? `Taken as: ${meant.join('; ')}\n\n` : ''}${page}${isNone ? told : told + outcome.text}${isAmiss ? IN_WORDS : ''}`,
    exit: isAmiss || (isNone && page.trim() === '') ? 1 : 0,
  };
};

const IN_WORDS = 'Ask in the words of the journal, such as: receive B 61 g, expect Cu 8 %; cupel, in B\n';
