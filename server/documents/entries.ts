/** The entries of a journal as they count, in the order in which they happened. */
import { memo } from '../engine/accounts/memo';
import type { Step } from '../engine/book';
import type { Entry } from '../engine/entry';
import { firstWhere } from '../text/lists';
import { inOrder } from '../workspace/order';
import type { Workspace } from '../workspace/workspace';
import type { Choice } from './choice';

const kept = memo<Workspace, readonly Entry[]>();

/** Corrected; without plans, voids, corrections and what was not understood. A `more` is an entry of its own. */
export const countedEntries = (workspace: Workspace): readonly Entry[] => {
  const known = kept.get(workspace);
  if (known) return known;
  const written = [...workspace.pages.values()].flatMap(({ entries }) => entries).sort(inOrder(workspace.pages));
  const made = written.flatMap((entry) => counted(workspace, entry) ?? []);
  kept.set(workspace, made);
  return made;
};

/** Undefined for one that books nothing. */
export const counted = ({ book }: Workspace, entry: Entry): Entry | undefined => {
  if (entry.broken || (entry.prefix !== undefined && entry.prefix !== 'more')) return undefined;
  return book.account(entry).parts.find(({ anchor }) => anchor === entry.anchor);
};

/** They stand by date: those of a period are one stretch. */
export const entriesWithin = (workspace: Workspace, { from, to }: Choice): readonly Entry[] => {
  const all = countedEntries(workspace);
  const start = from === undefined ? 0 : firstWhere(all, ({ date = '' }) => date >= from);
  const end = to === undefined ? all.length : firstWhere(all, ({ date = '' }) => date > to);
  return all.slice(start, end);
};

/** The first of each, as they count: `more` parts are no entries of their own here. */
export const entriesNamed = (workspace: Workspace, name: string): readonly Entry[] =>
  [...workspace.pages.values()]
    .flatMap(({ byStep }) => byStep.get(name) ?? [])
    .sort(inOrder(workspace.pages))
    .flatMap((entry) => (entry.prefix ? [] : (counted(workspace, entry) ?? [])));

/** Steps by the day of their first entry, each once, in order. */
export const stepsWithin = (workspace: Workspace, choice: Choice): readonly Step[] => [
  ...new Set(
    entriesWithin(workspace, choice).flatMap((entry) => (entry.prefix ? [] : (workspace.book.step(entry) ?? []))),
  ),
];
