/**
 * What a journal says that stands while somebody types: a workspace never changes, so it is asked once, and not at each keystroke again.
 */
import { type Hint, hintsOf, type WantedHints } from '../features/hints';
import { findingsOf, type Histories } from '../rules/findings';
import type { Finding } from '../rules/rule';
import type { Span } from '../text/span';
import type { Workspace } from '../workspace/workspace';

const findings = new WeakMap<Workspace, Map<string, readonly Finding[]>>();

/** `findingsOf`, kept with the workspace. */
export const stoodFindings = (workspace: Workspace, file: string, histories: Histories): readonly Finding[] => {
  const known = findings.get(workspace) ?? new Map<string, readonly Finding[]>();
  findings.set(workspace, known);
  const key = `${histories} ${file}`;
  const found = known.get(key) ?? findingsOf(workspace, file, histories);
  known.set(key, found);
  return found;
};

interface Asked {
  readonly file: string;
  readonly range: Span;
  readonly wanted: WantedHints;
  readonly hints: readonly Hint[];
}

const asked = new WeakMap<Workspace, Asked>();

/** `hintsOf`, of which the last is kept with the workspace: while somebody types, the same lines are on the screen. */
export const stoodHints = (workspace: Workspace, file: string, range: Span, wanted: WantedHints): readonly Hint[] => {
  const last = asked.get(workspace);
  const isSame =
    last?.file === file && last.range.start === range.start && last.range.end === range.end && last.wanted === wanted;
  if (isSame) return last.hints;
  const hints = hintsOf(workspace, file, range, wanted);
  asked.set(workspace, { file, range, wanted, hints });
  return hints;
};
