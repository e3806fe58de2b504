/** `fineweight check`: what is wrong in pages and journals. */
import { isPage } from '../files/names';
import type { Severity } from '../rules/rule';
import { asGithub, asJunit, asSarif } from './check-formats';
import type { Opened } from './journals';
import type { Paint } from './paint';
import { type Counts, countsOf, findingText, summary } from './print';
import { foundIn, type JsonReport, reportOf } from './report';

export interface Outcome {
  readonly text: string;
  readonly exit: 0 | 1 | 2;
}

export const CHECK_FORMATS = ['text', 'json', 'sarif', 'junit', 'github'] as const;
export type CheckFormat = (typeof CHECK_FORMATS)[number];

export interface CheckOptions {
  readonly failOn: Severity;
  readonly format: CheckFormat;
  readonly paint: Paint;
}

export const check = (opened: Opened, options: CheckOptions): Outcome =>
  options.format === 'text' ? checkAsText(opened, options) : checkAsReport(opened, options.format, options);

const REPORTS: Readonly<Record<Exclude<CheckFormat, 'text'>, (report: JsonReport) => string>> = {
  json: (report) => `${JSON.stringify(report, null, 2)}\n`,
  sarif: asSarif,
  junit: asJunit,
  github: asGithub,
};

const checkAsReport = (
  opened: Opened,
  format: Exclude<CheckFormat, 'text'>,
  { failOn }: Pick<CheckOptions, 'failOn'>,
): Outcome => {
  const report = reportOf(opened);
  return { text: REPORTS[format](report), exit: exitOf(opened, report.counts, failOn) };
};

const checkAsText = (opened: Opened, { failOn, paint }: CheckOptions): Outcome => {
  const found = opened.journals.flatMap(foundIn);
  const counts = countsOf(found.map(({ finding }) => finding));
  const pages = opened.journals.flatMap(({ asked }) => asked.filter(isPage)).length;
  const texts = found.map(({ workspace, finding }) => findingText(workspace, finding, paint));
  const end =
    pages > 0 || found.length > 0 ? [summary(counts, pages, opened.failures.length > (opened.gone?.length ?? 0))] : [];
  const text = [...texts, ...end].map((part) => `${part}\n`).join(texts.length > 0 ? '\n' : '');
  return { text, exit: exitOf(opened, counts, failOn) };
};

const GRADE: Readonly<Record<Severity, number>> = { error: 3, warning: 2, hint: 1 };

const exitOf = ({ failures }: Opened, counts: Counts, failOn: Severity): Outcome['exit'] => {
  if (failures.length > 0) return 2;
  const severities: readonly Severity[] = ['error', 'warning', 'hint'];
  return severities.some((severity) => GRADE[severity] >= GRADE[failOn] && counts[severity] > 0) ? 1 : 0;
};
