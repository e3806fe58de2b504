/**
 * How far a page's results reach: every name that they can depend on. From the names on the page to all entries that speak of one of them, to
 * the names in those, and so on: a lot's story is told by every entry that names it, and a step hands weights on to other lots.
 */
import type { Entry } from '../engine/entry';
import { findMaterial } from '../engine/shelf';
import type { Workshop } from '../engine/workshop';
import { lotsOf, materialsOf } from '../journal/names';
import type { Workspace } from './workspace';

/**
 * Names of lots and steps, and of materials that nobody knows, that the results of a file can depend on, as far as the workspace's pages tell.
 * A page that speaks of none of them changes nothing in that file, but what name an unknown one may have been meant for.
 */
export const namesReached = (workspace: Workspace, file: string): ReadonlySet<string> =>
  namesFrom(workspace, workspace.pages.get(file)?.entries ?? []);

/** The same of some entries. */
export const namesFrom = (workspace: Workspace, entries: readonly Entry[]): ReadonlySet<string> => {
  const names = new Set<string>();
  const read = new Set<Entry>();
  const take = (entry: Entry): void => {
    if (read.has(entry)) return;
    read.add(entry);
    for (const name of namesOf(entry, workspace.workshop)) names.add(name);
  };
  entries.forEach(take);
  // A set goes on to what is added to it meanwhile.
  for (const name of names) {
    for (const page of workspace.pages.values()) {
      page.byLot.get(name)?.forEach(take);
      page.byStep.get(name)?.forEach(take);
    }
  }
  return names;
};

function* namesOf(entry: Entry, workshop: Workshop): Iterable<string> {
  yield* lotsOf(entry);
  if (entry.name) yield entry.name.name;
  for (const name of materialsOf(entry)) {
    if (!findMaterial(workshop, name) && !workshop.recipes.has(name)) yield name;
  }
}
