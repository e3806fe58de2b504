/** The connected histories of a workspace, by lot; the same object from version to version as long as nothing in it has changed. */
import { type History, historyOf } from '../engine/accounts/history';
import type { Book, LotStory } from '../engine/book';
import { isSameList } from '../text/lists';
import type { Workspace } from './workspace';

const byWorkspace = new WeakMap<Workspace, Map<string, History>>();
/** The history that a lot with this story was in last. */
const lastOf = new WeakMap<LotStory, History>();

/** Undefined for a lot that no entry speaks of. */
export const historyIn = (workspace: Workspace, lot: string): History | undefined => {
  const known = byWorkspace.get(workspace) ?? new Map<string, History>();
  byWorkspace.set(workspace, known);
  const before = known.get(lot);
  if (before) return before;
  const story = workspace.book.lot(lot);
  if (!story) return undefined;
  const history = historyOfStory(story, workspace.book);
  for (const one of history.stories) known.set(one.name, history);
  return history;
};

const historyOfStory = (story: LotStory, book: Book): History => {
  const last = lastOf.get(story);
  if (last && stillHolds(last, book)) return last;
  const made = historyOf(book, story.name)!;
  const history = last && isSameList(last.stories, made.stories) && isSameList(last.steps, made.steps) ? last : made;
  for (const one of history.stories) lastOf.set(one, history);
  return history;
};

/**
 * What ties another lot to one of these is an entry about both, which would have made another story of it. Of a step in several parts this
 * does not tell.
 */
const stillHolds = ({ stories, steps }: History, book: Book): boolean =>
  stories.every((story) => book.lot(story.name) === story) && steps.every((step) => book.step(step.entry) === step);
