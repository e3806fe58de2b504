/** What can be mended at a place: the findings' own fixes, with their edits as offsets in the files' texts. */
import { findingsOf } from '../rules/findings';
import type { Finding } from '../rules/rule';
import { overlaps, type Span } from '../text/span';
import { locate, type Workspace } from '../workspace/workspace';

export interface LocatedEdit extends Span {
  readonly file: string;
  readonly text: string;
}

export interface LocatedFix {
  readonly title: string;
  readonly edits: readonly LocatedEdit[];
  readonly finding: Finding;
  /** The one that is most likely meant. */
  readonly preferred: boolean;
  /** Changes only white space or the case of words. */
  readonly safe: boolean;
}

/** Fixes of the findings that touch a range of a file, of these codes or of all; in the order of the text. */
export const fixesAt = (
  workspace: Workspace,
  file: string,
  range: Span,
  codes?: ReadonlySet<string>,
): readonly LocatedFix[] =>
  findingsOf(workspace, file, 'none')
    .filter(({ code }) => codes?.has(code) ?? true)
    .filter(({ place }) => overlaps(locate(workspace, place), range))
    .flatMap((finding) => fixesOf(workspace, finding));

export const fixesOf = (workspace: Workspace, finding: Finding): readonly LocatedFix[] =>
  (finding.fixes ?? []).map(({ title, edits, safe, preferred }) => ({
    title,
    edits: edits.map(({ at, text }) => ({ ...locate(workspace, at), text })),
    finding,
    preferred: preferred ?? false,
    safe,
  }));
