/** Photos and papers beside a page, to open. A link never leaves the page's own folder. */
import type { Named } from '../engine/entry';
import type { Section } from '../syntax/tree';
import type { Span } from '../text/span';
import { locate, type Workspace } from '../workspace/workspace';

export interface FileLink extends Span {
  /** As written: a path below the page's folder, with forward slashes. */
  readonly path: string;
}

export const linksOf = (workspace: Workspace, file: string): readonly FileLink[] => {
  const page = workspace.pages.get(file);
  if (!page) return [];
  const links = new Map<number, FileLink>();
  for (const entry of page.entries) {
    const said = [
      entry.said,
      ...entry.flows.map((flow) => flow.said),
      ...entry.amounts.map((one) => one.said),
      ...entry.readings.map((one) => one.said),
      ...entry.others.map((one) => one.said),
    ];
    for (const { photos = [], papers = [] } of said) {
      for (const named of [...photos, ...papers]) {
        const link = linkTo(workspace, named);
        if (link) links.set(link.start, link);
      }
    }
  }
  return [...links.values()].sort((a, b) => a.start - b.start);
};

const linkTo = (workspace: Workspace, { name, place }: Named): FileLink | undefined => {
  if (!isBelow(name) || !standsAlone(place)) return undefined;
  const { start, end } = locate(workspace, place);
  return { start, end, path: name };
};

/** Not the end of something that could not be read as a name. */
const standsAlone = ({ anchor, start }: Named['place']): boolean =>
  /[\s"]/.test((anchor as Section).text[start - 1] ?? ' ');

/** No way up, no root, no drive, no address. */
const isBelow = (path: string): boolean =>
  !path.startsWith('/') && !/[\\:]/.test(path) && !path.split('/').some((part) => part === '..' || part === '');
