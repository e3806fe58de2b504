/** What the page of a finding says of it. Asked for here, as a program holds these texts apart from the rules (server/examples-apart.mjs). */

export interface PageTexts {
  readonly title: string;
  readonly why: string;
  readonly wrong: string;
  readonly right: string;
  readonly source?: string;
  readonly beside?: string;
}

export const textsOf = ({
  title,
  why,
  wrong,
  right,
  source,
  beside,
}: PageTexts & { readonly code: string }): PageTexts => ({
  title,
  why,
  wrong,
  right,
  ...(source === undefined ? {} : { source }),
  ...(beside === undefined ? {} : { beside }),
});
