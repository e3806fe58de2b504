/** The page of every finding, those in a workshop file included: one text for hover, command line and reference. */
import { RULES } from '../rules/catalogue';
import type { Severity } from '../rules/rule';
import { WORKSHOP_PAGES } from '../workshop/pages';

export interface FindingPage {
  readonly code: string;
  readonly severity: Severity;
  readonly title: string;
  readonly why: string;
  readonly wrong: string;
  readonly right: string;
  readonly source?: string;
}

export const FINDING_PAGES: readonly FindingPage[] = [...RULES, ...WORKSHOP_PAGES];

const byCode = new Map(FINDING_PAGES.map((page) => [page.code, page]));
export const findingPage = (code: string): FindingPage | undefined => byCode.get(code);
