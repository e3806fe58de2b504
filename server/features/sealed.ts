/** What is sealed is corrected, not changed. */
import type { JournalPage } from '../journal/page';
import type { Workspace } from '../workspace/workspace';

/** The last day that a seal of the record reaches to. */
export const lastSeal = ({ pages }: Workspace): string | undefined => {
  let last: string | undefined;
  for (const page of pages.values()) {
    const day = lastOf(page);
    if (day !== undefined && (last === undefined || day > last)) last = day;
  }
  return last;
};

/** The day that an offset stands under and the seal that closes it; undefined where nothing is sealed. */
export const sealedAt = (
  workspace: Workspace,
  file: string,
  offset: number,
): { readonly date: string; readonly seal: string } | undefined => {
  const seal = lastSeal(workspace);
  const page = workspace.pages.get(file);
  const section = page?.page.sections.findLast((one) => page.page.starts.get(one)! <= offset);
  const date = section && page?.bySection.get(section)?.date;
  return seal !== undefined && date !== undefined && date <= seal ? { date, seal } : undefined;
};

const known = new WeakMap<JournalPage, { readonly day: string | undefined }>();

const lastOf = (page: JournalPage): string | undefined => {
  const found = known.get(page);
  if (found) return found.day;
  const days = page.entries.flatMap(({ verb, ofDate, broken }) =>
    verb === 'seal' && ofDate && !broken ? [ofDate] : [],
  );
  const day = days.sort().at(-1);
  known.set(page, { day });
  return day;
};
