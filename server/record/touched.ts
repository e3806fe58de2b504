/** Pages of which the seals say something else than before. */
import { isSameList } from '../text/lists';
import type { Workspace } from '../workspace/workspace';
import { recordOf } from './breaks';
import { closedUpTo } from './periods';

/** Files whose findings about seals differ between two states of a journal, or of whose days others are sealed. */
export const touchedByRecord = (before: Workspace, after: Workspace): readonly string[] => {
  const [was, is] = [recordOf(before), recordOf(after)];
  if (was === is) return [];
  const files = new Set<string>();
  const [from, to] = [closedUpTo(before), closedUpTo(after)].sort() as [string, string];
  for (const { file, firstDate, lastDate } of after.pages.values())
    if (from !== to && firstDate <= to && lastDate > from) files.add(file);
  for (const [section, breaks] of was.breaks)
    if (!isSameList(breaks, is.breaks.get(section) ?? [])) files.add(section.file);
  for (const [section, breaks] of is.breaks)
    if (!isSameList(breaks, was.breaks.get(section) ?? [])) files.add(section.file);
  return [...files];
};
