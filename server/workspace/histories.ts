/** The connected histories of a workspace, by lot; the same object from version to version as long as nothing in it has changed. */
import { type History, historyOf } from '../engine/accounts/history';
import type { LotStory } from '../engine/book';
import type { Workspace } from './workspace';

const byWorkspace = new WeakMap<Workspace, Map<string, History>>();
const lastOf = new WeakMap<LotStory, History>();

/** Undefined for a lot that no entry speaks of. */
export const historyIn = (workspace: Workspace, lot: string): History | undefined => {
  const known = byWorkspace.get(workspace) ?? new Map<string, History>();
  byWorkspace.set(workspace, known);
  const before = known.get(lot);
  if (before) return before;
  const made = historyOf(workspace.book, lot);
  if (!made) return undefined;
  const history = sameAsBefore(made);
  for (const { name } of history.stories) known.set(name, history);
  return history;
};

const sameAsBefore = (made: History): History => {
  const [first] = made.stories;
  const last = lastOf.get(first!);
  if (last && isList(last.stories, made.stories) && isList(last.steps, made.steps)) return last;
  lastOf.set(first!, made);
  return made;
};

const isList = (a: readonly unknown[], b: readonly unknown[]): boolean =>
  a.length === b.length && a.every((one, at) => one === b[at]);
