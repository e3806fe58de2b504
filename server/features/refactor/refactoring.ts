/** What an edit of the whole entry offers: a title, and edits as offsets in the files' texts. Nothing is booked by it that was not said. */
import type { Entry, Flow } from '../../engine/entry';
import type { JournalPage } from '../../journal/page';
import type { LineNode, Section } from '../../syntax/tree';
import type { Workspace } from '../../workspace/workspace';
import type { LocatedEdit } from '../fixes';

export interface Refactoring {
  readonly title: string;
  /** `rewrite` changes how the same is said, `extract` makes something new of it. */
  readonly kind: 'rewrite' | 'extract';
  readonly edits: readonly LocatedEdit[];
}

/** Where it is asked for: the entry under the cursor, and the line of it. */
export interface Spot {
  readonly workspace: Workspace;
  readonly page: JournalPage;
  readonly entry: Entry;
  readonly section: Section;
  /** The section's start in the page. */
  readonly start: number;
  readonly line: LineNode;
  /** The day by the writer's calendar. */
  readonly today: string;
}

export type Offer = (spot: Spot) => Refactoring | undefined;

export const spotAt = (workspace: Workspace, file: string, offset: number, today: string): Spot | undefined => {
  const page = workspace.pages.get(file);
  const section = page?.page.sections.findLast((one) => page.page.starts.get(one)! <= offset);
  const entry = section && page?.bySection.get(section);
  if (!page || !section || !entry || section.cut || entry.broken) return undefined;
  const start = page.page.starts.get(section)!;
  const line = section.lines.findLast((one) => one.start <= offset - start);
  return line && { workspace, page, entry, section, start, line, today };
};

/** The flow that a line says. */
export const flowOn = ({ entry, line }: Spot): Flow | undefined =>
  entry.flows.find(({ place }) => place.start >= line.start && place.start < line.end);

export const textOf = ({ section }: Spot, { start, end }: { readonly start: number; readonly end: number }): string =>
  section.text.slice(start, end);
