/** The page of every finding, those in a workshop file included: one text for hover, command line and reference. */
import { RULES } from '../rules/catalogue';
import { type PageTexts, textsOf } from '../rules/examples';
import type { Severity } from '../rules/rule';
import { WORKSHOP_PAGES } from '../workshop/pages';

export interface FindingPage extends PageTexts {
  readonly code: string;
  readonly severity: Severity;
}

export const FINDING_PAGES: readonly FindingPage[] = [
  ...RULES.map((rule) => ({ code: rule.code, severity: rule.severity, ...textsOf(rule) })),
  ...WORKSHOP_PAGES,
];

const byCode = new Map(FINDING_PAGES.map((page) => [page.code, page]));
export const findingPage = (code: string): FindingPage | undefined => byCode.get(code);
