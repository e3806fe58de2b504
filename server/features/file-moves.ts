/** A photo or paper that gets another name or folder is named so in the journal; what is sealed is not touched, and that is said. */
import type { Entry } from '../engine/entry';
import { filesNamedBy, pathBelow } from '../record/files';
import { locate, type Workspace } from '../workspace/workspace';
import type { LocatedEdit } from './fixes';
import { lastSeal } from './sealed';
import { asWritten } from './written-name';

/** Of a file, or of a folder with all that is in it; both as ids. */
export interface Move {
  readonly from: string;
  readonly to: string;
}

export interface NamedAfterMoves {
  readonly edits: readonly LocatedEdit[];
  /** Sentences on what is named as before, and why. */
  readonly kept: readonly string[];
}

export const namedAfter = (workspace: Workspace, moves: readonly Move[]): NamedAfterMoves => {
  const { root, pages } = workspace;
  // A lone page is its own root.
  const base = pages.has(root) ? root.slice(0, root.lastIndexOf('/')) : root;
  const seal = lastSeal(workspace);
  const edits: LocatedEdit[] = [];
  const kept = new Set<string>();
  for (const [file, page] of pages) {
    const was = pathBelow(base, file) ?? file;
    const is = movedTo(base, moves, was);
    if (is === undefined) continue;
    for (const entry of page.entries) {
      for (const { named, path } of filesNamedBy(entry)) {
        const target = movedTo(base, moves, folderOf(was) + path);
        const now = target?.startsWith(folderOf(is)) ? target.slice(folderOf(is).length) : undefined;
        const written = now === undefined ? undefined : asWritten(now);
        if (now === path) continue;
        if (isSealed(entry, seal)) kept.add(sealedSentence(path, entry, seal!));
        else if (written === undefined) kept.add(apartSentence(path, was));
        else edits.push({ ...locate(workspace, named.place), text: written });
      }
    }
  }
  return { edits, kept: [...kept] };
};

/** Where a path below the base leads afterwards; undefined where that is no longer below it. */
const movedTo = (base: string, moves: readonly Move[], path: string): string | undefined => {
  for (const { from, to } of moves) {
    const before = pathBelow(base, from);
    if (before === undefined || (path !== before && !path.startsWith(`${before}/`))) continue;
    const after = pathBelow(base, to);
    return after === undefined ? undefined : after + path.slice(before.length);
  }
  return path;
};

const folderOf = (path: string): string => path.slice(0, path.lastIndexOf('/') + 1);

const isSealed = ({ date }: Entry, seal: string | undefined): boolean =>
  seal !== undefined && date !== undefined && date <= seal;

const sealedSentence = (path: string, { date }: Entry, seal: string): string =>
  `${path} is named under ${date}, in the record sealed up to ${seal}. What is sealed is not changed: give the file its name and place back.`;

const apartSentence = (path: string, page: string): string =>
  `${path} would no longer be in the folder of ${page} or below it, where photos and papers of a page are. It is named there as before.`;
