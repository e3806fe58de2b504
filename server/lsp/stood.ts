/**
 * What a journal says that stands while somebody types: a workspace never changes, so it is asked once, and not at each keystroke again.
 */
import { type Hint, type HintFamily, hintsOf } from '../features/hints';
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
  readonly families: ReadonlySet<HintFamily>;
  readonly hints: readonly Hint[];
}

const asked = new WeakMap<Workspace, Asked>();

/** `hintsOf`, of which the last is kept with the workspace: while somebody types, the same lines are on the screen. */
export const stoodHints = (
  workspace: Workspace,
  file: string,
  range: Span,
  families: ReadonlySet<HintFamily>,
): readonly Hint[] => {
  const last = asked.get(workspace);
  const isSame =
    last?.file === file &&
    last.range.start === range.start &&
    last.range.end === range.end &&
    last.families === families;
  if (isSame) return last.hints;
  const hints = hintsOf(workspace, file, range, families);
  asked.set(workspace, { file, range, families, hints });
  return hints;
};
