/** `fineweight check`: what is wrong in pages and journals. */
import { isPage } from '../files/names';
import { findingsOf } from '../rules/findings';
import type { Severity } from '../rules/rule';
import type { Opened } from './journals';
import type { Paint } from './paint';
import { type Counts, countsOf, findingText, summary } from './print';
import { reportOf } from './report';

export interface Outcome {
  readonly text: string;
  readonly exit: 0 | 1 | 2;
}

export interface CheckOptions {
  readonly failOn: Severity;
  readonly format: 'text' | 'json';
  readonly paint: Paint;
}

export const check = (opened: Opened, options: CheckOptions): Outcome =>
  options.format === 'json' ? checkAsJson(opened, options) : checkAsText(opened, options);

const checkAsJson = (opened: Opened, { failOn }: CheckOptions): Outcome => {
  const report = reportOf(opened);
  return { text: `${JSON.stringify(report, null, 2)}\n`, exit: exitOf(opened, report.counts, failOn) };
};

const checkAsText = (opened: Opened, { failOn, paint }: CheckOptions): Outcome => {
  const found = opened.journals.flatMap(({ workspace, asked }) =>
    asked.flatMap((file) => findingsOf(workspace, file).map((finding) => ({ workspace, finding }))),
  );
  const counts = countsOf(found.map(({ finding }) => finding));
  const pages = opened.journals.flatMap(({ asked }) => asked.filter(isPage)).length;
  const texts = found.map(({ workspace, finding }) => findingText(workspace, finding, paint));
  const end = pages > 0 || found.length > 0 ? [summary(counts, pages, opened.failures.length > 0)] : [];
  const text = [...texts, ...end].map((part) => `${part}\n`).join(texts.length > 0 ? '\n' : '');
  return { text, exit: exitOf(opened, counts, failOn) };
};

const GRADE: Readonly<Record<Severity, number>> = { error: 3, warning: 2, hint: 1 };

const exitOf = ({ failures }: Opened, counts: Counts, failOn: Severity): Outcome['exit'] => {
  if (failures.length > 0) return 2;
  const severities: readonly Severity[] = ['error', 'warning', 'hint'];
  return severities.some((severity) => GRADE[severity] >= GRADE[failOn] && counts[severity] > 0) ? 1 : 0;
};
