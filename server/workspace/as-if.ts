/** The journal as it would be if some of its entries read otherwise. Nothing is booked: it is another value beside the journal. */
import type { Entry } from '../engine/entry';
import type { Section } from '../syntax/tree';
import { inheritAccounts } from './accounts';
import { withTexts } from './update';
import type { Workspace } from './workspace';

export interface AsIf {
  readonly workspace: Workspace;
  /** The entry as it reads there; undefined where its text is no entry. */
  readonly entryOf: (entry: Entry) => Entry | undefined;
}

const made = new WeakSet<Workspace>();

/** It is such a value: what it books never was. */
export const isAsIf = (workspace: Workspace): boolean => made.has(workspace);

/** Each text stands in its entry's place, as one entry. */
export const asIf = (workspace: Workspace, texts: ReadonlyMap<Entry, string>): AsIf => {
  const changes = new Map<string, string>();
  for (const file of new Set([...texts.keys()].map(({ anchor }) => anchor.file))) {
    const page = workspace.pages.get(file);
    if (!page) continue;
    const bySection = new Map([...texts].map(([entry, text]) => [entry.anchor, text]));
    changes.set(file, page.page.sections.map((section) => bySection.get(section) ?? section.text).join(''));
  }
  // What name an unknown one was meant for is asked of the journal itself: it would cost more than all the rest.
  const after = { ...withTexts(workspace, changes, false), whole: workspace.whole };
  inheritAccounts(workspace, after);
  made.add(after);
  return {
    workspace: after,
    entryOf: ({ anchor }) => {
      const at = workspace.pages.get(anchor.file)?.page.sections.indexOf(anchor as Section) ?? -1;
      const page = after.pages.get(anchor.file);
      const section = page?.page.sections[at];
      return section && page.bySection.get(section);
    },
  };
};
