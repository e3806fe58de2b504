/**
 * What sealed entries said, where somebody still has an older text of the pages: git. A seal's marks tell which of them are those that were sealed,
 * so nothing that is handed in is believed.
 */
import { parsePage } from '../syntax/parse';
import { readWorkshop } from '../workshop/read';
import { isWorkshopFile } from '../workspace/update';
import type { Workspace } from '../workspace/workspace';
import { recordOf } from './breaks';
import { canonicalLines, markOf, markOfLines } from './canonical';
import { thingLines, thingsOf } from './shop';

/** Older texts by file: of entries, days and things of the workshop file the lines as they were sealed, by their marks. */
export const withRemembered = (workspace: Workspace, texts: ReadonlyMap<string, string>): Workspace => {
  const remembered = new Map(workspace.remembered);
  const days = recordOf(workspace).seals.map(({ seal }) => seal.upTo);
  for (const [file, text] of texts) {
    if (isWorkshopFile(file)) {
      for (const thing of thingsOf(readWorkshop(file, text)))
        for (const upTo of days) {
          const lines = thingLines(thing, upTo);
          remembered.set(markOfLines(lines), lines);
        }
      continue;
    }
    for (const section of parsePage(file, text).sections) {
      const lines = section.kind === 'entry' || section.kind === 'day' ? canonicalLines(section) : [];
      if (lines.length > 0) remembered.set(markOf(section), lines);
    }
  }
  return { ...workspace, remembered };
};

/** Seals that are broken in what older texts would tell: their digests, each with the page that it stands on. */
export const forgottenSeals = (workspace: Workspace): readonly { readonly digest: string; readonly file: string }[] =>
  recordOf(workspace).seals.flatMap(({ seal: { entry, section }, breaks }) => {
    const marks = breaks.flatMap((one) => {
      if (one.kind === 'changed') return one.mark;
      if (one.kind === 'vanished') return one.gone.map(({ mark }) => mark);
      return one.kind === 'workshop' ? (one.mark ?? []) : [];
    });
    const isForgotten = marks.some((mark) => !workspace.remembered.has(mark));
    return isForgotten && entry.digest ? [{ digest: entry.digest.name, file: section.file }] : [];
  });
