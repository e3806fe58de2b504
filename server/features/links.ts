/** Photos and papers beside a page, to open. A link never leaves the page's own folder. */
import { filesNamedBy } from '../record/files';
import type { Span } from '../text/span';
import { locate, type Workspace } from '../workspace/workspace';

export interface FileLink extends Span {
  /** As written: a path below the page's folder, with forward slashes. */
  readonly path: string;
}

export const linksOf = (workspace: Workspace, file: string): readonly FileLink[] => {
  const page = workspace.pages.get(file);
  if (!page) return [];
  return page.entries.flatMap(filesNamedBy).map(({ named, path }) => {
    const { start, end } = locate(workspace, named.place);
    return { start, end, path };
  });
};
