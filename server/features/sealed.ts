/** What is sealed is corrected, not changed. */
import { sealsOf } from '../record/periods';
import type { Workspace } from '../workspace/workspace';

/** The last day that a seal reaches to, one still without its digest too: what stands before it is spoken for. */
export const lastSeal = (workspace: Workspace): string | undefined => sealsOf(workspace).at(-1)?.upTo;

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
