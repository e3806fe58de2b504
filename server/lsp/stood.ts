/**
 * What a journal says that stands while somebody types: a workspace never changes, so it is asked once, and not at each keystroke again.
 */
import { type Hint, hintsOf, type WantedHints } from '../features/hints';
import { type Histories, lookingThrough } from '../rules/findings';
import type { Finding } from '../rules/rule';
import type { Span } from '../text/span';
import type { Workspace } from '../workspace/workspace';

interface Looked {
  readonly looking: ReturnType<typeof lookingThrough>;
  /** None while not all of the file has been looked at. */
  found: readonly Finding[] | undefined;
}

const findings = new WeakMap<Workspace, Map<string, Looked>>();

/** `findingsOf`, kept with the workspace. */
export const stoodFindings = (workspace: Workspace, file: string, histories: Histories): readonly Finding[] =>
  lookThrough(workspace, file, histories, () => false)!;

/** Goes on where the last look at the file stopped, section by section; none where its time is over before all of it has been looked at. */
export const lookThrough = (
  workspace: Workspace,
  file: string,
  histories: Histories,
  isOver: () => boolean,
): readonly Finding[] | undefined => {
  const known = findings.get(workspace) ?? new Map<string, Looked>();
  findings.set(workspace, known);
  const key = `${histories} ${file}`;
  const looked: Looked = known.get(key) ?? { looking: lookingThrough(workspace, file, histories), found: undefined };
  // What fails is begun anew by who asks again.
  known.delete(key);
  while (!looked.found) {
    const { done, value } = looked.looking.next();
    if (done) looked.found = value;
    else if (isOver()) break;
  }
  known.set(key, looked);
  return looked.found;
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
